// Prints what the binary weighs over the wire, and fails above the budget.
import { readFileSync } from "node:fs";
import { brotliCompressSync, constants, gzipSync } from "node:zlib";

// Bytes, brotli. Of it, Go's runtime takes 440 kB, fmt and money 190 kB and
// encoding/json 80 kB, however little else there is.
const BUDGET = 1_150_000;

const file = process.argv[2];
const raw = readFileSync(file);
const brotli = brotliCompressSync(raw, {
  params: { [constants.BROTLI_PARAM_QUALITY]: 11, [constants.BROTLI_PARAM_LGWIN]: 24, [constants.BROTLI_PARAM_SIZE_HINT]: raw.length },
}).length;
const gzip = gzipSync(raw, { level: 9 }).length;
const n = (bytes) => bytes.toLocaleString("en").padStart(11);
console.log(`${file}\n  as built ${n(raw.length)} bytes\n  gzip -9  ${n(gzip)} bytes\n  brotli   ${n(brotli)} bytes, of at most ${n(BUDGET).trim()}`);
if (brotli > BUDGET) {
  console.error(`Over the budget by ${n(brotli - BUDGET).trim()} bytes: something heavy was imported.`);
  process.exit(1);
}
