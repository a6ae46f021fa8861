// What a plan can wish for beyond width, rules and soil. Each group lies behind
// one line, which says what is set in it; what is left blank holds as hinted.
import { html, nothing, type TemplateResult } from "lit";
import type { Book, Column } from "./book.js";
import { FIELDS, type PlanField } from "./fields.js";
import { cellFields, cellTable, choiceField, rangeField, textField, tickField, type BookView } from "./view-fields.js";
import { w } from "./words.js";

/** What holds, or how it might be written: the same in both units, or imperial and metric. */
type Hint = string | readonly [imperial: string, metric: string];

type Item =
  | { kind: "text"; field: string; label: string; hint: Hint; note?: string; suggest?: string }
  | { kind: "range"; field: string; label: string; note?: string }
  | { kind: "tick"; field: string; label: string; note?: string }
  | { kind: "choice"; field: string; label: string; unset: string; choices: readonly { id: string; name: string; note?: string }[] }
  | { kind: "table"; field: string; label: string; one: string; many: string; columns: readonly Column[]; suggest?: Readonly<Record<string, string>> }
  | { kind: "words"; says: string };

interface Group {
  title: string;
  items: readonly Item[];
}

const text = (field: string, label: string, hint: Hint, note = "", suggest = ""): Item => ({ kind: "text", field, label, hint, note, suggest });
const range = (field: string, label: string, note = ""): Item => ({ kind: "range", field, label, note });
const tick = (field: string, label: string, note = ""): Item => ({ kind: "tick", field, label, note });
const words = (says: string): Item => ({ kind: "words", says });
const column = (key: string, name: string, about: string, imperial: string, metric = imperial): Column => ({ key, name, about, imperial, metric });

const GROUPS: readonly Group[] = [
  {
    title: "What matters most",
    items: [
      {
        kind: "choice",
        field: "steps.prefer",
        label: "Make least",
        unset: "digging, unless said otherwise",
        choices: [
          { id: "digging", name: "digging" },
          { id: "hours", name: "hours of work" },
          { id: "cost", name: "cost of the materials", note: "Cost counts what has a price below." },
          { id: "walking", name: "walking out of step" },
        ],
      },
      {
        kind: "choice",
        field: "steps.kinds",
        label: "Made of",
        unset: "box steps, unless said otherwise",
        choices: [
          { id: "box", name: "box steps, dug into the bank" },
          { id: "box, framed", name: "box steps and framed flights", note: "Framed flights go where the bank is too steep to dig." },
          { id: "framed", name: "framed flights only" },
        ],
      },
      tick("steps.courses", "Whole timber courses only", "risers that the timbers make, on no more than their bedding"),
      tick("steps.joined", "Joined to a building, porch or deck", "building codes then bind it"),
    ],
  },
  {
    title: "Limits of your own",
    items: [
      words("These narrow the limits of the rule set; they never widen them. Left blank, the rule set’s hold."),
      range("steps.riser", "Risers"),
      range("steps.tread", "Treads"),
      range("steps.landing", "Landings"),
      text("steps.landing.every", "A landing at least every", "the rules’", "risers"),
      text("steps.wash", "Forward fall of a tread", "1:50"),
      text("steps.max_cut", "Dig no deeper than", ["4 ft", "1.2 m"]),
      text("steps.max_raise", "Make the ground up by no more than", ["4 in", "0.1 m"]),
    ],
  },
  {
    title: "Foot, head and bends",
    items: [
      words("Where the path begins and ends. Distances count uphill as the readings do; where those were taken from the head, from the lowest of them. An end that may move is put where the steps come out best."),
      text("path.foot.at", "Foot at", "lowest point"),
      text("path.foot.level", "Finished level there", "the ground’s"),
      text("path.foot.slack", "May move, each way", "not at all"),
      text("path.head.at", "Head at", "highest point"),
      text("path.head.level", "Finished level there", "the ground’s"),
      text("path.head.slack", "May move, each way", "not at all"),
      {
        kind: "table",
        field: "path.bends",
        label: "Bends",
        one: "bend",
        many: "bends",
        columns: [
          column("at", "Begins at", "where the arc begins, along the path", "6 ft", "2 m"),
          column("radius", "Radius", "of the middle of the path", "8 ft", "2.5 m"),
          column("turn", "Turn", "degrees, to the right looking uphill", "30°"),
        ],
      },
      words("A turn is in degrees to the right, looking uphill; −30 turns left."),
    ],
  },
  {
    title: "How a step is made",
    items: [
      text("build.timber", "Timber", ["6x6", "100x200"], "", "sections"),
      tick("build.on_edge", "Timbers stand on edge"),
      text("build.base", "Base gravel, tamped", ["4 in", "100 mm"]),
      text("build.fill", "Gravel between base and topping", "none"),
      text("build.topping", "Topping, tamped", ["2 in", "50 mm"]),
      text("build.bedding", "Bedding under a timber, at most", ["1 in", "25 mm"]),
      text("build.working", "Room to work, each side", ["6 in", "0.15 m"]),
      words("For framed flights:"),
      text("build.framed.stringer", "Stringers", "2x12", "", "sections"),
      tick("build.framed.solid", "Treads hung between solid stringers", "else they lie on cut ones"),
      range("build.framed.tread", "Framed treads"),
      text("build.framed.gap", "Air under the stringers", "the usual"),
    ],
  },
  {
    title: "Timber to be had",
    items: [
      words("Without a list: the usual lengths, without prices."),
      {
        kind: "table",
        field: "stock",
        label: "Timber",
        one: "length",
        many: "lengths",
        suggest: { section: "sections" },
        columns: [
          column("section", "Section", "of the timber", "6x6", "100x200"),
          column("length", "Length", "as sold", "10 ft", "3 m"),
          column("price", "Price", "of one; may stay blank", "46.48", "41.50"),
          column("available", "Count", "how many there are; blank for any number", "any"),
        ],
      },
      text("build.kerf", "Width of the saw cut", ["1/8 in", "3 mm"]),
      text("build.trim", "Cut off to square the ends", "none", "of each board"),
    ],
  },
  {
    title: "Prices",
    items: [
      {
        kind: "table",
        field: "prices.items",
        label: "Prices",
        one: "price",
        many: "prices",
        suggest: { item: "items", per: "measures" },
        columns: [
          column("item", "Item", "by its name in the list of what it takes", "base-gravel"),
          column("price", "Price", "of one unit", "46.00"),
          column("per", "Per", "the unit it is sold by", "yd3", "m3"),
          column("pack", "Packs of", "so many units; blank for any amount", "0.5"),
        ],
      },
      text("prices.currency", "Currency", ["USD", "EUR"]),
      text("prices.tax", "Tax on top", "none"),
    ],
  },
  {
    title: "Who digs, and how far it is carried",
    items: [
      text("crew.people", "People", "2"),
      text("crew.hours_per_day", "Hours a day", "6"),
      text("crew.days_per_week", "Days a week", "2"),
      text("soil.haul", "Spoil is barrowed", ["50 ft", "15 m"]),
      text("soil.carry", "Gravel and timber are carried", ["50 ft", "15 m"]),
    ],
  },
  {
    title: "A layout of your own",
    items: [
      words("From the foot up. With a flight written here nothing is fitted: these steps are worked out as they are."),
      {
        kind: "table",
        field: "steps.fixed",
        label: "Flights",
        one: "flight",
        many: "flights",
        suggest: { kind: "kinds" },
        columns: [
          column("kind", "Kind", "box or framed; blank for box", "box"),
          column("risers", "Risers", "in the flight", "5"),
          column("tread", "Tread", "depth of its treads", "14 in", "350 mm"),
          column("landing", "Landing", "depth of the landing above it; the last flight has none", "3 ft", "1 m"),
        ],
      },
    ],
  },
  {
    title: "Steps that stand already",
    items: [
      words("Halfway up: what was built, its distances and levels as for the foot of the path. The rest is planned from the last of them."),
      {
        kind: "table",
        field: "built",
        label: "Built",
        one: "step",
        many: "steps",
        columns: [
          column("riser", "Riser", "its number, counted from the foot", "1"),
          column("at", "Face at", "distance along the path", "1 ft 2 in", "0.35 m"),
          column("level", "Top", "level of its top", "6 in", "0.15 m"),
        ],
      },
    ],
  },
];

const named = (g: Group) => g.items.flatMap((item) => (item.kind === "words" ? [] : item.kind === "range" ? [`${item.field}.min`, `${item.field}.max`] : [item.field]));

/** The parts of a document, for what has no place in the groups above. */
const PARTS = ["notes", "build.framed", "build.footing", "build.waste", "build", "cut", "steps", "path", "soil", "prices", "crew", ""] as const;

const capital = (s: string) => s.charAt(0).toUpperCase() + s.slice(1);
const spoken = (key: string) => key.replace(/_/g, " ").replace(/\./g, ", ");

function itemOf({ field, kind, says, hint, choices = [], columns = [] }: PlanField, part: string): Item {
  const label = capital(spoken(part && field !== part ? field.slice(part.length + 1) : field));
  switch (kind) {
    case "tick":
      return { kind, field, label, note: says };
    case "choice":
      return { kind, field, label, unset: hint || "…", choices: choices.map((id) => ({ id, name: spoken(id) })) };
    case "table":
      return { kind, field, label, one: "row", many: "rows", columns: columns.map((c) => ({ key: c.key, name: capital(spoken(c.key)), about: c.says, imperial: "", metric: "" })) };
    default:
      return { kind: "text", field, label, hint, note: says };
  }
}

/** Every field of the document that the groups above have no place for: nothing of a plan is out of reach. */
const MORE: readonly Group[] = (() => {
  const known = new Set(["title", "units", "path.width", "steps.rules", "soil.class", ...GROUPS.flatMap(named)]);
  const left = FIELDS.filter((f) => !known.has(f.field));
  return PARTS.flatMap((part) => {
    const mine = left.filter((f) => PARTS.find((p) => p === "" || f.field === p || f.field.startsWith(`${p}.`)) === part);
    return mine.length === 0 ? [] : [{ title: w.more[part || "rest"], items: mine.map((f) => itemOf(f, part)) }];
  });
})();

const ALL: readonly Group[] = [...GROUPS, ...MORE];

const MEASURES = ["each", "m", "ft", "m2", "ft2", "m3", "yd3", "kg", "lb", "t", "ton", "l", "gal"];

/** The columns of a table in one of the groups. */
export function columnsOf(list: string): readonly Column[] {
  for (const group of ALL) {
    for (const item of group.items) if (item.kind === "table" && item.field === list) return item.columns;
  }
  return [];
}

/** What a field of the groups is called on the page. */
export function labelOf(field: string): string | undefined {
  for (const { items } of ALL) {
    for (const item of items) {
      if (item.kind === "words") continue;
      if (item.field === field) return item.label;
      if (item.kind === "range" && field.startsWith(`${item.field}.`)) return `${item.label}, ${field.endsWith(".max") ? "at most" : "at least"}`;
    }
  }
  return undefined;
}

/** Every field of the groups, by the names that faults use. */
export function wishFields(book: Book): string[] {
  return ALL.flatMap((g) =>
    g.items.flatMap((item) => {
      if (item.kind === "words") return [];
      if (item.kind === "table") return cellFields(book, item.field, item.columns);
      return item.kind === "range" ? [item.field, `${item.field}.min`, `${item.field}.max`] : [item.field];
    }),
  );
}

const small = (s: string) => s.charAt(0).toLowerCase() + s.slice(1);

/** What is set in a group, in a few words. */
function set(book: Book, group: Group): string {
  const said = group.items.map((item) => {
    switch (item.kind) {
      case "words":
        return "";
      case "tick":
        return book.ticked(item.field) ? small(item.label) : "";
      case "table": {
        const n = book.rows(item.field).length - 1;
        return n === 0 ? "" : `${n} ${n === 1 ? item.one : item.many}`;
      }
      case "choice": {
        const now = book.text(item.field);
        return item.choices.find((c) => c.id === now)?.name ?? now;
      }
      case "range": {
        const [least, most] = [book.text(`${item.field}.min`), book.text(`${item.field}.max`)];
        return least || most ? `${small(item.label)} ${least}${least && most ? " to " : most ? "up to " : " or more"}${most}` : "";
      }
      default: {
        const now = book.text(item.field);
        return now && `${small(item.label)} ${now}`;
      }
    }
  });
  return said.filter(Boolean).join(", ");
}

function field(view: BookView, item: Item): TemplateResult {
  switch (item.kind) {
    case "words":
      return html`<p class="aside">${item.says}</p>`;
    case "tick":
      return tickField(view, item.field, item.label, item.note);
    case "table":
      return cellTable(view, item.field, item.label, item.columns, `list ${item.columns.length > 4 ? "many" : item.columns.length > 3 ? "tall" : ""} ${item.field.replace(".", "-")}`, item.suggest);
    case "choice":
      return choiceField(view, item.field, item.label, item.choices, item.unset);
    case "range":
      return rangeField(view, item.field, item.label, "least", "most", item.note);
    case "text":
      return textField(view, item.field, item.label, typeof item.hint === "string" ? item.hint : item.hint[view.metric ? 1 : 0], item.note, item.suggest);
  }
}

export function wishes(view: BookView): TemplateResult {
  const { book, about, readonly } = view;
  const priced = new Map([...(about?.items ?? []), ...view.items].map((i) => [i.id, i.name]));
  const own = book.rows("steps.fixed").length > 1;
  return html`
    ${ALL.map((group) => {
      const says = set(book, group);
      return html`<details>
        <summary><span><b>${group.title}</b>${says ? html`<small>${says}</small>` : nothing}</span></summary>
        ${group.items.map((item) => field(view, item))}
        ${own && !readonly && group.items.some((i) => i.kind === "table" && i.field === "steps.fixed")
          ? html`<p><button type="button" @click=${() => view.choose((b) => b.setRows("steps.fixed", []))}>Fit the steps again</button></p>`
          : nothing}
      </details>`;
    })}
    <datalist id="sections">${(about?.sections ?? []).map((s) => html`<option value=${s.id}></option>`)}</datalist>
    <datalist id="items">${[...priced].map(([id, name]) => html`<option value=${id}>${name}</option>`)}</datalist>
    <datalist id="measures">${MEASURES.map((m) => html`<option value=${m}></option>`)}</datalist>
    <datalist id="kinds"><option value="box"></option><option value="framed"></option></datalist>
  `;
}
