// Layouts to choose between: what the calculator says of each, and where each
// lies between digging and hours. The plot only places what it was given.
import { html, nothing, svg, type TemplateResult } from "lit";
import { axis } from "./axis.js";
import type { Choice } from "./contract.js";
import { example } from "./marks.js";
import { whole } from "./view-plan.js";
import { w } from "./words.js";

export interface ChoicesView {
  working: boolean;
  trouble: string;
  all: readonly Choice[] | undefined;
  /** True while they are of the plan as it was before. */
  stale: boolean;
  /** Which of them the plan stands at, -1 for none. */
  taken: number;
  /** Which of them is pointed at in the plot. */
  picked: number | undefined;
  imperial: boolean;
  readonly: boolean;
  /** Width of the page they are shown on, in CSS pixels. */
  width: number;
  ask(): void;
  stop(): void;
  pick(i: number): void;
  take(i: number): void;
}

export function choices(view: ChoicesView): TemplateResult {
  const { all, working, readonly } = view;
  return html`<section id="choices" part="choices" aria-labelledby="h-choices">
    <h2 id="h-choices">${w.choices.heading}</h2>
    ${view.trouble ? html`<p class="fault">${view.trouble}</p>` : nothing}
    ${working
      ? html`<div class="loading"><label>${w.choices.working} <progress></progress></label> <button type="button" @click=${view.stop}>${w.choices.stop}</button></div>`
      : all === undefined
        ? html`<p class="aside">${w.choices.about}</p>
            <p><button type="button" @click=${view.ask}>${w.choices.ask}</button></p>`
        : nothing}
    ${all === undefined
      ? nothing
      : html`${view.stale && !working ? html`<p class="aside">${w.choices.stale} <button type="button" class="plain" @click=${view.ask}>${w.choices.again}</button></p>` : nothing}
          <div class="choices ${view.stale ? "stale" : ""}">
            ${all.length > 1 ? plot(view, all) : nothing}
            <ol>${all.map(
              (c, i) => html`<li class="${i === view.taken ? "taken" : ""} ${i === view.picked ? "picked" : ""}" data-choice=${i}>
                <p>${whole(c.says)}</p>
                ${i === view.taken
                  ? html`<p class="now">${w.choices.now}</p>`
                  : readonly || view.stale
                    ? nothing
                    : html`<button type="button" aria-label=${w.choices.takeLabel(c.says)} @click=${() => view.take(i)}>${w.choices.take}</button>`}
              </li>`,
            )}</ol>
          </div>`}
  </section>`;
}

/** Cubic metres in a cubic yard, by definition of the yard as 0.9144 m. */
const YARD = 0.9144 ** 3;

const R = 22; // of a point's button: 44 px across

function plot(view: ChoicesView, all: readonly Choice[]): TemplateResult {
  const width = Math.max(280, Math.min(view.width || 560, 560));
  const height = Math.round(width * 0.62) + 40;
  const left = 46;
  const frame = { x: left, y: 30, w: width - left - 16, h: height - 30 - 52 };
  const dug = all.map((c) => c.cut_bank / (view.imperial ? YARD : 1));
  const xs = axis(dug, width < 420 ? 4 : 6);
  const ys = axis(all.map((c) => c.hours), 5);
  const x = (v: number) => frame.x + ((v - xs.from) / (xs.to - xs.from)) * frame.w;
  const y = (v: number) => frame.y + frame.h - ((v - ys.from) / (ys.to - ys.from)) * frame.h;
  const dots = all.map((c, i) => ({ x: x(dug[i]!), y: y(c.hours) }));
  const places = apart(dots, frame);
  const key = (i: number) => (e: KeyboardEvent) => {
    if (e.key !== "Enter" && e.key !== " ") return;
    e.preventDefault();
    view.pick(i);
  };
  return html`<svg class="plot" viewBox="0 0 ${width} ${height}" role="group" aria-label=${w.choices.plot}>
    ${xs.ticks.map((t) => svg`<path class="grid" d="M${x(t)} ${frame.y} v${frame.h}"/><text x=${x(t)} y=${frame.y + frame.h + 18} text-anchor="middle">${example(String(t))}</text>`)}
    ${ys.ticks.map((t) => svg`<path class="grid" d="M${frame.x} ${y(t)} h${frame.w}"/><text x=${frame.x - 8} y=${y(t) + 5} text-anchor="end">${example(String(t))}</text>`)}
    <path class="axes" d="M${frame.x} ${frame.y} v${frame.h} h${frame.w}" />
    <text class="name" x=${frame.x + frame.w} y=${height - 8} text-anchor="end">${w.choices.dig(view.imperial ? w.choices.cubicYards : "m³")}</text>
    <text class="name" x="4" y="16">${w.choices.hours}</text>
    ${dots.map((d, i) => svg`<path class="lead" d="M${d.x} ${d.y} L${places[i]!.x} ${places[i]!.y}"/><circle class="dot" cx=${d.x} cy=${d.y} r="4"/>`)}
    ${all.map(
      (c, i) => svg`<g role="button" tabindex="0" class="point ${i === view.taken ? "taken" : ""}" aria-pressed=${i === view.picked ? "true" : "false"} aria-label=${`${i + 1}: ${c.says}`}
        @click=${() => view.pick(i)} @keydown=${key(i)}>
        <circle class="reach" cx=${places[i]!.x} cy=${places[i]!.y} r=${R}/><circle class="face" cx=${places[i]!.x} cy=${places[i]!.y} r="13"/>
        <text x=${places[i]!.x} y=${places[i]!.y + 5} text-anchor="middle">${i + 1}</text>
      </g>`,
    )}
  </svg>`;
}

interface XY {
  x: number;
  y: number;
}

/** How far a point lies off the straight line between two others. */
function off(p: XY, a: XY, b: XY): number {
  const [dx, dy] = [b.x - a.x, b.y - a.y];
  const along = Math.max(0, Math.min(1, ((p.x - a.x) * dx + (p.y - a.y) * dy) / (dx * dx + dy * dy)));
  return Math.hypot(p.x - a.x - along * dx, p.y - a.y - along * dy);
}

/** Where each point's number goes: near its point, clear of the other numbers and points, in the frame. */
function apart(dots: readonly XY[], frame: { x: number; y: number; w: number; h: number }): XY[] {
  const placed: XY[] = [];
  const gap = (a: XY, b: XY) => Math.hypot(a.x - b.x, a.y - b.y);
  for (const [i, dot] of dots.entries()) {
    let best = dot;
    let least = Infinity;
    for (let ring = 1; ring <= 6; ring++) {
      for (let k = 0; k < 16; k++) {
        const angle = ((k + 12) % 16) * (Math.PI / 8); // straight up first
        const at = { x: dot.x + ring * 24 * Math.cos(angle), y: dot.y + ring * 24 * Math.sin(angle) };
        if (at.x < frame.x + 14 || at.x > frame.x + frame.w - 2 || at.y < frame.y + 14 || at.y > frame.y + frame.h - 14) continue;
        let bad = ring * 24;
        for (const p of placed) bad += 20 * Math.max(0, 2 * R - gap(at, p));
        for (const [j, d] of dots.entries()) if (j !== i) bad += 10 * Math.max(0, 20 - gap(at, d)) + 8 * Math.max(0, 7 - (gap(dot, d) > 7 ? off(d, dot, at) : 7));
        if (bad < least) {
          least = bad;
          best = at;
        }
      }
    }
    placed.push(best);
  }
  return placed;
}
