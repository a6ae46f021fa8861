// The first rough answer, before the calculator is here: how far up and how far
// along, from what is written. Nothing of steps or digging is guessed.
import type { Book } from "./book.js";
import { length, slope } from "./tape.js";

/** Rise and run from the lowest written place to the highest, in metres; undefined where they cannot be told. */
export function rough(book: Book): { rise: number; run: number } | undefined {
  if (book.method === "total") return told(length(book.text("ground.rise")), length(book.text("ground.run")));
  const rows = book.rows().map((row) => (key: string) => (Object.hasOwn(row, key) ? row[key] : undefined));
  if (book.method === "slope") {
    let [rise, run] = [0, 0];
    for (const cell of rows) {
      const [l, s] = [length(cell("length")), slope(cell(book.slopeBy))];
      if (l === undefined || s === undefined) continue;
      run += l / Math.hypot(1, s);
      rise += (l * s) / Math.hypot(1, s);
    }
    return told(rise, run);
  }
  if (book.method !== "string" && book.method !== "levels") return undefined;
  const places = rows.flatMap((cell) => {
    const [at, height] = [length(cell("at")), length(cell(book.method === "string" ? "drop" : "level"))];
    return at === undefined || height === undefined ? [] : [{ at, height }];
  });
  if (places.length < 2) return undefined;
  places.sort((a, b) => a.at - b.at);
  return told(Math.abs(places.at(-1)!.height - places[0]!.height), places.at(-1)!.at - places[0]!.at);
}

const told = (rise: number | undefined, run: number | undefined) => (rise !== undefined && run !== undefined && rise > 0 && run > 0 ? { rise, run } : undefined);
