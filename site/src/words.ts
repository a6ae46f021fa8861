// Everything the page says of its own, in one place, so that it can be said in
// another language. What the calculator says comes from the calculator.

/** What is said of a field with a place of its own. */
export interface FieldWords {
  label: string;
  note?: string;
  hint?: string;
}

/** What is said of a table and its columns. */
export interface TableWords {
  label: string;
  count: (n: number) => string;
  columns: Readonly<Record<string, { name: string; about: string; hint?: string }>>;
}

/** What is said of a field in place of what the schema says of it. */
export interface SchemaWords {
  label?: string;
  says?: string;
  hint?: string;
  choices?: Readonly<Record<string, string>>;
  columns?: Readonly<Record<string, { name: string; about?: string }>>;
}

const things = (n: number) => `${n === 1 ? "One thing" : `${n} things`} to put right`;
const replacing = (n: number) => (n ? `, ${n} in the place of one that was there.` : ".");

/** English. A catalogue in another language has the same shape. */
export const english = {
  lang: "en",
  /** The mark before decimals. */
  decimal: ".",
  quote: "Ask for a quote",
  end: (version: string) => `Slopewright ${version}. A finding quotes a published figure; local codes and licensed practice decide.`,
  slope: (rise: string, run: string) => `${rise} up over ${run}`,
  rough: (slope: string, percent: string) => `${slope}, a slope of ${percent}. The steps and what they dig follow when the calculator is here.`,
  haul: "What is carried where",
  water: "Water from the hill",
  fetching: "Fetching the calculator…",
  working: "Working it out…",
  yes: "yes",
  row: "Row",
  tableOf: (name: string) => `${name}, table`,
  head: {
    title: "What the path is called",
    titleHint: "What is the path called?",
    units: "Shown in",
    imperial: "ft in",
    metric: "metres",
  },
  book: {
    measured: "How it was measured",
    methods: {
      total: { name: "Two totals", says: "Only the height and the level distance from foot to head are known. What lies between is taken as one straight slope." },
      string: { name: "String", says: "A string was drawn level, and the ground taped down from it at each distance." },
      rod: { name: "Rod", says: "A level and a rod: the readings as they stand in a level book, rise and fall, one set-up after the other." },
      slope: { name: "Slope", says: "A tape was laid up the slope, piece by piece from the foot, with a clinometer held along it." },
      levels: { name: "Levels", says: "The levels are known already, from a drawing or somebody’s survey." },
    },
    readings: "Readings",
    totals: "The two totals",
    from: "Distances from the",
    head: "head",
    foot: "foot",
    by: "Steepness written as",
    angle: "angle",
    grade: "grade",
    rise: "Rise, foot to head",
    run: "Run, level, foot to head",
    accuracy: "Each reading good to",
    accuracyNote: "left blank: what is usual for the method",
    toBuild: "What is to be built",
    width: "Width of the steps",
    rules: "Held against",
    rulesUnset: "the usual for gardens",
    soil: "Dug in",
    soilUnset: "loam, the usual",
    add: "Add a row",
    insert: "Insert a row",
    insertAbove: (row: number) => `Insert above row ${row}`,
    keys: "Enter goes to the next row. Columns copied from a spreadsheet can be pasted in.",
  },
  /** The columns of the readings: what stands over them, and what they are for. */
  columns: {
    at: { name: "At", about: "distance along the path, level" },
    atRod: { name: "At", about: "distance along the path, level; blank for a turning point off the path" },
    crossfall: { name: "Crossfall", about: "side slope of the ground, up to the right looking uphill; may stay blank" },
    drop: { name: "Drop", about: "down from the string to the ground" },
    back: { name: "Back", about: "first rod reading from this set-up" },
    mid: { name: "Mid", about: "rod reading between back and fore sight" },
    fore: { name: "Fore", about: "last rod reading from this set-up" },
    bench: { name: "Bench", about: "known level of this point" },
    length: { name: "Length", about: "tape along the slope" },
    angle: { name: "Angle", about: "angle of the tape above level" },
    grade: { name: "Grade", about: "rise for each unit of level distance" },
    level: { name: "Level", about: "height of the ground" },
  },
  /** What stands at every field and table of the left page. */
  fields: {
    least: "least",
    most: "most",
    blank: "left blank:",
    atLeast: (label: string) => `${label}, at least`,
    atMost: (label: string) => `${label}, at most`,
    caption: (name: string) => `${name}. Enter goes to the next row. A table copied from a spreadsheet can be pasted in any cell.`,
    cell: (column: string, row: number) => `${column}, row ${row}`,
    cellOf: (table: string, column: string, row: number) => `${table}: ${column}, row ${row}`,
    notDrawn: (n: number) => `There are ${n} rows more, which are not shown: no plan has so many.`,
    takeOut: (row: number) => `Take out row ${row}`,
    takeOutOf: (table: string, row: number) => `${table}: take out row ${row}`,
    list: (name: string, row: number) => `${name}, row ${row}`,
    inRow: (row: string, column: string) => `${row}, ${column.toLowerCase()}`,
  },
  /** What fields are called that have a longer label, or none, where they stand. */
  where: {
    title: "Title",
    steps: "The steps",
    units: "Shown in",
    ground: "How it was measured",
    "ground.method": "How it was measured",
    "ground.readings": "Readings",
    "ground.from": "Distances from",
    "ground.rise": "Rise, foot to head",
    "ground.run": "Run, level, foot to head",
    "ground.accuracy": "Each reading good to",
    "path.width": "Width of the steps",
    "path.foot.level": "Level of the foot",
    "path.head.level": "Level of the head",
    "path.foot.slack": "Foot may move",
    "path.head.slack": "Head may move",
    "steps.rules": "Held against",
    "soil.class": "Dug in",
  } as Record<string, string>,
  invite: {
    first: "A blank page.",
    how: "Choose how the hill was measured, write the readings down as they stand in your notes, each with its unit, and say how wide the steps are to be. What it comes to appears here as you write.",
    demo: "Show a hill that is solved already",
  },
  held: {
    peek: (n: number, wanting: boolean) => (wanting ? "Still to be written" : things(n)),
    before: "; until then this is what it was before",
    more: (n: number) => `and ${n} more, marked on the page`,
    bare: (n: number) => `${n} readings have no unit. Write it with each, or give all of them one`,
    /** What to write where the calculator says it for those who write documents. */
    fix: { money: "Write an amount such as 12.50", number: "Write a number such as 4", measure: "Write it with its unit, such as 4 ft or 1.2 m", other: "Write it here anew" },
  },
  result: {
    checks: "Checks of the readings",
    holds: "Holds:",
    holdsNot: "Does not hold:",
    stakeout: "Setting out",
    stakeoutAbout: "Every mark is measured from the foot or from the setting-out string, level at the head, never from the mark before it, and rounded once.",
    riser: "Riser",
    fromFoot: "From foot",
    fromHead: "From head",
    above: "Top above foot",
    below: "Top below string",
    digTo: "Dig to, below string",
    findings: "Held against the rules",
    nothing: "Nothing to remark.",
    severity: { stop: "Stop", warn: "Mind", note: "Note" },
    cautions: "Before the first shovel",
    earth: "Earth",
    volume: "Volume",
    state: "State",
    loads: "Loads",
    carrier: "Taken away by",
    carriers: {} as Readonly<Record<string, string>>,
    binds: {} as Readonly<Record<string, string>>,
    fullBy: "Full by",
    time: "Time",
    personHours: "Person-hours",
    likely: "Likely",
    low: "Low",
    high: "High",
    inAll: "In all",
    takeoff: "What it takes",
    item: "Item",
    quantity: "Quantity",
    cutplan: "Cutting the timber",
    provenLength: "Proven: no other way to cut it buys less length.",
    provenCost: "Proven: no other way to cut it costs less.",
    provenBoth: "Proven: no other way to cut it costs less for what has a price, or buys less length of the rest.",
    notProven: "Not proven to be the least.",
    bill: "What it costs",
    noPrices: "There is no price list in this plan.",
    noPrice: "no price",
    buy: "Buy",
    each: "Each",
    cost: "Cost",
    needed: (need: string) => `${need} needed`,
    sold: " in place; counted loose, with waste",
    beforeTax: "Before tax",
    tax: "Tax",
    total: "Total",
    ofBefore: "From here on as before the move: worked out when you let go.",
    totalPriced: "Total of what has a price",
    unpriced: (items: string) => `Without a price, and not in the total: ${items}.`,
    order: "Order of work",
    notes: "To mind in making it",
    kept: (offcuts: string) => `Worth keeping: ${offcuts}.`,
    untaxed: "no tax on it",
    goods: "Goods",
    deliveries: "Delivery",
    markups: "Mark-up",
    labour: "Labour",
    taxOn: (amount: string) => `Tax, on ${amount}`,
  },
  choices: {
    heading: "To choose between",
    own: "These steps are laid as the plan has them; nothing is fitted.",
    ownBefore: "The drawing is of before: your own layout, as it is written now, is drawn once all is put right.",
    fit: "Fit the steps again",
    working: "Laying the steps in other ways…",
    stop: "Stop",
    about: "What would dig least, take least work, cost least or walk best, and what lies between.",
    ask: "Show what there is to choose",
    stale: "Of the plan as it was before.",
    again: "Work them out again",
    now: "This one stands above.",
    take: "Take this one",
    takeLabel: (says: string) => `Take this one: ${says}`,
    plot: "Digging against hours, one point for each choice",
    dig: (unit: string) => `to dig, ${unit}`,
    cubicYards: "cu yd",
    hours: "person-hours",
    putRight: "There is something to put right in the plan first.",
    found: (n: number) => (n === 1 ? "One layout, and none to choose instead." : `${n} layouts to choose between.`),
    trouble: (why: string) => `They could not be worked out: ${why}.`,
  },
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
    about: "The whole plan is in the link itself, behind the #, which browsers send to no server. Whoever has the link can read it.",
    link: "Link",
    copy: "Copy the link",
    copied: "The link is copied.",
    pass: "Pass it on",
    fault: {
      long: "This plan is too long for a link. Save it as a file and pass that on.",
      broken: "The link’s plan could not be read: part of the link is missing or changed. Ask for it again, or for the plan as a file.",
      large: "The link’s plan is larger than any plan; it was not opened.",
    },
    tooLong: "The link is longer than any this page makes; it was not opened.",
  },
  grips: {
    on: "Move points in the drawing",
    off: "Leave the points where they are",
    how: "Round points are readings, square ones foot and head, diamonds where a flight meets a landing. Drag one, or use the keys: arrows move it, with Shift ten times as far, Page Up and Page Down go to the next, Esc lets go.",
    lying: "The best steps take a while here: these stay until you rest or let go.",
    unfit: "No steps here:",
    group: "Points of the section that can be moved",
    role: "point that can be moved",
    ground: (row: number) => `Ground, row ${row}`,
    step: (riser: number) => `Riser ${riser}`,
    foot: "Foot of the path",
    head: "Head of the path",
    at: (name: string, station: string, level: string) => `${name}: ${station} along, ${level} up`,
  },
  /** What a plan can wish for beyond width, rules and soil. */
  wish: {
    titles: {
      prefer: "What matters most",
      limits: "Limits of your own",
      ends: "Foot, head and bends",
      made: "How a step is made",
      timber: "Timber to be had",
      prices: "Prices",
      crew: "Who digs, and how far it is carried",
      fixed: "A layout of your own",
      built: "Steps that stand already",
    },
    notes: {
      limits: "These narrow the limits of the rule set and never widen them. Left blank, the rule set’s hold.",
      ends: "Where the path begins and ends. Distances count uphill as the readings do; where those were taken from the head, from the lowest of them. An end that may move is put where the steps come out best.",
      turn: "A turn is in degrees to the right, looking uphill; −30 turns left.",
      framed: "For framed flights:",
      timber: "Without a list: the usual lengths, without prices.",
      fixed: "From the foot up. With a flight written here nothing is fitted: these steps are worked out as they are.",
      built: "Halfway up: what was built, its distances and levels as for the foot of the path. The rest is planned from the last of them.",
    },
    choices: {
      "steps.prefer": {
        label: "Make least",
        unset: "digging, the usual",
        choices: { digging: "digging", hours: "hours of work", cost: "cost", walking: "walking out of step" },
        notes: { cost: "Cost counts the goods and the work that have a price below." },
      },
      "steps.kinds": {
        label: "Made of",
        unset: "box steps, the usual",
        choices: { box: "box steps, dug into the bank", "box, framed": "box steps and framed flights", framed: "framed flights only" },
        notes: { "box, framed": "Framed flights go where the bank is too steep to dig." },
      },
    },
    fields: {
      "steps.courses": { label: "Whole timber courses only", note: "risers that the timbers make, on no more than their bedding" },
      "steps.joined": { label: "Joined to a building, porch or deck", note: "building codes then bind it" },
      "steps.riser": { label: "Risers" },
      "steps.tread": { label: "Treads" },
      "steps.landing": { label: "Landings" },
      "steps.landing.every": { label: "A landing at least every", hint: "the rules’", note: "risers" },
      "steps.landing.fewest": { label: "Fewest risers between landings", hint: "the rules’, or 2" },
      "steps.wash": { label: "Forward fall of a tread" },
      "steps.max_cut": { label: "Dig no deeper than" },
      "steps.max_raise": { label: "Make the ground up by no more than" },
      "path.foot.at": { label: "Foot at", hint: "lowest point" },
      "path.foot.level": { label: "Finished level there", hint: "the ground’s" },
      "path.foot.slack": { label: "May move, each way", hint: "not at all" },
      "path.head.at": { label: "Head at", hint: "highest point" },
      "path.head.level": { label: "Finished level there", hint: "the ground’s" },
      "path.head.slack": { label: "May move, each way", hint: "not at all" },
      "steps.fixed_foot": { label: "Its foot at, where that may move", hint: "where the foot is" },
      "steps.fixed_head": { label: "Its head at, where that may move", hint: "where the head is" },
      "build.timber": { label: "Timber" },
      "build.on_edge": { label: "Timbers stand on edge" },
      "build.base": { label: "Base gravel, tamped" },
      "build.fill": { label: "Gravel between base and topping", hint: "none" },
      "build.topping": { label: "Topping, tamped" },
      "build.bedding": { label: "Bedding under a timber, at most" },
      "build.working": { label: "Room to work, each side" },
      "build.framed.stringer": { label: "Stringers" },
      "build.framed.solid": { label: "Treads hung between solid stringers", note: "else they lie on cut ones" },
      "build.framed.tread": { label: "Framed treads" },
      "build.framed.gap": { label: "Air under the stringers", hint: "the usual" },
      "build.kerf": { label: "Width of the saw cut" },
      "build.trim": { label: "Cut off to square the ends", hint: "none", note: "of each board" },
      "prices.currency": { label: "Currency" },
      "prices.tax": { label: "Tax on top", hint: "none" },
      "crew.people": { label: "People" },
      "crew.hours_per_day": { label: "Hours a day" },
      "crew.days_per_week": { label: "Days a week" },
      "soil.haul": { label: "Spoil is barrowed" },
      "soil.carry": { label: "Gravel and timber are carried" },
    },
    tables: {
      "path.bends": {
        label: "Bends",
        count: (n: number) => `${n} ${n === 1 ? "bend" : "bends"}`,
        columns: {
          at: { name: "Begins at", about: "where the arc begins, along the path" },
          radius: { name: "Radius", about: "of the middle of the path" },
          turn: { name: "Turn", about: "degrees, to the right looking uphill" },
        },
      },
      stock: {
        label: "Timber",
        count: (n: number) => `${n} ${n === 1 ? "length" : "lengths"}`,
        columns: {
          section: { name: "Section", about: "of the timber" },
          length: { name: "Length", about: "as sold" },
          price: { name: "Price", about: "of one; may stay blank" },
          available: { name: "Count", about: "how many there are; blank for any number", hint: "any" },
          on_hand: { name: "On hand", about: "how many are here already: they cost nothing and are used first" },
          cut_ends: { name: "Sawn ends", about: "how many of its two ends were sawn before; blank for none" },
          thickness: { name: "Thickness", about: "as it measures, where your timber is not dressed as usual; blank for the usual" },
          width: { name: "Width", about: "as it measures, the larger side; blank for the usual" },
        },
      },
      "prices.items": {
        label: "Prices",
        count: (n: number) => `${n} ${n === 1 ? "price" : "prices"}`,
        columns: {
          item: { name: "Item", about: "by its name in the list of what it takes" },
          price: { name: "Price", about: "of one unit" },
          per: { name: "Per", about: "the unit it is sold by" },
          pack: { name: "Packs of", about: "so many units; blank for any amount" },
          name: { name: "Called", about: "what the yard calls it, and the bill" },
          least: { name: "At least", about: "the least that is sold; blank for one pack" },
          holds: { name: "Bag holds", about: "how much is in one bag, where it is sold by the bag" },
          holds_per: { name: "Of the bag", about: "the unit of what a bag holds: l, ft3, kg or lb" },
        },
      },
      "steps.fixed": {
        label: "Flights",
        count: (n: number) => `${n} ${n === 1 ? "flight" : "flights"}`,
        columns: {
          kind: { name: "Kind", about: "box or framed; blank for box" },
          risers: { name: "Risers", about: "in the flight" },
          tread: { name: "Tread", about: "depth of its treads" },
          landing: { name: "Landing", about: "depth of the landing above it; the last flight has none" },
          platform: { name: "Platform", about: "yes where the landing above is framed, as it can be between two framed flights" },
        },
      },
      built: {
        label: "Built",
        count: (n: number) => `${n} ${n === 1 ? "step" : "steps"}`,
        columns: {
          riser: { name: "Riser", about: "its number, counted from the foot" },
          at: { name: "Face at", about: "distance along the path" },
          level: { name: "Top", about: "level of its top" },
        },
      },
    },
    more: "More columns",
    fewer: "Fewer columns",
    moreOf: (table: string) => `More columns of ${table}`,
    fewerOf: (table: string) => `Fewer columns of ${table}`,
    range: (label: string, least: string, most: string) => `${label} ${least}${least && most ? " to " : most ? "up to " : " or more"}${most}`,
  },
  /** The other fields of a plan; in English most have the words of the schema. */
  schema: {
    "build.framed.min_throat": { label: "Least throat" },
    "prices.tax_labour": { label: "Tax on labour" },
    "soil.places": { columns: { at: { name: "Turn off at" }, away: { name: "Leaves the site" }, fetch: { name: "Fetched from" }, off: { name: "From there" }, room: { name: "Holds" } } },
  } as Readonly<Record<string, SchemaWords>>,
  /** What is written for the codes of a field, where that is not the code itself. */
  codes: {} as Readonly<Record<string, Readonly<Record<string, string>>>>,
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
    water: "Water from the hill",
    quote: "For the quote",
    rest: "Whatever else",
  },
  pins: {
    heading: "What if",
    about: "Keep the plan as it stands in view, change it, and see both side by side.",
    pin: "Keep this one beside",
    now: "As it stands",
    goBack: "Go back to it",
    goBackLabel: (n: number) => `Go back to it, ${n}`,
    unpin: "Put away",
    unpinLabel: (n: number) => `Put away, ${n}`,
    same: "the same",
    all: "All of it",
    rest: "All else",
    nothing: "–",
    table: "Plans side by side, table",
    pinned: "Kept beside.",
    both: "Of what has a price on both",
    bills: "The bills side by side",
    compare: "Set the bills side by side",
    compareLabel: (n: number) => `Set the bills side by side, ${n}`,
    comparing: "Setting the bills side by side…",
    more: (currency: string) => (currency ? `${currency} more` : "More"),
    notCompared: (why: string) => `The bills could not be set side by side: ${why}`,
    keys: { steps: "Steps", walking: "Walking", deepest: "Deepest cut", earth: "Earth", haul: "Where it goes", hidden: "Rise over run", certainty: "How sure", timber: "Timber", gravel: "Gravel", money: "Money", time: "Time", water: "Water" } as Record<string, string>,
  },
  /** A price list taken in. */
  pricelist: {
    line: "line",
    group: "Take in a price list",
    about: "A table whose first line names its columns: item, price and per for goods, and where wanted name, pack, least, holds, holds_per; section, length and price for timber. One table may hold both. Commas, semicolons or tabs between.",
    file: "Open a price list",
    fileLabel: "Open a price list, a file of comma-separated values",
    paste: "Paste a price list",
    pasted: "The price list, pasted or written",
    take: "Take these prices",
    reading: "Reading the price list…",
    nothingTaken: (n: number) => `${things(n)} in the list; no price of it was taken.`,
    more: (n: number) => `and ${n} more`,
    taken: (n: number, replaced: number) => `${n === 1 ? "One price" : `${n} prices`} taken${replacing(replaced)}`,
    timber: (n: number, replaced: number) => `${n === 1 ? "One length" : `${n} lengths`} of timber taken${replacing(replaced)}`,
    empty: "There is no price in this list.",
    tooLarge: "This list is too large to be a price list.",
    notRead: (why: string) => `The list could not be read: ${why}`,
  },
  paper: {
    heading: "On paper and in files",
    about: "Made on this device from the plan as it stands; the part of the calculator that makes them is fetched once, when it is first asked for.",
    sheets: "To print",
    sheet: { build: "Build sheet", field: "Field sheet", quote: "Quote" },
    size: "Paper",
    sizes: { a4: "A4", letter: "Letter" },
    drawings: "Drawings",
    drawing: { section: "Long section", plan: "Plan", view: "View", step: "One step", across: "Across", flight: "Framed flight", stringer: "Stringer", cutplan: "Boards", haul: "Earth moved" },
    tables: "Tables",
    table: { takeoff: "What it takes", pieces: "Pieces", cutplan: "Cut plan", bill: "Bill", prices: "Prices" },
    result: "All of the result",
    /** Names of files: of a plan without a title, and of its result. */
    untitled: "path",
    resultFile: "result",
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
  /** Why the calculator does not answer. */
  engine: {
    foreignWorker: (why: string) => `The calculator's worker could not be started (${why}). It has to come from this page's own address: copy the slopewright files beside the page.`,
    late: (seconds: number) => `It takes longer than ${seconds} seconds`,
    builds: (page: string, other: string) => `This page and its calculator are of different builds (${page} and ${other}). Reload the page; if that does not help, the host serves an old copy.`,
    stopped: (why: string) => `The calculator is not running: ${why}.`,
    elsewhere: (origin: string, why: string) =>
      `The calculator, which lies at ${origin}, could not be run in this page: ${why}. Copy the planner’s files to this site’s own address; or let that address answer with Access-Control-Allow-Origin, and this page’s policy allow it in script-src and connect-src, with 'wasm-unsafe-eval', and blob: in worker-src.`,
    unread: "The calculator's answer could not be read.",
    why: {
      answered: (detail: string) => detail.replace(" ", " answered "),
      crashed: () => "the calculator stopped; its last words are in the browser's console",
      mute: () => "the calculator started without its one function",
      silent: () => "the calculator gave no answer",
      unloaded: (file: string) => `${file} could not be loaded`,
      other: (detail: string) => detail,
    },
  },
  trouble: {
    notKept: "This browser keeps nothing for this page: what you write is lost when you leave it. Save it as a file.",
    keptUnread: "The plan that was open last cannot be read by this version of the page: it was damaged, or a later version wrote it. It is kept as it is, under Plans, where it can be saved as a file.",
    noPlan: "That is not a Slopewright plan: it should be a JSON document whose format is slopewright.plan/1.",
    tooMuch: "That is more than any plan has: it is nested too deep, or its tables are too long. It was not opened.",
    inlineNotJson: "The plan given to this page is not JSON.",
    notOpened: (name: string, why: string) => `The plan ${name} could not be opened: ${why}.`,
    answered: (status: number) => `the host answered ${status}`,
    large: "it is too large",
    noPrices: "it should be an object with prices or stock, as in a plan",
    pricesNotOpened: (name: string, why: string) => `The prices given to this page${name && ` (${name})`} could not be read: ${why}.`,
    tooLarge: (name: string) => `${name} is too large to be a plan.`,
    notJson: (name: string) => `${name} is not a plan: it is not JSON.`,
    notWorkedOut: (why: string) => `The plan could not be worked out: ${why}.`,
    noPicture: "the browser made no picture",
    registered: (name: string) => `${name} is registered already, perhaps by another version; that one stays.`,
    versions: "The calculator does not speak this page’s language: their files are of different versions.",
  },
};

export type Words = typeof english;

/** What our own page says around the element, in English: by the data-word of its places in index.html and the manifest. */
export const page = {
  name: "Slopewright: a stepped path up a slope, from the readings",
  description: "From the readings of a hillside to the steps, the digging, the timber, the money and the stake-out table. Everything is worked out on your own device.",
  lead: "A stepped path up a slope, worked out from the readings before the first shovel goes in.",
  update: "A new version of this page is ready. What you wrote is kept.",
  use: "Use it now",
  needs: "This page needs JavaScript and WebAssembly: the plan is worked out in your browser, not on a server.",
  languages: "Language",
  demos: "Hills that are solved already, all of them invented:",
  gentle: "Orchard path",
  bench: "Boathouse bank",
  steepening: "Spring meadow",
  device: "What you write stays on this device.",
};

export type PageWords = typeof page;

/** Something to say in whatever language the page then speaks. */
export type Saying = (w: Words) => string;

declare const __BUILD__: string;

/** The languages there are. */
export type Language = "en" | "es";

const catalogues: Partial<Record<Language, Words>> = { en: english };
const learning: Partial<Record<Language, Promise<void>>> = {};

/** The language that is spoken to those who ask for the one of a tag, such as es-MX. */
export const languageOf = (tag: string): Language => (/^es(?![a-z])/i.test(tag) ? "es" : "en");

/** The words in use. The page is drawn in one go, so each instance says which it wants before it draws. */
export let w: Words = english;

/** Takes the words of a language into use, English until they are learned. */
export const speak = (tag: string): Words => (w = catalogues[languageOf(tag)] ?? english);

/**
 * Fetches the words of a language, once.
 *
 * @param base where the planner's files lie
 * @returns when they are here, or cannot be had; nothing where there is nothing to wait for
 */
export function learn(tag: string, base: URL): Promise<void> | undefined {
  const name = languageOf(tag);
  if (catalogues[name]) return undefined;
  return (learning[name] ??= import(new URL(`slopewright-${name}.js?${__BUILD__}`, base).href).then(
    (found: { build: string; words: Words }) => {
      // Of another build, some words might be missing.
      if (found.build === __BUILD__) catalogues[name] = found.words;
    },
    () => undefined,
  ));
}

/** Lets words that could not be had be fetched again; false where none are wanting. */
export function forget(tag: string): boolean {
  const name = languageOf(tag);
  if (catalogues[name]) return false;
  delete learning[name];
  return true;
}

const formats = new Map<string, Intl.NumberFormat>();

/** A number in the language spoken. Making a format takes longer than all that a drag does besides. */
export function format(value: number, options: Intl.NumberFormatOptions): string {
  const key = `${w.lang} ${Object.values(options).join(" ")}`;
  let made = formats.get(key);
  if (!made) formats.set(key, (made = new Intl.NumberFormat(w.lang === "en" ? "en-GB" : w.lang, options))); // metres, as everywhere here
  return made.format(value);
}

/** A number with so many decimals. */
export const figure = (value: number, places: number): string => format(value, { minimumFractionDigits: places, maximumFractionDigits: places, useGrouping: false });
