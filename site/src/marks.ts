// What is written and what the document holds, where a language parts them. What
// a person writes stays as it was written wherever the calculator reads it: a
// comma before decimals becomes a point only where it would be read as something
// else. What stands in the document with a point is shown with the language's own
// mark, and codes are written as words.
import { KINDS } from "./fields.js";
import { w } from "./words.js";

/** What is written in a field, where a number is: a measure, a plain number, money; undefined for all else. */
function kindOf(field: string): "measure" | "number" | "money" | undefined {
  const name = nameOf(field);
  if (name.startsWith("ground.")) return "measure";
  const kind = KINDS.get(name);
  return kind === "measure" || kind === "number" || kind === "money" ? kind : undefined;
}

const turned = (text: string) => (w.decimal === "," ? text.replace(/(\d)\.(\d)/g, "$1,$2") : text);

const nameOf = (field: string) => field.replace(/\[\d+\]/g, "");

/** What is written for the codes of a field; undefined where it is the codes themselves. */
const codesOf = (field: string) => (Object.hasOwn(w.codes, nameOf(field)) ? w.codes[nameOf(field)] : undefined);

/** A word without what one may leave out in writing it. */
const bare = (word: string) => word.normalize("NFD").replace(/\p{M}/gu, "").toLowerCase();

/** A field's text as it is shown. */
export function shown(field: string, text: string): string {
  const codes = codesOf(field);
  if (codes) return text.replace(/[^\s,]+/g, (code) => (Object.hasOwn(codes, code) ? codes[code]! : code));
  return kindOf(field) ? turned(text) : text;
}

/** An example of what may be written, or what holds where nothing is, as it is shown. */
export const example = turned;

/** What was written in a field, as the document holds it. */
export function inDocument(field: string, text: string): string {
  const codes = codesOf(field);
  if (codes) return text.replace(/[^\s,]+/g, (word) => Object.keys(codes).find((code) => bare(codes[code]!) === bare(word)) ?? word);
  const kind = w.decimal === "," ? kindOf(field) : undefined;
  if (kind === undefined) return text;
  // 1,250 m is a metre and a quarter in a language with a decimal comma; by itself it might be thousands.
  if (kind === "measure") return text.replace(/(\d),(?=\d{3}(?!\d))/g, "$1.");
  return /^\s*[-−]?\d+,\d+\s*°?\s*$/.test(text) ? text.replace(",", ".") : text;
}
