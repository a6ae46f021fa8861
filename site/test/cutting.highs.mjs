// The cutting of trade-like jobs held against a general solver: the same
// problems, written as whole numbers of maximal patterns, solved by HiGHS. The
// patterns are listed here, not taken from the plans. Costs must be equal; the
// times are printed side by side. A job with a section that the general solver
// does not settle within its limit is marked and counted: then its best must not
// be cheaper. Such a job says nothing against the plan; but in a whole run, of
// 200 jobs or more, no more than one in ten may be left so, or too little was
// compared.
//
//   node site/test/cutting.highs.mjs native.json [wasm.json]
//
// The files are written by go test ./materials -run TestTradeCases -trade FILE.
import { readFileSync } from "node:fs";
import highsLoader from "highs";

const [nativeFile, wasmFile] = process.argv.slice(2);
if (!nativeFile) {
  console.error("give the file of problems: node site/test/cutting.highs.mjs native.json [wasm.json]");
  process.exit(2);
}
const native = JSON.parse(readFileSync(nativeFile, "utf8"));
const wasm = wasmFile ? JSON.parse(readFileSync(wasmFile, "utf8")) : null;
const highs = await highsLoader();
const secondsPerSection = 30;
const wholeRun = 200, mayBeLeft = 0.1;

// Every way to fill a board so that nothing that is wanted fits beside it, on
// the cheapest board that holds it. n pieces take n − 1 kerfs: pieces and boards
// are reckoned a kerf longer.
function patterns(section, kerf) {
  const pieces = section.pieces.map(([length, count]) => ({ length: length + kerf, count })).sort((a, b) => b.length - a.length);
  const list = [];
  section.stock.forEach((stock, s) => {
    const count = pieces.map(() => 0);
    const walk = (i, room) => {
      if (i === pieces.length) {
        if (pieces.some((p, k) => count[k] < p.count && p.length <= room)) return;
        const used = stock.length + kerf - room;
        const cheaper = (o, j) => o.length + kerf >= used && (o.cents < stock.cents || (o.cents === stock.cents && j < s));
        if (!section.stock.some(cheaper)) list.push({ s, count: count.slice() });
        return;
      }
      for (let n = Math.min(pieces[i].count, Math.floor(room / pieces[i].length)); n >= 0; n--) {
        count[i] = n;
        walk(i + 1, room - n * pieces[i].length);
      }
      count[i] = 0;
    };
    walk(0, stock.length + kerf);
  });
  return { pieces, list: list.filter((p) => p.count.some((n) => n > 0)) };
}

// The least cost of one section, in cents: the boards of each length counted in
// a row of their own. Costs are whole cents, so that a gap under one is none.
function solve(section, kerf) {
  const { pieces, list } = patterns(section, kerf);
  const terms = (parts) => {
    let text = "";
    parts.forEach((t, i) => { text += (i % 8 === 7 ? "\n" : " ") + "+ " + t; });
    return text;
  };
  const names = [...list.map((_, i) => "x" + i), ...section.stock.map((_, s) => "z" + s)];
  let model = "Minimize\n obj:" + terms(section.stock.map((s, i) => `${s.cents} z${i}`)) + "\nSubject To\n";
  pieces.forEach((piece, k) => {
    model += ` c${k}:` + terms(list.flatMap((p, i) => (p.count[k] > 0 ? [`${p.count[k]} x${i}`] : []))) + ` >= ${piece.count}\n`;
  });
  section.stock.forEach((_, s) => {
    model += ` b${s}: z${s}` + terms(list.flatMap((p, i) => (p.s === s ? [`x${i}`] : []))).replaceAll("+", "-") + " = 0\n";
  });
  model += "General\n" + names.map((n) => " " + n).join("\n") + "\nEnd\n";
  const result = highs.solve(model, { mip_rel_gap: 0, mip_abs_gap: 0.99, time_limit: secondsPerSection, output_flag: false, log_to_console: false });
  const settled = result.Status === "Optimal";
  if (!settled && result.Status !== "Time limit reached") throw new Error(`${section.name}: the general solver says ${result.Status}`);
  const cents = Number.isFinite(result.ObjectiveValue) ? Math.round(result.ObjectiveValue) : Infinity;
  return { cents, settled, patterns: list.length };
}

const cell = (x, width) => String(x).padStart(width);
const time = (x) => (x === undefined ? "" : x.toFixed(2));
const line = (r) => cell(r.case, 6) + cell(r.sections, 10) + cell(r.pieces, 8) + cell(r.columns, 10) + cell(r.cost, 11) +
  cell(time(r.native), 11) + (wasm ? cell(time(r.wasm), 11) : "") + cell(time(r.highs), 12) + cell((r.highs / r.native).toFixed(0) + "×", 8) + (r.settled ? "" : "  not settled");
console.log(`\nOne run. Times in ms for the whole job: ${native.goos}/${native.goarch}${wasm ? ", WebAssembly in Node" : ""}, HiGHS in Node with the listing of its patterns.\n`);
console.log(cell("case", 6) + cell("sections", 10) + cell("pieces", 8) + cell("patterns", 10) + cell("cost", 11) + cell("native", 11) + (wasm ? cell("wasm", 11) : "") + cell("HiGHS", 12) + cell("ratio", 8));

const rows = [];
let unequal = 0, sectionsLeft = 0;
native.cases.forEach((job, at) => {
  const start = performance.now();
  let cents = 0, columns = 0, settled = true;
  for (const section of job.sections) {
    const r = solve(section, job.kerf);
    cents += r.settled ? r.cents : section.cents;
    settled &&= r.settled;
    if (!r.settled) sectionsLeft++;
    columns += r.patterns;
    if (r.settled ? r.cents !== section.cents : r.cents < section.cents) {
      unequal++;
      console.error(`case ${job.case}, ${section.name}: the plan costs ${section.cents}, the general solver ${r.cents}`);
    }
  }
  const ms = performance.now() - start;
  const inWasm = wasm?.cases[at];
  if (cents !== job.cents || !job.proven || (inWasm && (inWasm.cents !== job.cents || inWasm.case !== job.case))) {
    unequal++;
    console.error(`case ${job.case}: plan ${job.cents} (proven: ${job.proven})${inWasm ? `, in WebAssembly ${inWasm.cents}` : ""}, general solver ${cents}`);
  }
  const row = {
    case: job.case, settled, sections: job.sections.length, pieces: job.sections.flatMap((s) => s.pieces).reduce((n, [, c]) => n + c, 0),
    columns, cost: (job.cents / 100).toFixed(2), native: job.ms, wasm: inWasm?.ms, highs: ms,
  };
  rows.push(row);
  console.log(line(row));
});


const part = (list, q) => list.slice().sort((a, b) => a - b)[Math.min(list.length - 1, Math.floor(q * list.length))];
for (const [name, q] of [["median", 0.5], ["95 %", 0.95], ["most", 1]]) {
  const of = (key) => part(rows.map((r) => r[key]), q);
  console.log(cell(name, 45) + cell(time(of("native")), 11) + (wasm ? cell(time(of("wasm")), 11) : "") + cell(time(of("highs")), 12));
}
const sum = (key) => rows.reduce((n, r) => n + r[key], 0);
console.log(cell("all", 45) + cell(time(sum("native")), 11) + (wasm ? cell(time(sum("wasm")), 11) : "") + cell(time(sum("highs")), 12) + cell((sum("highs") / sum("native")).toFixed(0) + "×", 8));
const settled = rows.filter((r) => r.settled).length, left = rows.length - settled;
const sections = rows.reduce((n, r) => n + r.sections, 0), tenfold = rows.filter((r) => r.highs >= 10 * r.native).length;
console.log(`\n${rows.length} jobs, ${sections} sections. ${settled} jobs settled by the general solver: ${unequal === 0 ? "every cost is equal" : unequal + " differ"}.`);
console.log(`${left} jobs with ${sectionsLeft} sections that it does not settle in ${secondsPerSection} s each: ${left === 0 ? "none" : unequal === 0 ? "its best is not cheaper in any" : "see above"}. ` +
  `In ${tenfold} jobs it takes ten times as long or more.`);
const tooMany = rows.length >= wholeRun && left > mayBeLeft * rows.length;
if (tooMany) console.error(`more than ${100 * mayBeLeft} % of the jobs are not settled: too little was compared`);
process.exit(unequal === 0 && !tooMany ? 0 : 1);
