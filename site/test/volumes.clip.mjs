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

// Gauss and Kronrod's rules of 7 and 15 points (QUADPACK, 1983).
const NODE = [0.991455371120812639206854697526329, 0.949107912342758524526189684047851, 0.864864423359769072789712788640926, 0.741531185599394439863864773280788, 0.58608723546769113029414469693513, 0.405845151377397166906606412076961, 0.207784955007898467600689403773245, 0];
const KRONROD = [0.022935322010529224963732008058970, 0.063092092629978553290700663189204, 0.104790010322250183839876322541518, 0.140653259715525918745189590510238, 0.16900472663926790282829543, 0.190350578064785409913256402421014, 0.204432940075298892414161999234649, 0.209482141084727828012999174891714];
const GAUSS = [0.129484966168869693270611432679082, 0.27970539148927666790146777142378, 0.381830050505118944950369775488975, 0.417959183673469387755102040816327];

function rule(f, a, b) {
  const mid = (a + b) / 2;
  const reach = (b - a) / 2;
  const whole = [0, 0, 0];
  const part = [0, 0, 0];
  NODE.forEach((node, i) => {
    for (const x of node === 0 ? [mid] : [mid - reach * node, mid + reach * node]) {
      const v = f(x);
      for (let k = 0; k < 3; k++) {
        whole[k] += KRONROD[i] * v[k] * reach;
        if (i % 2 === 1) part[k] += GAUSS[(i - 1) / 2] * v[k] * reach;
      }
    }
  });
  return { a, b, whole, off: Math.max(...whole.map((v, k) => Math.abs(v - part[k]))) };
}

// So many parts of each bay to begin with: a sliver of cut between two points of a rule
// would pass unseen, and its error with it.
const PARTS = 24;

/** The integrals of f over intervals: the part that is furthest off is halved until all together are near enough. */
function integrate(f, ends) {
  const all = ends.slice(1).flatMap((b, i) => {
    const at = (k) => ends[i] + ((b - ends[i]) * k) / PARTS;
    return Array.from({ length: PARTS }, (_, k) => rule(f, at(k), at(k + 1)));
  });
  for (let n = 0; ; n++) {
    const off = all.reduce((s, p) => s + p.off, 0);
    const sum = [0, 1, 2].map((k) => all.reduce((s, p) => s + p.whole[k], 0));
    const least = Math.max(LEAST, Math.min(...sum.filter((v) => v > LEAST)));
    if (off <= 0.1 * WITHIN * (Number.isFinite(least) ? least : LEAST)) return sum;
    if (n === 4000) throw new Error(`the quadrature does not settle: off by ${off}`);
    let worst = 0;
    for (let i = 1; i < all.length; i++) if (all[i].off > all[worst].off) worst = i;
    const { a, b } = all[worst];
    const mid = (a + b) / 2;
    all.splice(worst, 1, rule(f, a, mid), rule(f, mid, b));
  }
}

function volumes(site) {
  const sum = [0, 0, 0];
  for (const { from, to, kappa } of site.pieces) {
    const ends = [from, ...site.ground.map((p) => p[0]).filter((x) => x > from && x < to), to];
    let i = 1;
    const [x0, z0, grade] = site.formation;
    const f = (x) => {
      while (i > 1 && site.ground[i - 1][0] > x) i--;
      while (i < site.ground.length - 1 && site.ground[i][0] < x) i++;
      const [a, b] = [site.ground[i - 1], site.ground[i]];
      const t = (x - a[0]) / (b[0] - a[0]);
      return sections(site, a[1] + t * (b[1] - a[1]) - (z0 + grade * (x - x0)), a[2] + t * (b[2] - a[2]), kappa);
    };
    integrate(f, ends).forEach((v, k) => (sum[k] += v));
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
