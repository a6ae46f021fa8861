// The mark before decimals, where the language has a comma for it. What a person
// writes stays as it was written wherever the calculator reads it; a comma is
// only turned where it would be read as something else, and what stands in the
// document with a point is shown with a comma.
import { KINDS } from "./fields.js";
import { w } from "./words.js";

/** What is written in a field, where a number is: a measure, a plain number, money; undefined for all else. */
function kindOf(field: string): "measure" | "number" | "money" | undefined {
  const name = field.replace(/\[\d+\]/g, "");
  if (name.startsWith("ground.")) return "measure";
  const kind = KINDS.get(name);
  return kind === "measure" || kind === "number" || kind === "money" ? kind : undefined;
}

/** Feet and inches keep the point, as a tape in them has it. */
const IMPERIAL = /['"′″’”]|\b(?:ft|feet|foot|in|ins|inch|inches|yds?|yards?|pies?|pulg(?:adas?)?)\b/i;

const turned = (text: string) => (w.decimal === "," && !IMPERIAL.test(text) ? text.replace(/(\d)\.(\d)/g, "$1,$2") : text);

/** A field's text as it is shown. */
export const shown = (field: string, text: string): string => (kindOf(field) ? turned(text) : text);

/** An example of what may be written, or what holds where nothing is, as it is shown. */
export const example = turned;

/** What was written in a field, as the document holds it. */
export function inDocument(field: string, text: string): string {
  const kind = w.decimal === "," ? kindOf(field) : undefined;
  if (kind === undefined) return text;
  // 1,250 m is a metre and a quarter in a language with a decimal comma; by itself it might be thousands.
  return kind === "measure" ? text.replace(/(\d),(?=\d{3}(?!\d))/g, "$1.") : /^\s*\d+,\d+\s*$/.test(text.replace(/^\s*[-−]/, "").replace(/°\s*$/, "")) ? text.replace(",", ".") : text;
}
