// Holds haul plans against a general solver: the same transport problems as linear
// programmes over the whole table of ways, which knows nothing of a path. Usage:
//
//   go test ./earthwork -run TestHaulModelsForSolver -haul-models FILE
//   node site/test/haul.highs.mjs FILE
//
// A step sends or takes just what it has over or lacks; a place anything up to its
// capacity.
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
const highs = await createRequire(import.meta.url)("highs")();

const num = (x) => x.toFixed(12);
const wrap = (text) => text.replace(/((?:[^ ]+ ){40})/g, "$1\n ");

function programme({ from, to, cost }) {
  const name = (i, j) => `x_${i}_${j}`;
  const rows = [];
  const limit = (names, [least, most]) => {
    const sum = names.join(" + ");
    if (least === most) rows.push(`${sum} = ${num(most)}`);
    else rows.push(`${sum} <= ${num(most)}`);
  };
  from.forEach((e, i) => limit(to.map((_, j) => name(i, j)), e));
  to.forEach((e, j) => limit(from.map((_, i) => name(i, j)), e));
  const objective = cost.flatMap((row, i) => row.map((c, j) => `${num(c)} ${name(i, j)}`)).join(" + ");
  return `Minimize\n obj: ${wrap(objective)}\nSubject To\n${rows.map((r, i) => ` r${i}: ${wrap(r)}`).join("\n")}\nEnd\n`;
}

const models = JSON.parse(readFileSync(process.argv[2], "utf8"));
let wrong = 0;
let worst = 0;
const began = performance.now();
for (const [i, model] of models.entries()) {
  const solved = highs.solve(programme(model), { output_flag: false });
  const off = solved.Status === "Optimal" ? Math.abs(solved.ObjectiveValue - model.best) / (1 + model.best) : Infinity;
  worst = Math.max(worst, off);
  if (!(off <= 1e-6)) {
    wrong++;
    console.error(`path ${i}: the plan costs ${model.best}, the solver says ${solved.Status}, ${solved.ObjectiveValue}`);
  }
}
console.log(`${models.length} haul plans: ${wrong} differ from the general solver, by ${worst.toExponential(1)} at most (${((performance.now() - began) / 1000).toFixed(1)} s)`);
process.exit(models.length === 0 || wrong > 0 ? 1 : 0);
