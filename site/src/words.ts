// Everything the page says of its own, in one place, so that it can be said in
// another language. What the calculator says comes from the calculator.

/** English. A catalogue in another language has the same shape. */
export const english = {
  quote: "Ask for a quote",
  end: (version: string) => `Slopewright ${version}. A finding quotes a published figure; local codes and licensed practice decide.`,
  plans: {
    open: "Plans",
    heading: "Plans on this device",
    about: "Every change is kept here at once. Nothing is sent anywhere.",
    none: "None yet: a plan is kept from its first change on.",
    untitled: "Without a title",
    changed: (when: string) => `changed ${when}`,
    here: "open now",
    blank: "Blank book",
    copy: "Copy this plan",
    copyOf: (title: string) => (title ? `${title}, copy` : "Copy"),
    file: "Open",
    fileLabel: "Open a plan file",
    save: "Save",
    saveLabel: "Save the plan as a file",
    takeOut: "Take out",
    takeOutLabel: (title: string) => `Take out ${title}`,
    takenOut: "taken out",
    bringBack: "Bring back",
    bringBackLabel: (title: string) => `Bring back ${title}`,
    rename: "Rename",
    renameLabel: (title: string) => `Rename ${title}`,
    unread: "This version of the page cannot read it: it was damaged, or a later version wrote it. It is kept as it is.",
    saveUnread: "Save as it is",
    close: "Close",
    elsewhere: "This plan was also changed in another tab or window. Both are kept: yours is now a plan of its own.",
  },
  history: {
    undo: "Undo",
    redo: "Redo",
    undone: "Taken back.",
    redone: "Done again.",
  },
  share: {
    open: "Share",
    heading: "A link to this plan",
    about: "The whole plan is in the link itself, behind the #, which browsers do not send to any server. Whoever has the link can read the plan.",
    link: "Link",
    copy: "Copy the link",
    copied: "The link is copied.",
    pass: "Pass it on",
    fault: {
      long: "This plan is too long for a link. Save it as a file and pass that on.",
      broken: "The link’s plan could not be read: part of the link is missing or changed. Ask for it again, or for the plan as a file.",
      large: "The link’s plan is larger than any plan; it was not opened.",
    },
    tooLong: "The link is longer than any that this page makes; it was not opened.",
  },
  grips: {
    on: "Move points in the drawing",
    off: "Leave the points where they are",
    how: "Round points are readings, square ones the foot and the head, diamonds where a flight meets a landing. Drag one, or use the keys: the arrows move it, with Shift ten times as far, Page Up and Page Down go to the next, Esc lets go.",
    group: "Points of the section that can be moved",
    role: "point that can be moved",
    ground: (row: number) => `Ground, row ${row}`,
    step: (riser: number) => `Riser ${riser}`,
    foot: "Foot of the path",
    head: "Head of the path",
    at: (name: string, station: string, level: string) => `${name}: ${station} along, ${level} up`,
    moved: (name: string) => `${name} moved.`,
  },
  /** Titles of what else a plan can say, by the part of the document. */
  more: {
    notes: "Notes",
    "build.framed": "More on framed flights",
    "build.footing": "Footing of the bottom step",
    "build.waste": "Added for waste",
    build: "More on making the steps",
    cut: "Carrying and cutting boards",
    steps: "More on the steps",
    path: "More on the path",
    soil: "The ground, and where earth goes",
    prices: "Deliveries, labour, mark-ups",
    crew: "More on who does it",
    rest: "Whatever else",
  },
  paper: {
    heading: "On paper and in files",
    about: "Made on this device from the plan as it stands; the part of the calculator that makes them is fetched once, when it is first asked for.",
    sheets: "To print",
    sheet: { build: "Build sheet", quote: "Quote" },
    size: "Paper",
    sizes: { a4: "A4", letter: "Letter" },
    drawings: "Drawings",
    drawing: { section: "Long section", plan: "Plan", view: "View", step: "One step", across: "Across", cutplan: "Boards" },
    tables: "Tables",
    table: { takeoff: "What it takes", pieces: "Pieces", cutplan: "Cut plan", bill: "Bill", prices: "Prices" },
    result: "All of the result",
    fetching: "Fetching the rest of the calculator…",
    working: "Making it…",
    stop: "Stop",
    print: "Print",
    saveSheet: "Save the sheet",
    saveSvg: "Save as SVG",
    savePng: "Save as PNG",
    stale: "Of the plan as it was before.",
    again: "Make it again",
    none: "This plan has none to show.",
    notMade: "It could not be made:",
    putRight: "There is something to put right in the plan first.",
    saved: (name: string) => `Saved as ${name}.`,
  },
  trouble: {
    notKept: "This browser keeps nothing for this page, so what you write is lost when you leave it. Save it as a file.",
    keptUnread: "The plan that was open last cannot be read by this version of the page: it was damaged, or a later version wrote it. It is kept as it is, under Plans, where it can be saved as a file.",
    noPlan: "That is not a Slopewright plan: it should be a JSON document whose format is slopewright.plan/1.",
    inlineNotJson: "The plan given to this page is not JSON.",
    notOpened: (name: string, why: string) => `The plan ${name} could not be opened: ${why}.`,
    answered: (status: number) => `the host answered ${status}`,
    large: "it is too large",
    noPrices: "it should be an object with prices or stock, as in a plan",
    pricesNotOpened: (name: string, why: string) => `The prices given to this page${name && ` (${name})`} could not be read: ${why}.`,
    tooLarge: (name: string) => `${name} is too large to be a plan.`,
    notJson: (name: string) => `${name} is not a plan: it is not JSON.`,
    notWorkedOut: (why: string) => `The plan could not be worked out: ${why}.`,
    versions: "The calculator does not speak this page’s language: their files are of different versions.",
  },
};

export type Words = typeof english;

const catalogues: Record<string, Words> = { en: english };

/** The words in use. The page is drawn in one go, so each instance says which it wants before it draws. */
export let w: Words = english;

/** Takes the words of a language into use; English where there are none. */
export function speak(language: string): Words {
  const name = language.toLowerCase().split("-")[0]!;
  return (w = Object.hasOwn(catalogues, name) ? catalogues[name]! : english);
}
