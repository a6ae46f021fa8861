// Holds the fit against a general solver: the same small sites as integer
// programmes that know nothing of how the fit goes about it. Usage:
//
//   go test ./stair -run TestModelsForSolver -models FILE
//   node site/test/fitting.highs.mjs FILE
//
// For one riser count, x(k,p,q) is 1 when riser k stands at cell p and the next
// at cell q. The path is a flow from (1, 0) to (n, end). What is between two
// risers is a tread or a landing by its depth and the variable's letter; treads
// that follow each other are alike, landings do not, a flight has at least two
// risers and at most as many as are allowed.
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
const highs = await createRequire(import.meta.url)("highs")();

function programme(model, count) {
  const n = count.risers;
  const cells = count.cost[0].length;
  const vars = new Map(); // name -> cost
  const at = new Map(); // "k,p" -> {into: [names], out: [names], treadsIn, treadsOut, landIn, landOut}
  const node = (k, p) => {
    const key = `${k},${p}`;
    if (!at.has(key)) at.set(key, { into: [], out: [], land: { into: [], out: [] }, tread: { into: new Map(), out: new Map() } });
    return at.get(key);
  };
  const treads = Array.from({ length: n }, () => []); // by k: every tread variable
  const add = (kind, k, p, q) => {
    let cost = 0;
    for (let i = p; i < q; i++) {
      const c = count.cost[k - 1][i];
      if (c < 0) return;
      cost += c;
    }
    const name = `${kind}_${k}_${p}_${q}`;
    vars.set(name, cost);
    const a = node(k, p);
    const b = node(k + 1, q);
    a.out.push(name);
    b.into.push(name);
    if (kind === "l") {
      a.land.out.push(name);
      b.land.into.push(name);
    } else {
      a.tread.out.set(q - p, [...(a.tread.out.get(q - p) ?? []), name]);
      b.tread.into.set(q - p, [...(b.tread.into.get(q - p) ?? []), name]);
      treads[k].push(name);
    }
  };
  for (let k = 1; k < n; k++)
    for (let p = 0; p < cells; p++) {
      if (k === 1 && p > 0) continue;
      for (let q = p + 1; q <= cells; q++) {
        if (k === n - 1 && q < cells) continue;
        const d = q - p;
        if (d >= model.treads[0] && d <= model.treads[1]) add("t", k, p, q);
        if (d >= model.landing && d <= model.landing_max && k > 1 && k < n - 1) add("l", k, p, q);
      }
    }
  const rows = [];
  const sum = (names) => names.join(" + ");
  const start = node(1, 0);
  if (start.out.length === 0 || node(n, cells).into.length === 0) return null;
  rows.push(`${sum(start.out)} = 1`, `${sum(node(n, cells).into)} = 1`);
  for (const [key, x] of at) {
    if (key === "1,0" || key === `${n},${cells}`) continue;
    if (x.into.length + x.out.length === 0) continue;
    rows.push(`${x.into.length ? sum(x.into) : `0 ${x.out[0]}`}${x.out.map((v) => ` - ${v}`).join("")} = 0`);
    if (x.land.into.length && x.land.out.length) rows.push(`${sum(x.land.into)} + ${sum(x.land.out)} <= 1`);
    for (const [d, ins] of x.tread.into) {
      const others = [...x.tread.out].filter(([e]) => e !== d).flatMap(([, v]) => v);
      if (others.length) rows.push(`${sum(ins)} + ${sum(others)} <= 1`);
    }
  }
  // At most so many risers in a flight: of so many steps in a row one is a landing.
  for (let k = 1; k + model.max_risers - 1 < n; k++) {
    const window = treads.slice(k, k + model.max_risers).flat();
    if (window.length) rows.push(`${sum(window)} <= ${model.max_risers - 1}`);
  }
  const names = [...vars.keys()];
  const wrap = (text) => text.replace(/((?:[^ ]+ ){40})/g, "$1\n ");
  return (
    `Minimize\n obj: ${wrap([...vars].map(([v, c]) => `${c} ${v}`).join(" + "))}\nSubject To\n` +
    rows.map((r, i) => ` r${i}: ${wrap(r)}`).join("\n") +
    `\nBinary\n ${wrap(names.join(" "))}\nEnd\n`
  );
}

const models = JSON.parse(readFileSync(process.argv[2], "utf8"));
let wrong = 0;
let fits = 0;
const began = performance.now();
for (const [i, model] of models.entries()) {
  let best = Infinity;
  for (const count of model.counts) {
    const lp = programme(model, count);
    if (lp === null) continue;
    const solved = highs.solve(lp, { output_flag: false, mip_rel_gap: 0, mip_abs_gap: 0.5 });
    if (solved.Status === "Optimal") best = Math.min(best, Math.round(solved.ObjectiveValue) + count.risers * count.riser);
    else if (solved.Status !== "Infeasible") throw new Error(`site ${i}, ${count.risers} risers: ${solved.Status}`);
  }
  // The fit prices its uppermost flight whole: a rounding of cells apart.
  const same = model.best === null ? best === Infinity : Math.abs(best - model.best) <= 100;
  if (model.best !== null) fits++;
  if (!same) {
    wrong++;
    console.error(`site ${i}: the fit says ${model.best}, the solver ${best}`);
  }
}
console.log(`${models.length} sites, ${fits} with a fit: ${wrong} differ from the general solver (${((performance.now() - began) / 1000).toFixed(1)} s)`);
process.exit(wrong > 0 ? 1 : 0);
