// Every word the page says of its own is in the catalogue, and in every language
// of it. make builds what this needs: build/test.
import assert from "node:assert/strict";
import { readFile, readdir } from "node:fs/promises";
import { dirname, join } from "node:path";
import { test } from "node:test";
import { fileURLToPath } from "node:url";
import { planFields } from "../fields.mjs";

const root = join(dirname(fileURLToPath(import.meta.url)), "..", "..");
const { english, page: englishPage } = await import(join(root, "build", "test", "words.mjs"));
const { words: spanish, page: spanishPage, demos } = await import(join(root, "build", "test", "words.es.mjs"));

/** Two words side by side, or one that begins like a sentence and is no name of a key. */
const SAID = /[A-Za-z]{2,}[,.:;…’']? [A-Za-z]{2,}/;

/** The text of a template of HTML that people see or hear, without what is filled in. */
function saidIn(html) {
  const hole = "\u0000";
  const visible = html.replace(/<!--[^]*?-->/g, "");
  const attributes = [...visible.matchAll(/\b(?:aria-label|aria-roledescription|title|placeholder|alt)=(?:"([^"]*)"|([^\s>]*))/g)].map((m) => m[1] ?? m[2]);
  const texts = visible.replace(/<[^>]*>/g, hole).split(hole);
  return [...attributes, ...texts].map((t) => t.replace(/\$\{\}/g, " ").trim()).filter((t) => /\p{L}{2,}/u.test(t));
}

/** The literals of a source, those in the holes of templates too: { tag, text, after, line }. A hole is "${}" in a text. */
function literals(source) {
  const found = [];
  let i = 0;
  const line = (at) => source.slice(0, at).split("\n").length;
  /** Goes on to the end, or to the brace that ends a hole. */
  const code = (inHole) => {
    let depth = 0;
    let before = "(";
    let word = "";
    while (i < source.length) {
      const c = source[i];
      if (source.startsWith("//", i)) i = (source.indexOf("\n", i) + 1 || source.length + 1) - 1;
      else if (source.startsWith("/*", i)) i = source.indexOf("*/", i) + 2;
      else if (c === '"' || c === "'") {
        const start = i++;
        while (source[i] !== c) i += source[i] === "\\" ? 2 : 1;
        i++;
        found.push({ tag: "", text: source.slice(start + 1, i - 1), after: source.slice(i, i + 8), before: source.slice(start - 6, start), line: line(start) });
        before = c;
      } else if (c === "`") {
        template(/\w/.test(before) ? word : "");
        before = c;
      } else if (c === "/" && (/[(,=:[!&|?{};+>]/.test(before) || word === "return")) {
        for (let set = false; (i++, source[i] !== "/" || set); ) {
          if (source[i] === "\\") i++;
          else if (source[i] === "[") set = true;
          else if (source[i] === "]") set = false;
        }
        i++;
        before = "/";
      } else {
        if (inHole && c === "}" && depth === 0) return;
        if (c === "{") depth++;
        if (c === "}") depth--;
        if (/[\w$]/.test(c)) word = /[\w$]/.test(source[i - 1] ?? "") ? word + c : c;
        else if (!/\s/.test(c)) word = "";
        if (!/\s/.test(c)) before = c;
        i++;
      }
    }
  };
  const template = (tag) => {
    const start = i++;
    let text = "";
    while (source[i] !== "`") {
      if (source.startsWith("${", i)) {
        i += 2;
        code(true);
        text += "${}";
        i++;
      } else {
        if (source[i] === "\\") text += source[i++];
        text += source[i++];
      }
    }
    i++;
    found.push({ tag, text, after: source.slice(i, i + 8), before: "", line: line(start) });
  };
  code(false);
  return found;
}

/** What a source says that is not from the catalogue. */
function saidOf(file, source) {
  return literals(source).flatMap(({ tag, text, before, after, line }) => {
    if (tag === "html" || tag === "svg") return saidIn(text).map((said) => `${file}:${line}: ${said}`);
    // Names of modules, and lists of names.
    if (/(from|import) $/.test(before) || after.startsWith(".split(") || after.startsWith(").split(")) return [];
    return SAID.test(text) ? [`${file}:${line}: ${text}`] : [];
  });
}

/** What looks like words and is none that anybody reads. */
const NO_WORDS = [
  /: \d\/\d in per ft$/, // how a crossfall may be written
  /: fault wanted$/, // names of classes
  /: (?:<svg |\.[a-z]+ [a-z]+$|\([a-z]+: [a-z]+\)$)/, // markup, a selector, a media query
];

test("no words stand in the sources but in the catalogue", async () => {
  const found = [];
  for (const file of (await readdir(join(root, "site", "src"))).sort()) {
    if (/^words\b|^style\.ts$/.test(file)) continue;
    found.push(...saidOf(file, await readFile(join(root, "site", "src", file), "utf8")).filter((f) => !NO_WORDS.some((known) => known.test(f))));
  }
  assert.deepEqual(found, []);
  assert.deepEqual(saidIn((await readFile(join(root, "site", "page", "index.html"), "utf8")).replace(/<!doctype html>/, "")), ["Slopewright", "English", "Español"], "index.html");
});

test("the search for words finds them", () => {
  const found = saidOf("x.ts", 'const a = html`<p>Left alone <b title="a tip">${b}</b></p>`; const c = n ? "one thing" : `${n} of them`; say("Also this one"); import x from "no word here"; html`<i aria-label="Say ${d}">${e}</i>`;');
  assert.deepEqual(found.map((f) => f.replace("x.ts:1: ", "")), ["a tip", "Left alone", "one thing", "${} of them", "Also this one", "Say"]);
});

/** Every text of a catalogue by its path; functions by what they say of made-up things. */
function texts(value, path = "") {
  if (typeof value === "string") return [[path, value]];
  if (typeof value === "function") {
    const said = [["«A»"], [1, "«B»", "«C»"], [7, "«B»", "«C»"], ["«A»", "«B»", "«C»"], ["«A»", "", "«C»"], ["«A»", "«B»", ""], [1, true, true], [7, false, false]].flatMap((args) => {
      try {
        const said = value(...args);
        return typeof said === "string" ? [said] : [];
      } catch {
        return []; // it takes something else
      }
    });
    assert.ok(said.length > 0, path);
    return [...new Set(said)].map((s, i) => [`${path}#${i}`, s]);
  }
  return Object.entries(value).flatMap(([key, v]) => texts(v, path ? `${path}.${key}` : key));
}

/** What is the same in both languages. */
const SAME = /^[^\p{L}]*$|^(A4|Total|JSON|«.»|.*#\d)$/u;
const ENGLISH = /\b(the|of|and|with|from|is|are|to|at|in|for|by|or|it|that|what|no|not|each|one|this|will|be|was)\b/i;
/** Spanish words and units that look like English ones. */
const NOT_ENGLISH = /\bno\b|\d(?:[,.]\d+)? (?:in|ft)\b|\d\/\d in\b|'unsafe-eval'|\bin\b(?= o \d)/gi;

test("the Spanish catalogue has every word, in Spanish", () => {
  const en = new Map([...texts({ ...english, schema: {} }), ...texts(englishPage, "page")]);
  const es = new Map([...texts({ ...spanish, schema: {} }), ...texts(spanishPage, "page")]);
  assert.deepEqual([...en.keys()].filter((k) => !k.includes("#") && !es.has(k)), [], "wanting");
  const same = [...en].filter(([key, text]) => es.get(key) === text && !SAME.test(text) && !["lang"].includes(key) && /\p{L}{2,}/u.test(text.replace(/«.»/g, "")));
  assert.deepEqual(same.map(([key, text]) => `${key}: ${text}`), [], "the same as in English");
  const left = [...es, ...texts(spanish.schema, "schema"), ...texts(demos, "demos")].filter(([, text]) => ENGLISH.test(text.replace(NOT_ENGLISH, "")));
  assert.deepEqual(left.map(([key, text]) => `${key}: ${text}`), [], "English words in it");
});

/** Words of a hint, beyond measures, sections and codes. */
const worded = (hint) => /\p{L}{3,}/u.test(hint.replace(/\b(?:southern-pine-2|crushed-\w+|no4-bar)\b/g, "")) || / or /.test(hint);

test("every field of a plan has its Spanish", async () => {
  const { fields, tables, choices } = english.wish;
  const placed = (field) => [field, field.replace(/\.(min|max)$/, "")].some((f) => f in fields || f in tables || f in choices) || ["title", "units", "path.width", "steps.rules", "soil.class"].includes(field);
  const wanting = [];
  const known = new Set();
  for (const f of await planFields()) {
    if (placed(f.field)) continue;
    known.add(f.field);
    const said = spanish.schema[f.field];
    if (!said?.label) wanting.push(f.field);
    if (!said) continue;
    if (f.says && !said.says) wanting.push(`${f.field}: ${f.says}`);
    if (worded(f.hint) && !said.hint) wanting.push(`${f.field}, unset: ${f.hint}`);
    for (const choice of f.choices ?? []) if (!said.choices?.[choice]) wanting.push(`${f.field}: the choice ${choice}`);
    for (const { key, says } of f.columns ?? []) if (!said.columns?.[key]?.name || (says && !said.columns[key].about)) wanting.push(`${f.field}: the column ${key}`);
  }
  assert.deepEqual(wanting, [], "to be put in site/src/words.es.ts");
  assert.deepEqual(Object.keys(spanish.schema).filter((f) => !known.has(f)), [], "no such fields");
});
