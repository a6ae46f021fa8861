// The fields of a plan document, as the published schema has them, for the page
// to show those that it has no place of its own for.
import { readFile } from "node:fs/promises";

/**
 * @typedef {{ field: string, kind: "text" | "measure" | "money" | "number" | "tick" | "choice" | "words" | "table", says: string, hint: string, choices?: string[], columns?: { key: string, kind: "text" | "measure" | "money" | "number" | "tick" | "words", says: string }[] }} Field
 */

/** What a description says, and what it says holds when nothing is written. */
function told(description = "") {
  const [, says, hint] = /^(.*?)(?:(?:^|[;,] )default (.*))?$/s.exec(description) ?? [];
  return { says: (says ?? "").replace(/^write /, ""), hint: hint ?? "" };
}

const isNumber = (s) => s.type === "number" || s.type === "integer";

/** A measure can be written as text or, in a document, as a number, a number of some unit with another one as text; money is text of digits. */
const kindOf = (s) => (isNumber(s) || /^a number of/.test(s.$comment ?? "") ? "number" : s.anyOf ? "measure" : s.pattern ? "money" : s.type === "boolean" ? "tick" : [s.type].flat().includes("array") ? "words" : "text");

/** @param {any} s a schema @returns {Field[]} */
function walk(s, field) {
  if (s.properties) return Object.entries(s.properties).flatMap(([key, p]) => walk(p, field ? `${field}.${key}` : key));
  if (s.oneOf) {
    // One of several objects: all their fields, the one that tells them apart with all its values.
    const all = new Map();
    for (const one of s.oneOf) {
      for (const f of walk(one, field)) {
        const had = all.get(f.field);
        if (had?.choices && f.choices) had.choices = [...new Set([...had.choices, ...f.choices])];
        else if (!had) all.set(f.field, f);
      }
    }
    return [...all.values()];
  }
  const about = told(s.description);
  if (s.const !== undefined) return [{ field, kind: "choice", ...about, choices: [s.const] }];
  if (s.enum) return [{ field, kind: "choice", ...about, choices: s.enum }];
  if ([s.type].flat().includes("array")) {
    if (!s.items?.properties) return [{ field, kind: "words", ...about }];
    const columns = Object.entries(s.items.properties).map(([key, p]) => ({ key, kind: kindOf(p), says: told(p.description).says }));
    return [{ field, kind: "table", ...about, columns }];
  }
  return [{ field, kind: kindOf(s), ...about }];
}

/** @returns {Promise<Field[]>} */
export async function planFields() {
  const plan = JSON.parse(await readFile(new URL("schema/plan-1.schema.json", import.meta.url), "utf8"));
  const { format: _, ground: __, ...properties } = plan.properties;
  return walk({ properties }, "");
}
