// Tables of prices as yards and spreadsheets give them: the calculator reads
// what goods cost; what timber is to be had is taken as it is written, and is
// the calculator's to refuse with the rest of the plan.
import type { Row } from "./contract.js";

/** The most of a price list that is read, in bytes: as the calculator has it. */
export const LONGEST_LIST = 1 << 20;

/** Cells of comma-separated values after RFC 4180, or parted by semicolons or tabs: what the first line has most of. */
export function cells(text: string): { rows: string[][]; comma: boolean } {
  const plain = text.replace(/^\uFEFF/, "");
  const head = plain.trimStart().split(/\r?\n/, 1)[0]!;
  const count = (c: string) => head.split(c).length;
  const by = [",", ";", "\t"].reduce((best, c) => (count(c) > count(best) ? c : best));
  const rows: string[][] = [];
  let row: string[] = [];
  let cell = "";
  let quoted = false;
  const next = () => {
    row.push(cell.trim().replace(/^'(?=[=+\-@])/, "")); // as tables are made safe for spreadsheets
    cell = "";
  };
  for (let i = 0; i <= plain.length; i++) {
    const c = plain[i];
    if (quoted && c !== undefined) {
      if (c !== '"') cell += c;
      else if (plain[i + 1] === '"') cell += plain[++i]!;
      else quoted = false;
    } else if (c === '"' && cell.trim() === "") {
      cell = "";
      quoted = true;
    } else if (c === by) next();
    else if (c === undefined || c === "\n") {
      next();
      if (row.some((t) => t !== "")) rows.push(row);
      row = [];
    } else if (c !== "\r") cell += c;
  }
  return { rows, comma: by !== "," };
}

/** The timber of a table whose first line names at least section and length, by the names of columns given; undefined for any other table. */
export function timber(text: string, columns: readonly string[]): { rows: Row[]; unknown: string[] } | undefined {
  const { rows, comma } = cells(text);
  const names = (rows.shift() ?? []).map((n) => n.toLowerCase().replace(/\s+/g, "_"));
  if (!names.includes("section") || !names.includes("length")) return undefined;
  const plain = (key: string, cell: string) => (comma && key === "price" ? cell.replace(/^(\d+),(\d{1,2}|\d{4})$/, "$1.$2") : cell);
  const known = names.map((n) => columns.includes(n));
  return {
    rows: rows.map((row) => Object.fromEntries(row.flatMap((cell, i) => (known[i] && cell !== "" ? [[names[i]!, plain(names[i]!, cell)]] : [])))),
    unknown: names.filter((n, i) => !known[i] && n !== ""),
  };
}

/** A list with the rows of another in place of those that are the same by some columns, and beside the others. */
export function taken(old: readonly Row[], rows: readonly Row[], same: readonly string[]): { rows: Row[]; replaced: number } {
  const is = (a: Row) => (b: Row) => same.every((key) => String(a[key] ?? "") === String(b[key] ?? ""));
  const all = [...old];
  let replaced = 0;
  for (const row of rows) {
    const i = all.findIndex(is(row));
    if (i < 0) all.push(row);
    else {
      all[i] = row;
      replaced++;
    }
  }
  return { rows: all, replaced };
}
