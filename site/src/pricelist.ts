// Tables of prices as yards and spreadsheets give them, which the calculator reads.
import type { Row } from "./contract.js";

/** The most of a price list that is read, in bytes: as the calculator has it. */
export const LONGEST_LIST = 1 << 20;

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
