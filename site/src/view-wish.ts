// What a plan can wish for beyond width, rules and soil. Each group lies behind
// one line, which says what is set in it; what is left blank holds as hinted.
import { html, nothing, type TemplateResult } from "lit";
import { READINGS, type Book } from "./book.js";
import { FIELDS, type PlanField } from "./fields.js";
import { cellFields, cellTable, choiceField, rangeField, textField, tickField, type BookView, type Heading } from "./view-fields.js";
import { shown } from "./marks.js";
import { whole } from "./view-plan.js";
import { w, type FieldWords, type SchemaWords, type TableWords, type Words } from "./words.js";

/** What holds, or how it might be written: the same in both units, or imperial and metric. */
type Hint = string | readonly [imperial: string, metric: string];

type Item =
  | { kind: "text"; field: string; label: string; hint: Hint; note?: string; suggest?: string }
  | { kind: "range"; field: string; label: string; note?: string }
  | { kind: "tick"; field: string; label: string; note?: string }
  | { kind: "choice"; field: string; label: string; unset: string; choices: readonly { id: string; name: string; note?: string }[] }
  | { kind: "table"; field: string; label: string; note?: string; count: (n: number) => string; columns: readonly Heading[]; rare?: readonly string[]; suggest?: Readonly<Record<string, string>> }
  | { kind: "words"; says: string };

interface Group {
  title: string;
  items: readonly Item[];
}

/** The fields and the tables that have words of their own. */
type Field = keyof Words["wish"]["fields"];
type Table = keyof Words["wish"]["tables"];

/** The words of a field; not every one has them all. */
const said = (field: Field): FieldWords => w.wish.fields[field];

/** A field of text; the hint, where it is not given, is in words. */
const text = (field: Field, hint: Hint = said(field).hint ?? "", suggest = ""): Item => ({ kind: "text", field, label: said(field).label, hint, note: said(field).note ?? "", suggest });
const range = (field: Field): Item => ({ kind: "range", field, label: said(field).label });
const tick = (field: Field): Item => ({ kind: "tick", field, label: said(field).label, note: said(field).note ?? "" });
const words = (says: string): Item => ({ kind: "words", says });

function choice(field: "steps.prefer" | "steps.kinds"): Item {
  const { label, unset, choices, notes } = w.wish.choices[field];
  return { kind: "choice", field, label, unset, choices: Object.entries(choices).map(([id, name]) => ({ id, name, note: (notes as Record<string, string>)[id] ?? "" })) };
}

/**
 * @param examples what may stand in each column: the same in both units, or imperial and metric; in words where none is given
 * @param rare the columns that are shown when they are asked for, or something stands in them
 */
function table<T extends Table>(field: T, examples: Readonly<Record<keyof Words["wish"]["tables"][T]["columns"], Hint | undefined>>, suggest: Readonly<Record<string, string>> = {}, rare: readonly string[] = []): Item {
  const { label, count, columns } = w.wish.tables[field] as TableWords;
  const heading = ([key, hint]: [string, Hint | undefined]): Heading => {
    const { name, about, hint: worded = "" } = columns[key]!;
    const [imperial, metric] = typeof hint === "object" ? hint : [hint ?? worded, hint ?? worded];
    return { key, name, about, imperial, metric };
  };
  return { kind: "table", field, label, count, columns: Object.entries(examples as Record<string, Hint | undefined>).map(heading), rare, suggest };
}

function own(): readonly Group[] {
  const { titles, notes } = w.wish;
  return [
    { title: titles.prefer, items: [choice("steps.prefer"), choice("steps.kinds"), tick("steps.courses"), tick("steps.joined")] },
    {
      title: titles.limits,
      items: [
        words(notes.limits),
        range("steps.riser"),
        range("steps.tread"),
        range("steps.landing"),
        text("steps.landing.every"),
        text("steps.landing.fewest"),
        text("steps.wash", "1:50"),
        text("steps.max_cut", ["3 ft 11 1/4 in", "1.2 m"]),
        text("steps.max_raise", ["3 15/16 in", "0.1 m"]),
      ],
    },
    {
      title: titles.ends,
      items: [
        words(notes.ends),
        text("path.foot.at"),
        text("path.foot.level"),
        text("path.foot.slack"),
        text("path.head.at"),
        text("path.head.level"),
        text("path.head.slack"),
        table("path.bends", { at: ["6 ft", "2 m"], radius: ["8 ft", "2.5 m"], turn: "30°" }),
        words(notes.turn),
      ],
    },
    {
      title: titles.made,
      items: [
        text("build.timber", ["6x6", "100x200"], "sections"),
        tick("build.on_edge"),
        text("build.base", ["4 in", "100 mm"]),
        text("build.fill"),
        text("build.topping", ["2 in", "50 mm"]),
        text("build.bedding", ["1 in", "25 mm"]),
        text("build.working", ["6 in", "0.15 m"]),
        words(notes.framed),
        text("build.framed.stringer", "2x12", "sections"),
        tick("build.framed.solid"),
        range("build.framed.tread"),
        text("build.framed.gap"),
      ],
    },
    {
      title: titles.timber,
      items: [
        words(notes.timber),
        table("stock", { section: ["6x6", "100x200"], length: ["10 ft", "3 m"], price: ["46.48", "41.50"], available: undefined, on_hand: "2", cut_ends: "1", thickness: ["5 3/8 in", "98 mm"], width: ["5 3/8 in", "195 mm"] }, { section: "sections" }, ["on_hand", "cut_ends", "thickness", "width"]),
        text("build.kerf", ["1/8 in", "3 mm"]),
        text("build.trim"),
      ],
    },
    {
      title: titles.prices,
      items: [
        table("prices.items", { item: "base-gravel", price: "46.00", per: ["yd3", "m3"], pack: "0.5", name: undefined, least: "1", holds: ["0.5", "25"], holds_per: ["ft3", "kg"] }, { item: "items", per: "measures" }, ["name", "least", "holds", "holds_per"]),
        text("prices.currency", ["USD", "EUR"]),
        text("prices.tax"),
      ],
    },
    {
      title: titles.crew,
      items: [text("crew.people", "2"), text("crew.hours_per_day", "6"), text("crew.days_per_week", "2"), text("soil.haul", ["50 ft", "15 m"]), text("soil.carry", ["50 ft", "15 m"])],
    },
    { title: titles.fixed, items: [words(notes.fixed), table("steps.fixed", { kind: "box", risers: "5", tread: ["14 in", "350 mm"], landing: ["3 ft", "1 m"], platform: w.yes }, { kind: "kinds" }, ["platform"]), text("steps.fixed_foot"), text("steps.fixed_head")] },
    { title: titles.built, items: [words(notes.built), table("built", { riser: "1", at: ["1 ft 2 in", "0.35 m"], level: ["6 in", "0.15 m"] })] },
  ];
}

const named = (g: Group) => g.items.flatMap((item) => (item.kind === "words" ? [] : item.kind === "range" ? [`${item.field}.min`, `${item.field}.max`] : [item.field]));

/** The parts of a document, for what has no place in the groups above. */
const PARTS = ["notes", "build.framed", "build.footing", "build.waste", "build", "cut", "steps", "path", "soil", "water", "prices", "crew", "quote", ""] as const;

const capital = (s: string) => s.charAt(0).toUpperCase() + s.slice(1);
const spoken = (key: string) => key.replace(/_/g, " ").replace(/\./g, ", ");

/** A field as the schema words it, where the words in use have nothing else for it. */
function itemOf({ field, kind, says, hint, choices = [], columns = [] }: PlanField, part: string): Item {
  const told: SchemaWords = Object.hasOwn(w.schema, field) ? w.schema[field]! : {};
  const label = told.label ?? capital(spoken(part && field !== part ? field.slice(part.length + 1) : field));
  const [note, held] = [told.says ?? says, told.hint ?? hint];
  switch (kind) {
    case "tick":
      return { kind, field, label, note };
    case "choice":
      return { kind, field, label, unset: held || "…", choices: choices.map((id) => ({ id, name: told.choices?.[id] ?? spoken(id) })) };
    case "table":
      return { kind, field, label, note, count: (n) => `${small(label)} ${n}`, columns: columns.map(({ key, says }) => ({ key, name: told.columns?.[key]?.name ?? capital(spoken(key)), about: told.columns?.[key]?.about ?? says, imperial: "", metric: "" })) };
    default:
      return { kind: "text", field, label, hint: held, note };
  }
}

/** Every field of the document that the groups above have no place for: nothing of a plan is out of reach. */
function more(groups: readonly Group[]): readonly Group[] {
  const known = new Set(["title", "units", "sizes", "path.width", "steps.rules", "soil.class", ...groups.flatMap(named)]);
  const left = FIELDS.filter((f) => !known.has(f.field));
  return PARTS.flatMap((part) => {
    const mine = left.filter((f) => PARTS.find((p) => p === "" || f.field === p || f.field.startsWith(`${p}.`)) === part);
    return mine.length === 0 ? [] : [{ title: w.more[part || "rest"], items: mine.map((f) => itemOf(f, part)) }];
  });
}

const made = new Map<Words, readonly Group[]>();

/** All groups, in the words in use. */
function all(): readonly Group[] {
  let groups = made.get(w);
  if (!groups) {
    groups = own();
    made.set(w, (groups = [...groups, ...more(groups)]));
  }
  return groups;
}

const MEASURES = ["each", "m", "ft", "m2", "ft2", "m3", "yd3", "kg", "lb", "t", "ton", "l", "gal"];

/** The columns of a table in one of the groups. */
export function columnsOf(list: string): readonly Heading[] {
  for (const group of all()) {
    for (const item of group.items) if (item.kind === "table" && item.field === list) return item.columns;
  }
  return [];
}

/** What can be chosen in a field of the groups. */
export const choicesOf = (field: string) => all().flatMap((g) => g.items).find((i): i is Item & { kind: "choice" } => i.kind === "choice" && i.field === field)?.choices;

/** What a field of the groups is called on the page. */
export function labelOf(field: string): string | undefined {
  for (const { items } of all()) {
    for (const item of items) {
      if (item.kind === "words") continue;
      if (item.field === field) return item.label;
      if (item.kind === "range" && field === `${item.field}.min`) return w.fields.atLeast(item.label);
      if (item.kind === "range" && field === `${item.field}.max`) return w.fields.atMost(item.label);
    }
  }
  return undefined;
}

/** What a field of the document is called where it stands on the page; of one that does not, the nearest around it and its own name. */
export function where(path: string): string {
  const field = path.replace(/^compare\./, ""); // of the other plan: by the same names
  const row = /^([\w.]+?)\[(\d+)\](?:\.([\w.]+))?/.exec(field);
  if (!row) {
    const found = Object.hasOwn(w.where, field) ? w.where[field] : labelOf(field);
    if (found !== undefined) return found;
    const [, before, last] = /^(?:(.*)\.)?(.*)$/.exec(field)!;
    const own = spoken(last!);
    return before ? `${where(before)}, ${own}` : own;
  }
  const [, list, line, key] = row;
  const number = Number(line) + 1;
  const readings = list === READINGS;
  const says = readings ? `${w.row} ${number}` : w.fields.list(where(list!), number);
  const column = (readings ? w.columns[key as "at"] : columnsOf(list!).find((c) => c.key === key || key?.startsWith(`${c.key}.`)))?.name ?? key;
  return column ? w.fields.inRow(says, column) : says;
}

const fieldsOf = (book: Book, group: Group): string[] =>
  group.items.flatMap((item) => {
    if (item.kind === "words") return [];
    if (item.kind === "table") return cellFields(book, item.field, item.columns);
    return item.kind === "range" ? [item.field, `${item.field}.min`, `${item.field}.max`] : [item.field];
  });

/** Every field of the groups, by the names that faults use. */
export const wishFields = (book: Book): string[] => all().flatMap((g) => fieldsOf(book, g));

/** The group that a field stands in; -1 for none. */
export const groupOf = (field: string): number => all().findIndex((g) => g.items.some((i) => i.kind !== "words" && (field === i.field || field.startsWith(`${i.field}.`) || field.startsWith(`${i.field}[`))));

const small = (s: string) => s.charAt(0).toLowerCase() + s.slice(1);

/** What is set in a group, in a few words. */
function set(book: Book, group: Group): string {
  const stands = (field: string) => shown(field, book.text(field));
  const said = group.items.map((item) => {
    switch (item.kind) {
      case "words":
        return "";
      case "tick":
        return book.ticked(item.field) ? small(item.label) : "";
      case "table": {
        const n = book.rows(item.field).length - 1;
        return n === 0 ? "" : item.count(n);
      }
      case "choice": {
        const now = book.text(item.field);
        return now && `${small(item.label)} ${item.choices.find((c) => c.id === now)?.name ?? now}`;
      }
      case "range": {
        const [least, most] = [stands(`${item.field}.min`), stands(`${item.field}.max`)] as const;
        return least || most ? w.wish.range(small(item.label), least, most) : "";
      }
      default: {
        const now = stands(item.field);
        return now && (item.label === group.title ? now : `${small(item.label)} ${now}`);
      }
    }
  });
  return said.filter(Boolean).join(", ");
}

function tableField(view: BookView, { field, label, note, columns, rare = [], suggest }: Item & { kind: "table" }): TemplateResult {
  const rows = view.book.rows(field);
  const wide = view.wide.has(field);
  // What is rare stands in the rows that have it, or are given it.
  const without = (key: string, i: number) => {
    const cell = `${field}[${i}].${key}`;
    return !wide && rare.includes(key) && !Object.hasOwn(rows[i]!, key) && !view.faults.has(cell) && view.focused !== cell;
  };
  const shown = columns.filter((c) => !rows.every((_, i) => without(c.key, i)));
  return html`${note ? html`<p class="aside">${label}: ${note}</p>` : nothing}${cellTable(view, field, label, shown, `list ${field.replace(".", "-")}`, suggest, without)}
    ${rare.length === 0 || view.readonly ? nothing : html`<p class="tools"><button type="button" class="plain" aria-label=${wide ? w.wish.fewerOf(label) : w.wish.moreOf(label)} @click=${() => view.widen(field)}>${wide ? w.wish.fewer : w.wish.more}</button></p>`}`;
}

function field(view: BookView, item: Item): TemplateResult {
  switch (item.kind) {
    case "words":
      return html`<p class="aside">${item.says}</p>`;
    case "tick":
      return tickField(view, item.field, item.label, item.note);
    case "table":
      return tableField(view, item);
    case "choice":
      return choiceField(view, item.field, item.label, item.choices, item.unset);
    case "range":
      return rangeField(view, item.field, item.label, item.note);
    case "text":
      return textField(view, item.field, item.label, typeof item.hint === "string" ? item.hint : item.hint[view.metric ? 1 : 0], item.note, item.suggest);
  }
}

export function wishes(view: BookView): TemplateResult {
  const { book, about, readonly } = view;
  const priced = new Map([...(about?.items ?? []), ...view.items].map((i) => [i.id, i.name]));
  const own = book.rows("steps.fixed").length > 1;
  return html`
    ${all().map((group, i) => {
      const says = set(book, group);
      const wrong = view.faults.size > 0 && fieldsOf(book, group).some((f) => view.faults.has(f));
      // What lies behind a closed line is drawn once somebody looks: it is most of the page.
      return html`<details @toggle=${(e: ToggleEvent) => e.newState === "open" && view.open(i)}>
        <summary><span><b>${group.title}</b>${says ? html`<small>${whole(says)}</small>` : nothing}</span></summary>
        ${!wrong && !view.opened.has(i) ? nothing : html`
        ${group.items.map((item) => html`${field(view, item)}${item.kind === "table" && item.field === "prices.items" ? view.priceList : nothing}`)}
        ${own && !readonly && group.items.some((i) => i.kind === "table" && i.field === "steps.fixed")
          ? html`<p><button type="button" @click=${() => view.choose((b) => b.lay(undefined))}>${w.choices.fit}</button></p>`
          : nothing}`}
      </details>`;
    })}
    <datalist id="sections">${(about?.sections ?? []).map((s) => html`<option value=${s.id}></option>`)}</datalist>
    <datalist id="items">${[...priced].map(([id, name]) => html`<option value=${id}>${name}</option>`)}</datalist>
    <datalist id="measures">${MEASURES.map((m) => html`<option value=${shown("prices.items.per", m)}></option>`)}</datalist>
    <datalist id="kinds">${["box", "framed"].map((kind) => html`<option value=${shown("steps.fixed.kind", kind)}></option>`)}</datalist>
  `;
}
