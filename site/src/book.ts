// The field book: what is written in it, and the plan document it makes. Text
// stays as it was typed; nothing here reads a length or knows about steps.
import type { Fault, OwnLayout, Plan, Row } from "./contract.js";
import { KINDS } from "./fields.js";
import { w, type Words } from "./words.js";

export const METHODS = ["total", "string", "rod", "slope", "levels"] as const;
export type Method = (typeof METHODS)[number];

/** A column of the readings, and how what is written in it may look. */
export interface Column {
  key: keyof Words["columns"];
  imperial: string;
  metric: string;
}

const at: Column = { key: "at", imperial: "6 ft", metric: "2 m" };
const crossfall: Column = { key: "crossfall", imperial: "1/2 in per ft", metric: "5 %" };

/** The columns of each method's page. A slope book has angle or grade, never both: see Book.columns. */
const COLUMNS: Record<Method, Column[]> = {
  total: [],
  string: [at, { key: "drop", imperial: `2' 3 1/2"`, metric: "0.70 m" }, crossfall],
  rod: [
    at,
    { key: "back", imperial: `5' 2"`, metric: "1.58 m" },
    { key: "mid", imperial: `3' 7"`, metric: "1.09 m" },
    { key: "fore", imperial: `1' 4"`, metric: "0.41 m" },
    { key: "bench", imperial: "100 ft", metric: "30 m" },
  ],
  slope: [
    { key: "length", imperial: "8 ft", metric: "2.5 m" },
    { key: "angle", imperial: "14°", metric: "14°" },
    { key: "grade", imperial: "1:4", metric: "25 %" },
  ],
  levels: [at, { key: "level", imperial: `3' 6"`, metric: "1.05 m" }, crossfall],
};

const isMethod = (m: unknown): m is Method => METHODS.includes(m as Method);
const isObject = (v: unknown): v is Record<string, unknown> => typeof v === "object" && v !== null && !Array.isArray(v);
const blank = (row: Row | undefined) => !row || Object.keys(row).every((k) => row[k] === "" || row[k] === undefined);

export const READINGS = "ground.readings";

/** Fields that stand for a whole part of the document when the part itself is at fault. */
const STAND_FOR: Record<string, string> = {
  path: "path.width",
  "path.foot": "path.foot.at",
  "path.head": "path.head.at",
  steps: "steps.rules",
  soil: "soil.class",
  build: "build.timber",
  "build.framed": "build.framed.stringer",
  prices: "prices.items",
  crew: "crew.people",
};

/** For each table of the document, the line of the book that each of its rows stands on. */
export type Lines = Readonly<Record<string, readonly number[]>>;

/** A field in a table, by the name faults use: its table, line and column. */
export function cellOf(field: string): { list: string; line: number; key: string } | undefined {
  const found = /^([\w.]+)\[(\d+)\]\.(\w+)$/.exec(field);
  return found ? { list: found[1]!, line: Number(found[2]), key: found[3]! } : undefined;
}

/** What is put aside between visits: the document and every method's page, also those not in use. */
export interface Kept {
  format: "slopewright.book/1";
  plan: Plan;
  pages: Record<string, { ground: Record<string, unknown>; rows: Row[] }>;
}

export class Book {
  /** The document less its ground. */
  #plan: Plan;
  #pages = new Map<string, { ground: Record<string, unknown>; rows: Row[] }>();
  /** The tables in use, blank lines and all; each is also in #plan once something is written in it. */
  #lists = new Map<string, Row[]>();
  #method: string;

  constructor(plan: Plan) {
    const { ground, ...rest } = structuredClone(plan);
    this.#plan = rest;
    const { readings, ...more } = isObject(ground) ? ground : {};
    this.#method = typeof more.method === "string" ? more.method : "string";
    // Whatever stands where the readings should be and is no table is the calculator's to refuse.
    const rows = Array.isArray(readings) && readings.every(isObject) ? (readings as Row[]) : [];
    if (readings !== undefined && rows !== readings) more.readings = readings;
    this.#pages.set(this.#method, { ground: more, rows });
  }

  /** A book with nothing in it but the format and the choices that need no measuring. */
  static blank(units: string): Book {
    return new Book({
      format: "slopewright.plan/1",
      units,
      ground: { method: "string", from: "head" },
      steps: { rules: "garden" },
      soil: { class: "loam" },
    });
  }

  static restore(kept: Kept): Book {
    const book = new Book(kept.plan);
    for (const [method, page] of Object.entries(kept.pages)) {
      if (isMethod(method) && isObject(page.ground) && Array.isArray(page.rows)) book.#pages.set(method, structuredClone(page));
    }
    return book;
  }

  keep(): Kept {
    return { format: "slopewright.book/1", plan: this.document().plan, pages: structuredClone(Object.fromEntries(this.#pages)) };
  }

  get method(): string {
    return this.#method;
  }

  /** Turns to another method's page. What stands on the others stays there. */
  set method(method: string) {
    this.#method = method;
  }

  #page() {
    let page = this.#pages.get(this.#method);
    if (!page) {
      page = { ground: { method: this.#method, ...(this.#method === "string" ? { from: "head" } : {}) }, rows: [] };
      this.#pages.set(this.#method, page);
    }
    return page;
  }

  /** The rows of a table as written, and one blank line to write on. */
  rows(list: string = READINGS): readonly Row[] {
    const rows = this.#rows(list);
    if (rows.length === 0 || !blank(rows.at(-1))) rows.push({});
    return rows;
  }

  /** The rows of a table, to be written in: those of the document, where it has any. */
  #rows(list: string): Row[] {
    if (list === READINGS) return this.#page().rows;
    let rows = this.#lists.get(list);
    if (!rows) {
      const found = this.#value(list);
      rows = Array.isArray(found) && found.every(isObject) ? (found as Row[]) : [];
      this.#lists.set(list, rows);
    }
    return rows;
  }

  /** Puts rows in the place of a table's; none takes the table out of the document. */
  setRows(list: string, rows: readonly Row[]): void {
    this.#lists.set(list, structuredClone([...rows]));
    this.#set(list, rows.length > 0 ? this.#lists.get(list) : undefined);
  }

  /** Puts a whole part of the document in place of the one there is. */
  put(part: "prices" | "stock", value: unknown): void {
    for (const list of this.#lists.keys()) if (list === part || list.startsWith(`${part}.`)) this.#lists.delete(list);
    this.#set(part, structuredClone(value));
  }

  /** True when no ground has been written on the page in use. */
  get empty(): boolean {
    const page = this.#page();
    return page.rows.every(blank) && page.ground.rise === undefined && page.ground.run === undefined && page.ground.readings === undefined;
  }

  /** How slopes are written in a slope book: one of angle, grade. */
  get slopeBy(): "angle" | "grade" {
    return this.#page().rows.some((r) => Object.hasOwn(r, "grade")) || this.#page().ground["#by"] === "grade" ? "grade" : "angle";
  }

  /** Says that the slopes on this page are angles or grades; what is written moves with it. */
  set slopeBy(by: "angle" | "grade") {
    const page = this.#page();
    const other = by === "angle" ? "grade" : "angle";
    for (const row of page.rows) {
      if (!Object.hasOwn(row, other)) continue;
      row[by] = row[other];
      delete row[other];
    }
    page.ground["#by"] = by; // remembered while no row shows it; never part of the document
  }

  get columns(): Column[] {
    const columns = isMethod(this.#method) ? COLUMNS[this.#method] : [];
    if (this.#method !== "slope") return columns;
    const by = this.slopeBy;
    return columns.filter((c) => c.key === "length" || c.key === by);
  }

  /** The plan document, and for each row of its tables the line of the book it stands on. */
  document(): { plan: Plan; lines: Lines } {
    const page = this.#page();
    const lines: Record<string, number[]> = {};
    const written = (list: string) => {
      const rows = this.#rows(list);
      lines[list] = rows.flatMap((row, line) => (blank(row) ? [] : [line]));
      return rows.filter((row) => !blank(row));
    };
    const readings = written(READINGS);
    const { "#by": _, ...ground } = page.ground;
    const copy = new Book({ ...this.#plan });
    for (const [list, all] of this.#lists) {
      const rows = written(list);
      if (this.#value(list) === all) copy.#set(list, rows.length > 0 ? rows : undefined); // else it is no table, and the calculator's to refuse
    }
    const { format, title, units, ...rest } = copy.#plan;
    const plan: Plan = {
      ...(format === undefined ? {} : { format }),
      ...(title === undefined ? {} : { title }),
      ...(units === undefined ? {} : { units }),
      ground: { ...ground, method: this.#method, ...(this.#method === "total" || ground.readings !== undefined ? {} : { readings }) },
      ...rest,
    };
    return { plan: structuredClone(plan), lines };
  }

  /** What is written in a field outside the readings; "" when nothing is. Paths as in faults. */
  text(path: string): string {
    return written(this.#value(path), path);
  }

  #value(path: string): unknown {
    let value: unknown = this.#root(path);
    for (const key of this.#keys(path)) {
      if (!isObject(value) || !Object.hasOwn(value, key)) return undefined;
      value = value[key];
    }
    return value;
  }

  /** Shows the plan in other units. What is usual stays what it was, or the plan would be another; a book without readings has nothing to keep. */
  show(units: string): void {
    const usual = this.text("sizes") || this.text("units") || "metric";
    this.write("units", units);
    this.write("sizes", this.empty || usual === units ? "" : usual);
  }

  /** Before anything follows from it, a book is kept in what its readings are in: one begun in metres may be written in feet. */
  adopt(): void {
    const { rows, ground } = this.#page();
    const all = [ground.run, ...rows.flatMap((row) => [row.at, row.length])].join();
    const feet = /\d ?['"fip]/.test(all);
    if (feet !== /\d ?[cm]/.test(all) && this.text("sizes") === "") this.write("units", feet ? "imperial" : "metric");
  }

  /** Takes a layout for one's own, or none. Where its ends lie is written where they may move. */
  lay(own: OwnLayout | undefined): void {
    this.setRows("steps.fixed", own?.steps ?? []);
    for (const end of ["foot", "head"] as const) this.#set(`steps.fixed_${end}`, this.text(`path.${end}.slack`) === "" ? undefined : own?.[end]);
  }

  /** Writes text in a field outside the tables; "" takes the field out of the document. */
  write(path: string, text: string): void {
    this.#set(path, text === "" ? undefined : meant(path, text));
  }

  /** The text of a field, in a table or not. */
  textOf(field: string): string {
    const cell = cellOf(field);
    return cell ? this.cell(cell.line, cell.key, cell.list) : this.text(field);
  }

  /** Writes text in a field, in a table or not. */
  enter(field: string, text: string): void {
    const cell = cellOf(field);
    if (cell) this.writeCell(cell.line, cell.key, text, cell.list);
    else this.write(field, text);
  }

  /** True where a field that can be ticked is ticked. */
  ticked(path: string): boolean {
    return this.#value(path) === true;
  }

  tick(path: string, on: boolean): void {
    this.#set(path, on || undefined);
  }

  /** Puts a value in the document; undefined takes the field out, and what is left empty around it. */
  #set(path: string, value: unknown): void {
    const keys = this.#keys(path);
    const last = keys.pop()!;
    let into: Record<string, unknown> = this.#root(path);
    const parents: [Record<string, unknown>, string][] = [];
    for (const key of keys) {
      if (!Object.hasOwn(into, key) || !isObject(into[key])) {
        if (value === undefined) return;
        into[key] = {};
      }
      parents.push([into, key]);
      into = into[key] as Record<string, unknown>;
    }
    if (value !== undefined) into[last] = value;
    else delete into[last];
    for (const [parent, key] of parents.reverse()) {
      if (Object.keys(parent[key] as object).length === 0) delete parent[key];
    }
  }

  #root(path: string): Record<string, unknown> {
    return path.startsWith("ground.") ? this.#page().ground : this.#plan;
  }

  #keys(path: string): string[] {
    const keys = path.split(".");
    return keys[0] === "ground" ? keys.slice(1) : keys;
  }

  /** Takes out what a fault names by its place in the document; gives what stood there. */
  takeOut(field: string, lines: Lines): unknown {
    const [, list, row, key] = /^([\w.]+)\[(\d+)\]\.(.+)$/.exec(field) ?? [];
    // All but the last of its names are of a plan.
    let at: any = list ? this.#rows(list)[lines[list]?.[Number(row)] ?? Number(row)] : this.#root(field);
    const keys = key ? key.split(/[.[\]]+/) : this.#keys(field);
    const last = keys.pop()!;
    for (const name of keys) at = at?.[name];
    const was: unknown = at?.[last];
    delete at?.[last];
    return was;
  }

  cell(line: number, key: string, list: string = READINGS): string {
    const row = this.#rows(list)[line];
    return row && Object.hasOwn(row, key) ? written(row[key], `${list}.${key}`) : "";
  }

  writeCell(line: number, key: string, text: string, list: string = READINGS): void {
    const rows = this.#rows(list);
    while (rows.length <= line) rows.push({});
    if (text === "") delete rows[line]![key];
    else rows[line]![key] = meant(`${list}.${key}`, text);
    this.#written(list);
  }

  insert(line: number): void {
    this.#page().rows.splice(line, 0, {});
  }

  remove(line: number, list: string = READINGS): void {
    this.#rows(list).splice(line, 1);
    this.#written(list);
  }

  #written(list: string): void {
    if (list === READINGS) return;
    const rows = this.#rows(list);
    this.#set(list, rows.every(blank) ? undefined : rows);
  }

  /**
   * Writes what was copied from a spreadsheet, cell by cell from the one named,
   * to the right and down. A first line with no digit in it is a heading and is
   * left out. Gives the line after the last one written, or -1 when the text is
   * a single cell and so no table at all.
   *
   * @param read makes of what stands in a cell what the document holds
   */
  paste(line: number, key: string, text: string, list: string = READINGS, columns: readonly string[] = this.columns.map((c) => c.key), read = (_field: string, text: string) => text): number {
    const table = text.replace(/\r\n?/g, "\n").replace(/\n+$/, "").split("\n").map((l) => l.split("\t"));
    if (table.length === 1 && table[0]!.length === 1) return -1;
    if (table.length > 1 && !table[0]!.some((c) => /\d/.test(c))) table.shift();
    const first = columns.indexOf(key);
    for (const cells of table) {
      cells.forEach((cell, i) => {
        const column = columns[first + i];
        if (column !== undefined) this.writeCell(line, column, read(`${list}.${column}`, cell.trim()), list);
      });
      line++;
    }
    return line;
  }

  /**
   * Where on the page a fault belongs: the shown field it names, else the
   * nearest one around it, else "". A row is named by its line of the book.
   */
  place(fault: Fault, lines: Lines, shown: ReadonlySet<string>): string {
    let field = fault.field.replace(/^steps\.bends\b/, "path.bends").replace(/^([\w.]+)\[(\d+)\]/, (_, list, i) => `${list}[${lines[list]?.[Number(i)] ?? i}]`);
    while (field !== "") {
      if (shown.has(field)) return field;
      const stand = Object.hasOwn(STAND_FOR, field) ? STAND_FOR[field]! : "";
      if (shown.has(stand)) return stand;
      field = field.slice(0, Math.max(field.lastIndexOf("."), field.lastIndexOf("["), 0));
    }
    return "";
  }
}

/** Text as the document holds it: a count as a number, several words as a list, all else as it was typed. */
export function meant(path: string, text: string): unknown {
  const kind = KINDS.get(path);
  if (kind === "words") return text.split(/[\s,]+/).filter(Boolean);
  if (kind === "tick" && /^(yes|true|x|✓|s[ií])$/i.test(text.trim())) return true;
  const number = kind === "number" && /^([-−]?)(\d+(?:\.\d+|,\d\d?)?)\s*°?$/.exec(text);
  return number ? Number(number[2]!.replace(",", ".")) * (number[1] ? -1 : 1) : text;
}

/** A value as it would be written on paper. A bare number in a document is in metres, or a ratio. */
function written(value: unknown, path: string): string {
  if (typeof value === "number") {
    if (/(crossfall|grade|wash|tax)$/.test(path)) return `${Number((value * 100).toPrecision(12))} %`;
    if (KINDS.get(path) === "number") return String(value);
    return `${Number(value.toPrecision(12))} m`;
  }
  if (value === true) return w.yes;
  if (KINDS.get(path) === "words" && Array.isArray(value)) return value.join(", ");
  if (typeof value === "string") return value;
  return value === undefined ? "" : JSON.stringify(value);
}

/** A text as it stands in its field once it is in the document: 1.0 as 1, where a count is wanted. */
export function settled(field: string, text: string): string {
  const path = field.replace(/\[\d+\]/g, "");
  return text === "" ? "" : written(meant(path, text), path);
}
