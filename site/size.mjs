// Prints what a visitor loads, as it weighs over the wire, and fails above the
// budgets. Usage: node size.mjs FOLDER, the built site.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { promisify } from "node:util";
import { brotliCompress, constants, gzipSync } from "node:zlib";

// Bytes, brotli. Of a calculator's, Go's runtime, fmt and money take 470 kB,
// however little else there is. The whole one is loaded by those who ask for
// sheets, tables, choices or the other drawings. Of the answers made with the
// page a visitor loads one: the larger is counted.
const BUDGETS = [
  { name: "the calculator", limit: 1_000_000, files: ["slopewright.wasm"] },
  { name: "the whole calculator, when asked for", limit: 1_400_000, files: ["slopewright-whole.wasm"] },
  { name: "the rest", limit: 80_000, files: ["answers/gentle-en-wide.json", "slopewright-planner.js", "slopewright-worker.js", "wasm_exec.js", "index.html", "page.css", "page.js", "sw.js", "icon.svg", "manifest.webmanifest"] },
  { name: "Spanish, for those who read it", limit: 90_000, files: ["slopewright-es.js", "slopewright-es.txt", "answers/gentle-es-wide.json"] },
];

const n = (bytes) => bytes.toLocaleString("en").padStart(10);
const line = (name, ...sizes) => console.log(name.padEnd(24) + sizes.map((s) => (typeof s === "number" ? n(s) : s.padStart(10))).join(" "));
let over = false;
// All at once, on as many cores as there are: the calculators take long.
const packed = new Map(BUDGETS.flatMap(({ files }) => files).map((file) => {
  const raw = readFileSync(join(process.argv[2], file));
  const params = { [constants.BROTLI_PARAM_QUALITY]: 11, [constants.BROTLI_PARAM_LGWIN]: 24, [constants.BROTLI_PARAM_SIZE_HINT]: raw.length };
  return [file, { raw, brotli: promisify(brotliCompress)(raw, { params }) }];
}));
line("bytes", "as built", "gzip -9", "brotli");
for (const { name, limit, files } of BUDGETS) {
  let sum = 0;
  for (const file of files) {
    const { raw } = packed.get(file);
    const brotli = (await packed.get(file).brotli).length;
    line(file, raw.length, gzipSync(raw, { level: 9 }).length, brotli);
    sum += brotli;
  }
  console.log(`${name}: ${n(sum).trim()} bytes brotli, of at most ${n(limit).trim()}`);
  if (sum > limit) {
    console.error(`${name}: over its budget by ${n(sum - limit).trim()} bytes; something heavy was imported.`);
    over = true;
  }
}
if (over) process.exit(1);
