// Works a plan out with the calculator that the page is built with, and writes
// what it answers as the planner's attribute `answer` names it: shown at once,
// while the calculator is still on its way to the visitor. Usage, after make site:
// node answered.mjs PLAN WIDTH [LANGUAGE] > ANSWER
import { readFile } from "node:fs/promises";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";

const root = join(dirname(fileURLToPath(import.meta.url)), "..");

/**
 * Starts the small calculator here.
 * @returns {Promise<(request: string) => string>} what it answers, in Spanish too
 */
export async function calculator() {
  createRequire(import.meta.url)(join(root, "build", "site", "wasm_exec.js"));
  const go = new globalThis.Go();
  const { instance } = await WebAssembly.instantiate(await readFile(join(root, "build", "wasm", "slopewright.wasm")), go.importObject);
  void go.run(instance);
  const { slopewrightCall: call, slopewrightWords: words } = globalThis;
  const wrong = words(new Uint8Array(await readFile(join(root, "internal", "lang", "es.txt"))));
  if (wrong) throw wrong;
  return (request) => {
    const answer = call(new TextEncoder().encode(request));
    if (!(answer instanceof Uint8Array)) throw answer;
    return new TextDecoder().decode(answer);
  };
}

/**
 * @param {(request: string) => string} markOf as site/src/told.ts has it
 * @param {(request: string) => string} call as calculator gives it
 * @param {(plan: object) => object} written the document that the planner makes of a plan
 * @param {string} build the stamp of the planner's files
 * @param {object} plan
 * @param {number} width of the drawing, in CSS pixels
 * @param {string} lang
 */
export function answered(markOf, call, written, build, plan, width, lang) {
  // As site/src/told.ts asks it, of the first planner on a page.
  const request = JSON.stringify({ format: "slopewright.request/1", op: "plan", plan: written(plan), drawings: [{ name: "section", width, prefix: "sw1" }], ...(lang === "en" ? {} : { lang }) });
  const answer = call(request);
  if (JSON.parse(answer).format !== "slopewright.result/1") throw new Error(`no plan to show: ${answer}`);
  const about = JSON.parse(call(JSON.stringify({ format: "slopewright.request/1", op: "about", lang })));
  const named = (all, id) => all.filter((one) => one.id === id);
  const few = { format: about.format, version: about.version, rules: named(about.rules, plan.steps?.rules), soils: named(about.soils, plan.soil?.class) };
  return `{"format":"slopewright.told/1","build":${JSON.stringify(build)},"mark":${JSON.stringify(markOf(request))},"width":${width},"answer":${answer.trim()},"about":${JSON.stringify(few)}}\n`;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const [file, width, lang = "en"] = process.argv.slice(2);
  const [{ Book }, { markOf }] = await Promise.all(["book", "told"].map((name) => import(pathToFileURL(join(root, "build", "test", `${name}.mjs`)).href)));
  const build = await readFile(join(root, "build", "stamp.txt"), "utf8");
  process.stdout.write(answered(markOf, await calculator(), (plan) => new Book(plan).document().plan, build, JSON.parse(await readFile(file, "utf8")), Number(width), lang));
}
