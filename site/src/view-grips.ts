// Grips over the long section: drawn by the page, so that the drawing stays as
// the calculator drew it. Pointer, touch and keys all end in the same move.
import { html, nothing, svg, type TemplateResult } from "lit";
import type { Grip } from "./drag.js";
import { w } from "./words.js";

/** How a drawing lies: px of the datum, and px in a metre. */
export interface Frame {
  x0: number;
  y0: number;
  scale: number;
  width: number;
  height: number;
}

/** The frame that a section says it has. */
export function frameOf(drawn: SVGSVGElement | null): Frame | undefined {
  if (!drawn) return undefined;
  const [x0, y0, scale] = ["data-x0", "data-y0", "data-scale"].map((name) => Number(drawn.getAttribute(name) ?? NaN)) as [number, number, number];
  const { width, height } = drawn.viewBox.baseVal;
  return [x0, y0, scale, width, height].every(Number.isFinite) && scale > 0 ? { x0, y0, scale, width, height } : undefined;
}

export interface GripsView {
  frame: Frame | undefined;
  /** Px of the drawing to one on the page: a drawing may be shown smaller than it was drawn. */
  unit: number;
  grips: readonly Grip[];
  /** The one that Tab goes to. */
  current: string | undefined;
  /** The one that is being dragged. */
  held: string | undefined;
  /** The steps stay as they are while it is. */
  lying: boolean;
  on: boolean;
  /** Where the words of the drawing stand, and on which side of its point each grip was last. */
  words(): readonly Box[];
  ways: Map<string, number>;
  toggle(): void;
  /** Starts, follows and ends a drag, in metres moved. */
  grab(grip: Grip): void;
  drag(along: number, up: number): void;
  drop(keep: boolean): void;
  /** Moves a grip by keys. */
  nudge(grip: Grip, along: number, up: number): void;
  turnTo(id: string): void;
  length(metres: number): string;
}

const REACH = 22; // of a grip: 44 px across
/** How far down from its point a grip may stand, in px: clear of the ground's own, and the first where it hides no words. */
const WAYS = { step: [-30, -20, -44, 30, -58, 44, -72, 58, -86, 72], end: [30, -40, 48, -54, 62, -68] };

/** Within a drawing of a size, so far from its edges. */
const inside = (at: number, edge: number, size: number) => Math.min(Math.max(at, edge), size - edge);

interface Spot {
  x: number;
  y: number;
  dot: { x: number; y: number };
}

/** Where the grips are drawn. Each stays on its side of its point until it would hide words there, and the one that is held whatever comes. */
function spots({ frame, grips, held, words, ways }: GripsView & { frame: Frame }): ReadonlyMap<string, Spot> {
  return new Map(
    grips.map((g): [string, Spot] => {
      const dot = { x: frame.x0 + g.station * frame.scale, y: frame.y0 - g.level * frame.scale };
      if (g.kind === "ground") return [g.id, { ...dot, dot }];
      const x = inside(dot.x, 16, frame.width);
      const at = (way: number) => inside(dot.y + way, 14, frame.height);
      const clear = (way: number) => words().every((t) => x + 8 < t.left || x - 8 > t.right || at(way) + 8 < t.top || at(way) - 8 > t.bottom);
      const last = ways.get(g.id);
      const way = last && (g.id === held || clear(last)) ? last : (WAYS[g.kind].find(clear) ?? last ?? WAYS[g.kind][0]!);
      ways.set(g.id, way);
      return [g.id, { x, y: at(way), dot }];
    }),
  );
}

/** About where the words of a drawing stand, in its px: a letter is half as wide as it is high, and a little, and some hang below the line. */
export const wordsOf = (drawn: SVGSVGElement): readonly Box[] =>
  [...drawn.querySelectorAll("text:not([transform])")].map((t) => {
    const [x, y, size] = ["x", "y", "font-size"].map((name) => Number(t.getAttribute(name))) as [number, number, number];
    const wide = t.textContent!.length * size * 0.58;
    const left = x - wide * ({ end: 1, middle: 0.5 }[t.getAttribute("text-anchor")!] ?? 0);
    return { left, right: left + wide, top: y - size, bottom: y + size / 4 };
  });

export interface Box {
  left: number;
  right: number;
  top: number;
  bottom: number;
}

export function gripLayer(view: GripsView): TemplateResult | typeof nothing {
  const { frame, grips, on } = view;
  if (!frame || !on || grips.length === 0) return nothing;
  const current = grips.some((g) => g.id === view.current) ? view.current : grips[0]!.id;
  const places = spots({ ...view, frame });
  let from: { x: number; y: number; id: number; unit: number } | undefined;

  const down = (e: PointerEvent) => {
    if (e.button !== 0) return;
    const box = (e.currentTarget as SVGSVGElement).getBoundingClientRect();
    const unit = frame.width / box.width;
    const at = { x: (e.clientX - box.left) * unit, y: (e.clientY - box.top) * unit };
    // Where reaches overlap, the nearest one is meant.
    const [best] = grips.map((g) => ({ g, d: Math.hypot(places.get(g.id)!.x - at.x, places.get(g.id)!.y - at.y) })).sort((a, b) => a.d - b.d);
    // What is drawn beside its place, as what no longer fits is, is where the browser finds it.
    const beside = (e.target as Element).closest<SVGElement>("[transform]")?.dataset.grip;
    const g = grips.find(({ id }) => id === beside) ?? (best && best.d < REACH * 1.3 ? best.g : undefined);
    if (!g) return;
    e.preventDefault();
    const target = e.currentTarget as SVGSVGElement;
    target.setPointerCapture(e.pointerId);
    from = { x: e.clientX, y: e.clientY, id: e.pointerId, unit };
    target.querySelector<SVGElement>(`[data-grip="${g.id}"]`)?.focus({ preventScroll: true });
    view.grab(g);
    const move = (m: PointerEvent) => {
      if (!from || m.pointerId !== from.id) return;
      const [dx, dy] = [((m.clientX - from.x) * unit) / frame.scale, ((from.y - m.clientY) * unit) / frame.scale];
      view.drag(g.along ? dx : 0, g.up ? dy : 0);
    };
    const end = (keep: boolean) => () => {
      target.removeEventListener("pointermove", move);
      for (const [name, f] of ends) target.removeEventListener(name, f);
      removeEventListener("keydown", escape, true);
      from = undefined;
      view.drop(keep);
    };
    const ends: [string, () => void][] = [["pointerup", end(true)], ["pointercancel", end(true)], ["lostpointercapture", end(true)]];
    const escape = (k: KeyboardEvent) => {
      if (k.key !== "Escape") return;
      k.preventDefault();
      end(false)();
    };
    target.addEventListener("pointermove", move);
    for (const [name, f] of ends) target.addEventListener(name, f);
    addEventListener("keydown", escape, true);
  };

  const key = (e: KeyboardEvent) => {
    const grip = grips.find((g) => g.id === (e.target as SVGElement).dataset?.grip);
    if (!grip || e.ctrlKey || e.metaKey || e.altKey) return;
    const step = grip.step * (e.shiftKey ? 10 : 1);
    const rise = grip.rise ?? step;
    const [dx, dy] = ({ ArrowLeft: [-step, 0], ArrowRight: [step, 0], ArrowUp: [0, rise], ArrowDown: [0, -rise] } as Record<string, [number, number]>)[e.key] ?? [0, 0];
    if (dx !== 0 || dy !== 0) {
      e.preventDefault();
      if ((dx !== 0 && grip.along) || (dy !== 0 && grip.up)) view.nudge(grip, dx, dy);
      return;
    }
    const i = grips.indexOf(grip);
    const to = ({ PageUp: i - 1, PageDown: i + 1, Home: 0, End: grips.length - 1 } as Record<string, number>)[e.key];
    if (to === undefined) return;
    e.preventDefault();
    if (grips[to]) view.turnTo(grips[to].id);
  };

  return html`<svg class="grips" viewBox="0 0 ${frame.width} ${frame.height}" role="group" aria-label=${w.grips.group} @pointerdown=${down} @keydown=${key}>
    <path class="follows"/>
    ${grips.map((g) => {
      const { x, y, dot } = places.get(g.id)!;
      const name = g.kind === "ground" ? w.grips.ground(g.number) : g.kind === "step" ? w.grips.step(g.number) : g.id === "foot" ? w.grips.foot : w.grips.head;
      return svg`<g class="grip ${g.kind} ${g.id === view.held ? "held" : ""}" data-grip=${g.id} role="button" tabindex=${g.id === current ? "0" : "-1"} aria-roledescription=${w.grips.role}
        aria-label=${w.grips.at(name, view.length(g.station), view.length(g.level))}>
        ${g.kind === "ground" ? nothing : svg`<path class="lead" d="M${dot.x} ${dot.y} L${x} ${y}"/>`}
        <circle class="reach" cx=${x} cy=${y} r=${REACH * Math.max(1, view.unit)}/>
        ${g.kind === "end" ? svg`<rect class="face" x=${x - 6} y=${y - 6} width="12" height="12"/>` : g.kind === "step" ? svg`<path class="face" d="M${x} ${y - 7} L${x + 7} ${y} L${x} ${y + 7} L${x - 7} ${y} z"/>` : svg`<circle class="face" cx=${x} cy=${y} r="5"/>`}
      </g>`;
    })}
  </svg>`;
}

/** What is moved under the finger before its drawing is there; undefined for nothing any more. */
export interface Following {
  frame: Frame;
  grip: Grip;
  /** The ground as it is drawn. */
  points: readonly { station: number; level: number }[];
  /** How far the finger is from where the grip is drawn, in metres. */
  along: number;
  up: number;
}

/** Moves a grip and the ground on both sides of it, on the layer itself: in the very frame of the pointer's event. */
export function follow(root: ParentNode, following?: Following): void {
  const layer = root.querySelector(".grips");
  const line = layer?.querySelector(".follows");
  for (const moved of layer?.querySelectorAll(".grip[transform]") ?? []) moved.removeAttribute("transform");
  if (!following || !layer || !line || (following.along === 0 && following.up === 0)) {
    line?.removeAttribute("d");
    return;
  }
  const { frame, grip, points, along, up } = following;
  // It stays within the drawing, where it can be taken up again.
  const [x, y] = [frame.x0 + grip.station * frame.scale, frame.y0 - grip.level * frame.scale];
  const dx = inside(x + along * frame.scale, 8, frame.width) - x;
  const dy = inside(y - up * frame.scale, 8, frame.height) - y;
  layer.querySelector(`[data-grip="${grip.id}"]`)?.setAttribute("transform", `translate(${dx.toFixed(2)} ${dy.toFixed(2)})`);
  if (grip.kind !== "ground") return line.removeAttribute("d");
  const at = (p: { station: number; level: number }) => `${(frame.x0 + p.station * frame.scale).toFixed(2)} ${(frame.y0 - p.level * frame.scale).toFixed(2)}`;
  const i = points.findIndex((p) => Math.abs(p.station - grip.station) < 0.002);
  const ends = [points[i - 1], { station: grip.station + dx / frame.scale, level: grip.level - dy / frame.scale }, points[i + 1]].filter((p) => p !== undefined);
  line.setAttribute("d", i < 0 ? "" : `M${ends.map(at).join(" L")}`);
}

export function gripTools(view: GripsView): TemplateResult | typeof nothing {
  if (!view.frame || view.grips.length === 0) return nothing;
  return html`<div class="griptools">
    <button type="button" class="plain" data-do="grips" aria-pressed=${view.on ? "true" : "false"} @click=${view.toggle}>${view.on ? w.grips.off : w.grips.on}</button>
    ${view.on ? html`<p class="aside">${view.held && view.lying ? w.grips.lying : w.grips.how}</p>` : nothing}
  </div>`;
}
