// The field book: what is written in it, and the plan document it makes. Text
// stays as it was typed; nothing here reads a length or knows about steps.
import type { Fault, Plan, Row } from "./contract.js";

export const METHODS = ["total", "string", "rod", "slope", "levels"] as const;
export type Method = (typeof METHODS)[number];

export interface Column {
  key: string;
  name: string;
  /** What the column is for, for people who cannot see the little drawing. */
  about: string;
  imperial: string;
  metric: string;
}

const at: Column = { key: "at", name: "At", about: "distance along the path, level", imperial: "6 ft", metric: "2 m" };
const crossfall: Column = { key: "crossfall", name: "Crossfall", about: "side slope of the ground, up to the right looking uphill; may stay blank", imperial: "1/2 in per ft", metric: "5 %" };

/** The columns of each method's page. A slope book has angle or grade, never both: see Book.columns. */
const COLUMNS: Record<Method, Column[]> = {
  total: [],
  string: [at, { key: "drop", name: "Drop", about: "down from the string to the ground", imperial: `2' 3 1/2"`, metric: "0.70 m" }, crossfall],
  rod: [
    { ...at, about: "distance along the path, level; blank for a turning point off the path" },
    { key: "back", name: "Back", about: "first rod reading from this set-up", imperial: `5' 2"`, metric: "1.58 m" },
    { key: "mid", name: "Mid", about: "rod reading between back and fore sight", imperial: `3' 7"`, metric: "1.09 m" },
    { key: "fore", name: "Fore", about: "last rod reading from this set-up", imperial: `1' 4"`, metric: "0.41 m" },
    { key: "bench", name: "Bench", about: "known level of this point", imperial: "100 ft", metric: "30 m" },
  ],
  slope: [
    { key: "length", name: "Length", about: "tape along the slope", imperial: "8 ft", metric: "2.5 m" },
    { key: "angle", name: "Angle", about: "angle of the tape above level", imperial: "14°", metric: "14°" },
    { key: "grade", name: "Grade", about: "rise for each unit of level distance", imperial: "1:4", metric: "25 %" },
  ],
  levels: [at, { key: "level", name: "Level", about: "height of the ground", imperial: `3' 6"`, metric: "1.05 m" }, crossfall],
};

const isMethod = (m: unknown): m is Method => METHODS.includes(m as Method);
const isObject = (v: unknown): v is Record<string, unknown> => typeof v === "object" && v !== null && !Array.isArray(v);
const blank = (row: Row | undefined) => !row || Object.keys(row).every((k) => row[k] === "" || row[k] === undefined);

/** Fields that hold a bare number, not a reading with a unit. */
const COUNTS = /^(crew\.|steps\.landing\.every$)/;

/** Fields that stand for a whole part of the document when the part itself is at fault. */
const STAND_FOR: Record<string, string> = { path: "path.width", steps: "steps.rules", soil: "soil.class", units: "units" };

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

  /** The rows as written, and one blank line to write on. */
  get rows(): readonly Row[] {
    const rows = this.#page().rows;
    if (!blank(rows.at(-1)) || rows.length === 0) rows.push({});
    return rows;
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

  /** The plan document, and for each of its readings the line of the book it stands on. */
  document(): { plan: Plan; lines: number[] } {
    const page = this.#page();
    const lines: number[] = [];
    const readings: Row[] = [];
    page.rows.forEach((row, line) => {
      if (blank(row)) return;
      lines.push(line);
      readings.push(row);
    });
    const { "#by": _, ...ground } = page.ground;
    const { format, title, units, ...rest } = this.#plan;
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
    let value: unknown = this.#root(path);
    for (const key of this.#keys(path)) {
      if (!isObject(value) || !Object.hasOwn(value, key)) return "";
      value = value[key];
    }
    return written(value, path);
  }

  /** Writes text in a field outside the readings; "" takes the field out of the document. */
  write(path: string, text: string): void {
    const keys = this.#keys(path);
    const last = keys.pop()!;
    let into: Record<string, unknown> = this.#root(path);
    const parents: [Record<string, unknown>, string][] = [];
    for (const key of keys) {
      if (!Object.hasOwn(into, key) || !isObject(into[key])) {
        if (text === "") return;
        into[key] = {};
      }
      parents.push([into, key]);
      into = into[key] as Record<string, unknown>;
    }
    if (text !== "") into[last] = COUNTS.test(path) && /^\d+(\.\d+)?$/.test(text) ? Number(text) : text;
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

  cell(line: number, key: string): string {
    const row = this.#page().rows[line];
    return row && Object.hasOwn(row, key) ? written(row[key], key) : "";
  }

  writeCell(line: number, key: string, text: string): void {
    const rows = this.#page().rows;
    while (rows.length <= line) rows.push({});
    if (text === "") delete rows[line]![key];
    else rows[line]![key] = text;
  }

  insert(line: number): void {
    this.#page().rows.splice(line, 0, {});
  }

  remove(line: number): void {
    this.#page().rows.splice(line, 1);
  }

  /**
   * Writes what was copied from a spreadsheet, cell by cell from the one named,
   * to the right and down. A first line with no digit in it is a heading and is
   * left out. Gives the line after the last one written, or -1 when the text is
   * a single cell and so no table at all.
   */
  paste(line: number, key: string, text: string): number {
    const table = text.replace(/\r\n?/g, "\n").replace(/\n+$/, "").split("\n").map((l) => l.split("\t"));
    if (table.length === 1 && table[0]!.length === 1) return -1;
    if (table.length > 1 && !table[0]!.some((c) => /\d/.test(c))) table.shift();
    const columns = this.columns.map((c) => c.key);
    const first = columns.indexOf(key);
    for (const cells of table) {
      cells.forEach((cell, i) => {
        const column = columns[first + i];
        if (column !== undefined) this.writeCell(line, column, cell.trim());
      });
      line++;
    }
    return line;
  }

  /**
   * Where on the page a fault belongs: the shown field it names, else the
   * nearest one around it, else "". A reading is named by its line of the book.
   */
  place(fault: Fault, lines: readonly number[], shown: ReadonlySet<string>): string {
    let field = fault.field.replace(/^ground\.readings\[(\d+)\]/, (_, i) => `ground.readings[${lines[Number(i)] ?? i}]`);
    while (field !== "") {
      if (shown.has(field)) return field;
      const stand = Object.hasOwn(STAND_FOR, field) ? STAND_FOR[field]! : "";
      if (shown.has(stand)) return stand;
      field = field.slice(0, Math.max(field.lastIndexOf("."), field.lastIndexOf("["), 0));
    }
    return "";
  }
}

/** A value as it would be written on paper. A bare number in a document is in metres, or a ratio. */
function written(value: unknown, path: string): string {
  if (typeof value === "number") {
    if (/crossfall|grade|wash$/.test(path)) return `${Number((value * 100).toPrecision(15))} %`;
    if (COUNTS.test(path)) return String(value);
    return `${value} m`;
  }
  if (typeof value === "string") return value;
  return value === undefined ? "" : JSON.stringify(value);
}
