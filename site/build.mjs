// Builds the page and the landscaper's example into ../build, from the sources
// here and the calculator that `make wasm` puts in ../build/wasm.
import { createHash } from "node:crypto";
import { cp, mkdir, readFile, readdir, rm, stat, writeFile } from "node:fs/promises";
import { execFileSync } from "node:child_process";
import { dirname, join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { build, transform } from "esbuild";
import { minify } from "terser";
import { answered, calculator } from "./answered.mjs";
import { planFields } from "./fields.mjs";
import { lean as glue } from "./glue.mjs";

const escaped = (text) => text.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll('"', "&quot;");

const here = dirname(fileURLToPath(import.meta.url));
const root = dirname(here);
const out = join(root, "build", "site");
const wasm = join(root, "build", "wasm");

await rm(out, { recursive: true, force: true });
await mkdir(out, { recursive: true });

// One stamp on the module, the worker and the binary: they only work together,
// and a host or cache that mixes two builds is found out by it.
const stamp = createHash("sha256");
for (const name of (await readdir(join(here, "src"))).sort()) stamp.update(await readFile(join(here, "src", name)));
for (const name of ["slopewright.wasm", "slopewright-whole.wasm", "wasm_exec.js"]) stamp.update(await readFile(join(wasm, name)));
stamp.update(await readFile(join(root, "internal", "lang", "es.txt")));
const BUILD = stamp.digest("hex").slice(0, 12);
await writeFile(join(root, "build", "stamp.txt"), BUILD);
// What the schema says of a field is for those without a place, and words, of their own.
const placed = new Set([...(await readFile(join(here, "src/view-wish.ts"), "utf8")).matchAll(/\b(text|range|tick|choice|table)\("([\w.]+)"/g)].flatMap(([, kind, field]) => (kind === "range" ? [`${field}.min`, `${field}.max`] : [field])));
// Each on a line, as src/fields.ts reads it.
const LETTER = { measure: "M", number: "N", text: "T", tick: "K", words: "W", choice: "C", table: "L", money: "P" };
function packed(fields) {
  const line = (name, kind, ...told) => {
    if (/[A-Z]/.test(name) || told.some((t) => /[|\n]/.test(t))) throw new Error(`${name} cannot be packed`);
    return name + LETTER[kind] + told.join("|").replace(/\|+$/, "");
  };
  let before = [];
  return fields.flatMap(({ field, kind, says, hint, choices = [], columns = [] }) => {
    const path = field.split(".");
    let same = 0;
    while (same < path.length - 1 && path[same] === before[same]) same++;
    const name = ".".repeat(same) + path.slice(same).join(".");
    before = path;
    // One that has a place of its own has its words there.
    const own = placed.has(field);
    return [own ? line(name, kind) : line(name, kind, says, hint, choices.join(" ")), ...columns.map((c) => line(`:${c.key}`, c.kind, own ? "" : c.says))];
  }).join("\n");
}
const define = {
  __BUILD__: JSON.stringify(BUILD),
  __WASM_BYTES__: String((await stat(join(wasm, "slopewright.wasm"))).size),
  __FIELDS__: JSON.stringify(packed(await planFields())),
  __WHOLE_BYTES__: String((await stat(join(wasm, "slopewright-whole.wasm"))).size),
};

const common = { bundle: true, minify: true, target: "es2022", define, legalComments: "eof", logLevel: "warning", tsconfig: join(here, "tsconfig.json") };
// Text in templates is left as it is by esbuild: the style is made small here, and what is drawn loses its indentation
// and its line ends before and after elements. Lit's messages are for programmers, whom
// the type check tells.
const lean = {
  name: "lean",
  setup: ({ onLoad }) => {
    onLoad({ filter: /node_modules[\\/]@?lit.*\.js$/ }, async ({ path }) => ({ contents: (await readFile(path, "utf8")).replace(/\bError\("[^"]*"\)/g, "Error()") }));
    onLoad({ filter: /src[\\/](style|planner|view-[a-z]+)\.ts$/ }, async ({ path }) => {
      const source = await readFile(path, "utf8");
      if (!path.endsWith("style.ts")) return { contents: source.replace(/([>}])\s*\n\s*(?=<\/?[a-z])|>\n\s*(?=\$\{)/g, (_, end = ">") => end).replace(/\n[ \t]+/g, "\n"), loader: "ts" };
      const [, before, css, after] = /^([^]*?unsafeCSS\([^`]*`)([^`$\\]*)(`[^]*)$/.exec(source) ?? [];
      if (css === undefined) throw new Error("style.ts is not one plain unsafeCSS(`…`)");
      return { contents: before + (await transform(css, { loader: "css", minify: true, target: "es2022" })).code.trim().replaceAll("\\", "\\\\") + after, loader: "ts" };
    });
  },
};
await build({ ...common, minify: false, entryPoints: ["words.ts", "words.es.ts"].map((name) => join(here, "src", name)), format: "esm", outdir: join(root, "build", "test"), outExtension: { ".js": ".mjs" } });
const [english, spanish] = await Promise.all(["words.mjs", "words.es.mjs"].map((name) => import(pathToFileURL(join(root, "build", "test", name)).href)));

// A word that the sources name straight and in no other way, as w.held.more, goes by a short name in every language. Names
// that stand twice are left: one of them may be looked up by what the calculator says.
const sources = (await Promise.all((await readdir(join(here, "src"))).filter((name) => !name.startsWith("words.")).map((name) => readFile(join(here, "src", name), "utf8")))).join("\n");
const times = (before, name) => sources.match(new RegExp(`\\b${before}${name}\\b`, "g"))?.length ?? 0;
const named = (words) => Object.entries(words).flatMap(([name, of]) => [name, ...(typeof of === "object" ? named(of) : [])]);
const all = [english.english, spanish.words].map(named);
const straight = all[0].filter((name) => /^[A-Za-z]{3,}$/.test(name) && all.every((names) => names.filter((n) => n === name).length === 1) && times("w\\.(?:\\w+\\.)*", name) === (times("", name) || -1));
const words = { mangleProps: new RegExp(`^(?:${straight.join("|")})$`), mangleCache: {} };

const { metafile, mangleCache } = await build({ ...common, ...words, metafile: true, plugins: [lean], entryPoints: [join(here, "src/slopewright-planner.ts")], format: "esm", outfile: join(out, "slopewright-planner.js") });
for (const input of Object.keys(metafile.inputs).filter((path) => path.includes("node_modules"))) {
  const own = new RegExp(`\\.(${straight.join("|")})\\b`).exec(await readFile(join(process.cwd(), input), "utf8"));
  if (own) throw new Error(`${input} has a ${own[1]} of its own: the word wants another name`);
}
// Whose the parts of it are that others wrote, each line once.
const planner = join(out, "slopewright-planner.js");
const { code } = await minify((await readFile(planner, "utf8")).replace(/\/\*! Bundled license information:[^]*\*\/\s*$/, (all) => `/*! ${[...new Set(all.match(/\b(Copyright|SPDX|Licen[cs]ed?)\b.*/g))].join("; ")} */\n`), {
  // Once over what esbuild has made small already: 2 % less over the wire.
  module: true,
  compress: { ecma: 2022, passes: 3, keep_fargs: false },
  format: { comments: /^!/ },
});
await writeFile(planner, code);
await build({ ...common, ...words, mangleCache, entryPoints: [join(here, "src/words.es.ts")], format: "esm", outfile: join(out, "slopewright-es.js") });
await build({ ...common, entryPoints: [join(here, "src/worker.ts")], format: "iife", outfile: join(out, "slopewright-worker.js") });
for (const name of ["slopewright.wasm", "slopewright-whole.wasm"]) await cp(join(wasm, name), join(out, name));
const programs = await Promise.all(["slopewright.wasm", "slopewright-whole.wasm"].map((name) => readFile(join(wasm, name))));
await writeFile(join(out, "wasm_exec.js"), await glue(await readFile(join(wasm, "wasm_exec.js"), "utf8"), programs));
// What the calculator says, in Spanish.
await cp(join(root, "internal", "lang", "es.txt"), join(out, "slopewright-es.txt"));
await cp(join(here, "page"), out, { recursive: true });
await writeFile(join(out, "page.css"), (await transform(await readFile(join(here, "page", "page.css"), "utf8"), { loader: "css", minify: true, target: "es2022" })).code);

// The page in English, the words in their places; the manifest in every language.
const html = (await readFile(join(here, "page", "index.html"), "utf8"))
  .replace(/(<[^>]* data-word="(\w+)"[^>]*?) (content|aria-label)="">/g, (_, tag, word, name) => `${tag} ${name}="${escaped(english.page[word])}">`)
  .replace(/(<[^>]* data-word="(\w+)"[^>]*>)(?=<\/)/g, (_, tag, word) => tag + escaped(english.page[word]))
  .replace(/ data-spanish="(\w+)">/g, (_, word) => `>${escaped(spanish.page[word])}`);
await writeFile(join(out, "index.html"), html);
for (const [file, lang, { lead }] of [["manifest.webmanifest", "en", english.page], ["manifest.es.webmanifest", "es", spanish.page]]) {
  await writeFile(join(out, file), JSON.stringify({ ...JSON.parse(await readFile(join(here, "page", "manifest.webmanifest"), "utf8")), description: lead, lang }));
}
await build({ ...common, entryPoints: [join(here, "src/page.ts")], format: "esm", outfile: join(out, "page.js") });

await mkdir(join(out, "plans"));
for (const name of await readdir(join(root, "testdata", "plans"))) {
  const file = join(root, "testdata", "plans", name);
  if (name.endsWith(".json") && JSON.parse(await readFile(file, "utf8")).format === "slopewright.plan/1") await cp(file, join(out, "plans", name));
}

// The demo hills, as a reader of Spanish has them.
await mkdir(join(out, "plans", "es"));
for (const [name, words] of Object.entries(spanish.demos)) {
  const plan = JSON.parse(await readFile(join(root, "testdata", "plans", `${name}.json`), "utf8"));
  await writeFile(join(out, "plans", "es", `${name}.json`), `${JSON.stringify({ ...plan, ...words }, null, 2)}\n`);
}

// The hill that a first visit shows is solved already, drawn for a narrow screen and for a wide one.
for (const name of ["axis", "book", "tape", "told"]) await build({ ...common, minify: false, entryPoints: [join(here, `src/${name}.ts`)], format: "esm", outfile: join(root, "build", "test", `${name}.mjs`) });
const [{ Book }, { markOf }] = await Promise.all(["book", "told"].map((name) => import(pathToFileURL(join(root, "build", "test", `${name}.mjs`)).href)));
const call = await calculator();
const answers = { en: [], es: [] };
await mkdir(join(out, "answers"));
for (const lang of ["en", "es"]) {
  const plan = JSON.parse(await readFile(join(out, "plans", lang === "en" ? "." : lang, "gentle.json"), "utf8"));
  for (const [screen, width] of [["narrow", 356], ["wide", 721]]) {
    const name = `answers/gentle-${lang}-${screen}.json`;
    answers[lang].push(name);
    await writeFile(join(out, name), answered(markOf, call, (plan) => new Book(plan).document().plan, BUILD, plan, width, lang));
  }
}

// What a visit needs, put aside by the service worker under a name made of what is in it.
const kept = ["index.html", "page.css", "page.js", "manifest.webmanifest", "icon.svg", "slopewright-planner.js", "slopewright-worker.js", "slopewright.wasm", "wasm_exec.js", ...(await readdir(join(out, "plans"))).filter((name) => name.endsWith(".json")).map((name) => `plans/${name}`), ...answers.en];
// What a visit in Spanish needs besides.
const more = ["slopewright-es.js", "slopewright-es.txt", "manifest.es.webmanifest", ...Object.keys(spanish.demos).map((name) => `plans/es/${name}.json`), ...answers.es];
const contents = createHash("sha256").update(await readFile(join(out, "slopewright-whole.wasm"))).update(await readFile(join(here, "src/offline.ts")));
for (const name of [...kept, ...more]) contents.update(name).update(await readFile(join(out, name)));
await build({ ...common, define: { ...define, __CACHE__: JSON.stringify(contents.digest("hex").slice(0, 12)), __KEPT__: JSON.stringify(["./", ...kept.slice(1)]), __MORE__: JSON.stringify({ es: more }) }, entryPoints: [join(here, "src/offline.ts")], format: "iife", outfile: join(out, "sw.js") });
execFileSync(process.execPath, [join(here, "types.mjs"), join(out, "slopewright-planner.d.ts")]);

// The landscaper's page, with its own copy of the planner, as a stranger's site would have it.
const landscaper = join(root, "build", "landscaper");
await rm(landscaper, { recursive: true, force: true });
await cp(join(root, "examples", "embed"), landscaper, { recursive: true });
for (const name of ["slopewright-planner.js", "slopewright-es.js", "slopewright-es.txt", "slopewright-worker.js", "slopewright.wasm", "slopewright-whole.wasm", "wasm_exec.js"]) {
  await mkdir(join(landscaper, "slopewright"), { recursive: true });
  await cp(join(out, name), join(landscaper, "slopewright", name));
}
