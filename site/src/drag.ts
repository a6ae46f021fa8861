// What can be moved in the long section, and what moving it writes in the book:
// points of the ground, the ends of the path, and where flights and landings
// meet. Places are in metres from the foot, as in the drawing.
import { READINGS, type Book } from "./book.js";
import type { OwnLayout, Result, Row, Sketch } from "./contract.js";
import { INCH, length, like, slope } from "./tape.js";

/** What moving a grip writes: fields of the book and their text, or a layout of one's own. */
export interface Written {
  fields?: [field: string, text: string][];
  fixed?: OwnLayout;
  /** It cannot go there: what was written last stands. */
  stays?: boolean;
}

export interface Grip {
  /** The same for the same point from one result to the next. */
  id: string;
  kind: "ground" | "end" | "step";
  /** Row of the readings, or number of the riser. */
  number: number;
  station: number;
  level: number;
  /** Which ways it can go. */
  along: boolean;
  up: boolean;
  /** The smallest move, in metres. */
  step: number;
  /** The smallest move up, where it is another. */
  rise?: number;
  /** How far it can go along, in metres from where it is: not past its neighbours. */
  reach?: readonly [least: number, most: number];
  /** What to write when it has moved so far from where it is. */
  move(along: number, up: number): Written;
}

interface Point {
  station: number;
  level: number;
}

const text = (row: Row | undefined, key: string) => (row && Object.hasOwn(row, key) ? row[key] : undefined);
const near = (a: number, b: number) => Math.abs(a - b) < 0.002;
const STAYS: Written = { stays: true };
const inches = (metres: number) => `${Number((metres / INCH).toFixed(4))} in`;

/** Where each row of the book lies in the coordinates of the readings, by the page's own reading; undefined where it cannot tell. */
function places(book: Book, rows: readonly Row[]): (number | undefined)[] {
  const at = rows.map((row) => length(text(row, "at")));
  if (book.method === "string" && book.text("ground.from") === "head") {
    const far = Math.max(...at.map((x) => x ?? -Infinity));
    return at.map((x) => (x === undefined ? undefined : far - x));
  }
  return at;
}

/** A move along, as far as the grip can go. */
export const within = ({ reach: [least, most] = [-Infinity, Infinity] }: Grip, along: number) => Math.min(Math.max(along, least), most);

/** The grips of a plan as it was worked out, of the book it was worked out from. */
export function grips(book: Book, result: Result | Sketch): Grip[] {
  const ground = result.ground as unknown as { datum: Point; points: Point[] };
  const imperial = book.text("units") === "imperial";
  if (!Array.isArray(ground.points) || ground.points.length < 2) return [];
  return [...groundGrips(book, ground, imperial), ...endGrips(book, result, ground.datum, imperial), ...stepGrips(result, ground.datum.station, imperial)];
}

function groundGrips(book: Book, ground: { datum: Point; points: Point[] }, imperial: boolean): Grip[] {
  const found = (x: number | undefined) => (x === undefined ? undefined : ground.points.find((p) => near(p.station + ground.datum.station, x)));
  const rows = book.rows();
  const xs = places(book, rows);
  const ends = (["foot", "head"] as const).map((end) => length(book.text(`path.${end}.at`)));
  // No distance along a string is negative.
  const string = book.method === "string";
  const [lowest, highest] = [string ? 0 : -Infinity, string && book.text("ground.from") === "head" ? Math.max(...xs.map((x) => x ?? 0)) : Infinity];
  /** Between its neighbours; the first and the last not past an end of the path that is written. */
  const between = (x: number, step: number): [number, number] => {
    const others = xs.filter((other) => other !== undefined && other !== x) as number[];
    const [before, after] = [Math.max(...others.filter((other) => other < x)), Math.min(...others.filter((other) => other > x))];
    const [foot = Infinity, head = -Infinity] = ends;
    const [least, most] = [Math.max(before + step, after === Infinity ? head : lowest), Math.min(after - step, before === -Infinity ? foot : highest)];
    return [Math.min(0, least - x), Math.max(0, most - x)];
  };
  const grip = (line: number, p: Point, along: boolean, step: number, move: Grip["move"]): Grip => ({ id: `ground-${line}`, kind: "ground", number: line + 1, station: p.station, level: p.level, along, up: true, step, move, ...(xs[line] === undefined ? {} : { reach: between(xs[line]!, step) }) });
  const cell = (line: number, key: string) => `${READINGS}[${line}].${key}`;
  /** Writes a length that has moved, if it can be read at all. */
  const moved = (line: number, key: string, by: number): [string, string][] => {
    const was = text(rows[line], key);
    const value = length(was);
    return value === undefined || by === 0 ? [] : [[cell(line, key), like(was, imperial).write(value + by)]];
  };

  if (book.method === "total") {
    const [rise, run] = [book.text("ground.rise"), book.text("ground.run")];
    const [up, along] = [length(rise), length(run)];
    const head = ground.points.at(-1)!;
    if (up === undefined || along === undefined) return [];
    const [a, b] = [like(rise, imperial), like(run, imperial)];
    return [grip(0, head, true, a.step, (x, y) => ({ fields: [["ground.rise", a.write(Math.max(a.step, up + y))], ["ground.run", b.write(Math.max(b.step, along + x))]] }))];
  }
  if (book.method === "slope") return slopeGrips(book, ground, imperial, grip);
  if (book.method === "rod") return rodGrips(rows, found, imperial, grip, moved);
  const out = new Map<string, number>([["string", -1], ["levels", 1]]).get(book.method);
  if (out === undefined) return [];
  const back = book.method === "string" && book.text("ground.from") === "head" ? -1 : 1;
  // From the head, the lowest place is the one that all are counted from: it stays.
  const far = Math.min(...xs.map((x) => x ?? Infinity));
  return rows.flatMap((row, line) => {
    const key = book.method === "levels" ? "level" : "drop";
    const p = found(xs[line]);
    if (!p || length(text(row, key)) === undefined) return [];
    const along = back > 0 || xs[line] !== far;
    return [grip(line, p, along, like(text(row, key), imperial).step, (x, y) => ({ fields: [...moved(line, key, out * y), ...(along ? moved(line, "at", back * x) : [])] }))];
  });
}

/**
 * A level book: the rod reads less on a point that lies higher. Every sight that
 * was taken on the point moves by as much, and so does its known level: what is
 * sighted from the set-ups on both sides of it stays where it was.
 */
function rodGrips(
  rows: readonly Row[],
  found: (x: number | undefined) => Point | undefined,
  imperial: boolean,
  grip: (line: number, p: Point, along: boolean, step: number, move: Grip["move"]) => Grip,
  moved: (line: number, key: string, by: number) => [string, string][],
): Grip[] {
  return rows.flatMap((row, line) => {
    const p = found(length(text(row, "at")));
    const sights = ["back", "mid", "fore"].filter((key) => text(row, key) !== undefined && text(row, key) !== "");
    const known = text(row, "bench") === undefined || text(row, "bench") === "" ? [] : ["bench"];
    if (!p || sights.length === 0 || [...sights, ...known].some((key) => length(text(row, key)) === undefined)) return [];
    const step = Math.max(...[...sights, ...known].map((key) => like(text(row, key), imperial).step));
    // In whole steps, so that back and fore sight of a turning point go together.
    const whole = (y: number) => Math.round(y / step) * step;
    return [grip(line, p, true, step, (x, y) => ({ fields: [...sights.flatMap((key) => moved(line, key, -whole(y))), ...known.flatMap((key) => moved(line, key, whole(y))), ...moved(line, "at", x)] }))];
  });
}

/** A tape up the slope: moving a point turns the piece below it and the one above, and leaves the rest. */
function slopeGrips(book: Book, ground: { datum: Point; points: Point[] }, imperial: boolean, grip: (line: number, p: Point, along: boolean, step: number, move: Grip["move"]) => Grip): Grip[] {
  const by = book.slopeBy;
  const rows = book.rows();
  const pieces = rows.map((row) => {
    const [l, s] = [length(text(row, "length")), slope(text(row, by))];
    return l === undefined || s === undefined ? undefined : { x: l / Math.hypot(1, s), y: (l * s) / Math.hypot(1, s) };
  });
  const write = (line: number, x: number, y: number): [string, string][] => {
    if (x < 0.02) return [];
    const steep = y / x;
    const written = by === "grade" ? `${(steep * 100).toFixed(1)} %` : `${((Math.atan(steep) * 180) / Math.PI).toFixed(1)}°`;
    return [
      [`${READINGS}[${line}].length`, like(text(rows[line], "length"), imperial).write(Math.hypot(x, y))],
      [`${READINGS}[${line}].${by}`, written],
    ];
  };
  // No leg is turned back, or steeper than a leg is taken to be.
  const flattest = (leg: { y: number }) => Math.max(0.05, Math.abs(leg.y) / 5);
  let [x, y] = [0, 0];
  const all: Grip[] = [];
  for (const [line, piece] of pieces.entries()) {
    if (!piece) break;
    x += piece.x;
    y += piece.y;
    const p = ground.points.find((q) => near(q.station + ground.datum.station, x));
    const next = pieces[line + 1];
    const step = like(text(rows[line], "length"), imperial).step;
    if (p) all.push({ ...grip(line, p, true, step, (dx, dy) => ({ fields: [...write(line, piece.x + dx, piece.y + dy), ...(next ? write(line + 1, next.x - dx, next.y - dy) : [])] })), reach: [Math.min(0, flattest(piece) - piece.x), next ? Math.max(0, next.x - flattest(next)) : Infinity] });
  }
  return all;
}

/** The foot and the head: where the path begins and ends, and at what level. */
function endGrips(book: Book, result: Result | Sketch, datum: Point, imperial: boolean): Grip[] {
  const layout = (result.layout ?? {}) as { run?: number; rise?: number; built?: unknown; steps?: Point[] };
  if (typeof layout.run !== "number" || typeof layout.rise !== "number" || book.method === "total") return [];
  const measured = places(book, book.rows()).filter((x) => x !== undefined);
  const within = (at: number) => (measured.length < 2 ? at : Math.min(Math.max(at, Math.min(...measured)), Math.max(...measured)));
  return (["foot", "head"] as const).flatMap((end) => {
    if (end === "foot" && layout.built) return []; // it stands already
    // Run and rise are those of what is still to be built.
    const top = layout.built ? layout.steps?.at(-1) : undefined;
    const p = end === "foot" ? { station: 0, level: 0 } : { station: top?.station ?? layout.run!, level: top?.level ?? layout.rise! };
    const [at, level] = [book.text(`path.${end}.at`), book.text(`path.${end}.level`)];
    const form = like(at || level || undefined, imperial);
    return [
      {
        id: end,
        kind: "end",
        number: 0,
        ...p,
        along: true,
        up: true,
        step: form.step,
        // The level is the ground's until it is moved off it.
        move: (x, y) => ({
          fields: [
            ...(x === 0 ? [] : [[`path.${end}.at`, form.write(within(datum.station + p.station + x))] as [string, string]]),
            ...(y === 0 ? [] : [[`path.${end}.level`, form.write(datum.level + p.level + y)] as [string, string]]),
          ],
        }),
      } satisfies Grip,
    ];
  });
}

interface Flight {
  kind: string;
  first: number;
  risers: number;
  tread: number;
  start: number;
  end: number;
}

interface Laid {
  run: number;
  riser: number;
  flights?: Flight[];
  landings?: { kind: string; start: number; end: number }[];
  steps?: { riser: number; station: number; level: number }[];
  built?: unknown;
}

const layoutOf = (result: Result | Sketch) => (result.layout ?? {}) as Laid;
const depthsOf = ({ landings = [] }: Laid) => landings.map((l) => l.end - l.start);

/** A layout of one's own from one that was fitted: the treads, risers and landings given in place of its own. */
const rowsOf = ({ flights = [], landings = [] }: Laid, treads: readonly number[], risers: readonly number[], depths: readonly number[], write: (metres: number) => unknown = (metres) => metres): Row[] =>
  flights.map((f, i) => ({
    ...(f.kind === "box" ? {} : { kind: f.kind }),
    risers: risers[i],
    ...(risers[i]! > 1 ? { tread: write(treads[i]!) } : {}),
    ...(i < landings.length ? { landing: write(depths[i]!), ...(landings[i]!.kind === "framed" ? { platform: true } : {}) } : {}),
  }));

/** A layout as it lies; nothing where part of it stands already. */
export function asItLies(result: Result | Sketch | undefined): OwnLayout | undefined {
  const layout = result && layoutOf(result);
  if (!layout?.flights || layout.built) return undefined;
  const foot = (result!.ground as unknown as { datum: Point }).datum.station;
  const of = (key: "tread" | "risers") => layout.flights!.map((f) => f[key]);
  return { steps: rowsOf(layout, of("tread"), of("risers"), depthsOf(layout)), foot, head: foot + layout.run };
}

/**
 * Where a flight and a landing meet: moved along, one gives the other room, and
 * the path stays as long as it is; moved up, risers of the flight above become
 * those of the one below.
 */
function stepGrips(result: Result | Sketch, foot: number, imperial: boolean): Grip[] {
  const layout = layoutOf(result);
  const { flights = [], landings = [], steps = [], riser } = layout;
  if (layout.built || landings.length !== flights.length - 1) return [];
  const levelAt = (riser: number) => steps.find((s) => s.riser === riser)?.level ?? 0;
  const LEAST = 0.05;
  const round = (v: number) => Math.round(v * 1000) / 1000;
  const depths = depthsOf(layout);
  const own = (treads: readonly number[], risers: readonly number[], depths: readonly number[]): Written => {
    if (risers.some((n) => n < 1) || treads.some((t, i) => risers[i]! > 1 && t < LEAST) || depths.some((d) => d < LEAST)) return STAYS;
    // In inches as finely as it takes: treads and landings are to make up the run.
    return { fixed: { steps: rowsOf(layout, treads, risers, depths, imperial ? inches : undefined), foot, head: foot + layout.run } };
  };
  const depth = (i: number) => flights[i]!.tread || flights.find((f) => f.tread > 0)?.tread || 0.35; // of a flight of one riser, once it has two
  return landings.flatMap((landing, i) => {
    const [below, above] = [flights[i]!, flights[i + 1]!];
    const all: Grip[] = [];
    /** @param turned which flight gives or takes the room: below or above the landing */
    const grip = (number: number, station: number, turned: 0 | 1): Grip => ({
      id: `step-${2 * i + turned}`, // the same while risers go from flight to flight
      kind: "step",
      number,
      station,
      level: levelAt(number),
      along: true,
      up: true,
      step: 0.01,
      rise: riser,
      move: (x, y) => {
        const up = Math.round(y / riser);
        if (x === 0 && up === 0) return {};
        const risers = flights.map((f) => f.risers).with(i, below.risers + up).with(i + 1, above.risers - up);
        const treads = flights.map((_, k) => depth(k));
        const room = depths[i]! - up * treads[i]! + up * treads[i + 1]!;
        const flight = i + turned;
        const n = risers[flight]! - 1;
        if (n > 0) {
          const tread = round(treads[flight]! + ((turned === 0 ? 1 : -1) * x) / n);
          return own(treads.with(flight, tread), risers, depths.with(i, room - n * (tread - treads[flight]!)));
        }
        // One riser between two landings: one of them gives the other room.
        const other = turned === 0 ? i - 1 : i + 1;
        if (depths[other] === undefined) return x === 0 ? own(treads, risers, depths.with(i, room)) : STAYS;
        const by = turned === 0 ? -x : x;
        return own(treads, risers, depths.with(i, room + by).with(other, depths[other]! - by));
      },
    });
    if (below.risers > 1 || i > 0) all.push(grip(below.first + below.risers - 1, landing.start, 0));
    if (above.risers > 1) all.push(grip(above.first, landing.end, 1)); // of one riser the grip is the next landing's
    return all;
  });
}
