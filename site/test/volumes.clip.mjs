// Holds volumes of earth against another route to them: sections by a general polygon
// clipper, npm polygon-clipping, which knows nothing of batters and benches; volumes by a
// general adaptive quadrature, which knows nothing of where a section changes its shape.
// In a bend each bit of a section counts by the way it goes round (Pappus). Usage:
//
//   go test ./earthwork -run TestSitesForGeometry -sites FILE
//   node site/test/volumes.clip.mjs FILE
import { readFileSync } from "node:fs";
import clipping from "polygon-clipping";

const WITHIN = 1e-6; // of the volume, or of 10 litres where it is less
const LEAST = 0.01; // m³
const FAR = 1000; // m: wider than any section

/** Area and first moment about the centreline of what a clipper returns. */
function measure(polygons) {
  let area = 0;
  let moment = 0;
  for (const rings of polygons) {
    for (const ring of rings) {
      // From a corner of its own, so that little is lost.
      const [y0, z0] = ring[0];
      for (let i = 2; i < ring.length; i++) {
        const [y1, z1] = ring[i - 1];
        const [y2, z2] = ring[i];
        const a = ((y1 - y0) * (z2 - z0) - (y2 - y0) * (z1 - z0)) / 2;
        area += a;
        moment += (a * (y0 + y1 + y2)) / 3;
      }
    }
  }
  return [area, moment];
}

/** The three sections at a station: cut, fill and backfill, as a bend makes them count. */
function sections(site, h, c, kappa) {
  const path = site.width / 2;
  const half = path + site.working;
  const below = [[[-FAR, -FAR * 2], [FAR, -FAR * 2], [FAR, h + c * FAR], [-FAR, h - c * FAR]]];
  const above = [[[-FAR, FAR * 2], [-FAR, h - c * FAR], [FAR, h + c * FAR], [FAR, FAR * 2]]];
  const high = FAR / 4;
  const dig = [[[-half, 0], [half, 0], [half + site.batter * high, high], [-half - site.batter * high, high]]];
  const bank = [[[path, 0], [-path, 0], [-path - site.fill_batter * high, -high], [path + site.fill_batter * high, -high]]];
  const box = [[[-path, -1], [path, -1], [path, site.build_up + 1], [-path, site.build_up + 1]]];
  const slab = [[[-FAR, 0], [FAR, 0], [FAR, site.build_up], [-FAR, site.build_up]]];
  const cut = clipping.intersection(below, dig);
  const fill = clipping.intersection(above, bank);
  const back = cut.length > 0 && site.build_up > 0 ? clipping.difference(clipping.intersection(cut, slab), box) : [];
  return [cut, fill, back].map((p) => {
    const [area, moment] = measure(p);
    return area - kappa * moment;
  });
}

// So many parts of each bay to begin with, since a sliver of cut between two points of a
// rule passes unseen, and the most that one is halved.
const PARTS = 40;
const HALVINGS = 22;

/** The integrals of f over an interval: adaptive Simpson, each part halved until halving changes nothing that matters. */
function integrate(f, from, to) {
  const sum = [0, 0, 0];
  const part = (a, b, fa, fm, fb, left) => {
    const mid = (a + b) / 2;
    const f1 = f((a + mid) / 2);
    const f3 = f((mid + b) / 2);
    const once = fa.map((v, k) => ((b - a) / 6) * (v + 4 * fm[k] + fb[k]));
    const twice = fa.map((v, k) => ((b - a) / 12) * (v + 4 * f1[k] + 2 * fm[k] + 4 * f3[k] + fb[k]));
    if (left > 0 && twice.some((v, k) => Math.abs(v - once[k]) > 1e-10 * (b - a))) {
      part(a, mid, fa, f1, fm, left - 1);
      part(mid, b, fm, f3, fb, left - 1);
      return;
    }
    twice.forEach((v, k) => (sum[k] += v));
  };
  const at = (k) => from + ((to - from) * k) / PARTS;
  let before = f(from);
  for (let k = 0; k < PARTS; k++) {
    const after = f(at(k + 1));
    part(at(k), at(k + 1), before, f((at(k) + at(k + 1)) / 2), after, HALVINGS);
    before = after;
  }
  return sum;
}

function volumes(site) {
  const sum = [0, 0, 0];
  for (const { from, to, kappa } of site.pieces) {
    const ends = [from, ...site.ground.map((p) => p[0]).filter((x) => x > from && x < to), to];
    let i = 1; // the bay looked at
    const [x0, z0, grade] = site.formation;
    const f = (x) => {
      while (i > 1 && site.ground[i - 1][0] > x) i--;
      while (i < site.ground.length - 1 && site.ground[i][0] < x) i++;
      const [a, b] = [site.ground[i - 1], site.ground[i]];
      const t = (x - a[0]) / (b[0] - a[0]);
      return sections(site, a[1] + t * (b[1] - a[1]) - (z0 + grade * (x - x0)), a[2] + t * (b[2] - a[2]), kappa);
    };
    ends.slice(1).forEach((x, k) => integrate(f, ends[k], x).forEach((v, n) => (sum[n] += v)));
  }
  return sum;
}

const sites = JSON.parse(readFileSync(process.argv[2], "utf8"));
const names = ["cut", "fill", "backfill"];
const some = [0, 0, 0];
const ours = [];
const theirs = [];
let wrong = 0;
let worst = 0;
let bent = 0;
for (const [i, site] of sites.entries()) {
  const began = performance.now();
  const got = volumes(site);
  theirs.push((performance.now() - began) / 1000);
  ours.push(site.seconds);
  if (site.pieces.some((p) => p.kappa !== 0)) bent++;
  names.forEach((name, k) => {
    if (got[k] > LEAST) some[k]++;
    const off = Math.abs(site.volumes[k] - got[k]) / Math.max(got[k], LEAST);
    worst = Math.max(worst, off);
    if (!(off <= WITHIN)) {
      wrong++;
      console.error(`site ${i}: ${name} ${site.volumes[k]}, by clipped polygons ${got[k]}`);
    }
  });
}
const middle = (list) => [...list].sort((a, b) => a - b)[list.length >> 1];
const enough = sites.length >= 500 && bent >= 100 && Math.min(...some) >= 100;
console.log(`${sites.length} sites, ${bent} of them in bends, with ${some.map((n, k) => `${n} volumes of ${names[k]}`).join(", ")}: ${wrong} differ from clipped polygons, by ${worst.toExponential(1)} at most`);
console.log(`time for a site, middle of all: ${(middle(ours) * 1e6).toFixed(1)} µs in closed form, ${(middle(theirs) * 1e3).toFixed(1)} ms by clipped polygons`);
if (!enough) console.error("too few sites of a kind");
process.exit(enough && wrong === 0 ? 0 : 1);
