// What if: a plan kept in view beside the one that is being changed, sentence
// by sentence.
import { html, nothing, type TemplateResult } from "lit";
import type { Result } from "./contract.js";
import { comparison, whole } from "./view-plan.js";
import { w, type Language } from "./words.js";

export interface Pin {
  title: string;
  answer: readonly { key: string; says: string }[];
  /** The language of the answer; English where it is not said. */
  lang?: Language;
}

export interface PinsView {
  pins: readonly Pin[];
  /** What one of them has otherwise than the plan as it stands; "" for nothing. */
  unlike(i: number): string;
  readonly: boolean;
  stale: boolean;
  pin(): void;
  goBack(i: number): void;
  unpin(i: number): void;
  /** Sets the bill of a pin beside the plan's. */
  compare(i: number): void;
  /** How much of the calculator has come while the bills are compared; undefined when they are not. */
  comparing: number | undefined;
  stop(): void;
  trouble: string;
  /** The bills side by side, which of the pins the other is of, and whether they are of the plan as it stands. */
  compared: { of: Record<string, unknown>; n: number; stale: boolean } | undefined;
}

/** True for what a pin is, whoever kept it. */
export const isPin = (p: unknown): p is Pin => {
  const { title, answer } = (p ?? {}) as Partial<Pin>;
  return typeof title === "string" && Array.isArray(answer) && answer.every((s) => typeof s?.key === "string" && typeof s.says === "string");
};

/** How many plans can stand beside the one that is open. */
export const MOST = 2;

export function pins(view: PinsView, result: Result): TemplateResult {
  const { pins, readonly } = view;
  const keys = [...new Set([...result.answer, ...pins.flatMap((p) => p.answer)].map((s) => s.key))];
  const says = (answer: Pin["answer"], key: string) => answer.filter((s) => s.key === key).map((s) => s.says).join(" ");
  const differ = keys.filter((key) => pins.some((p) => says(p.answer, key) !== says(result.answer, key)));
  return html`<section id="pins" part="pins" aria-labelledby="h-pins">
    <h2 id="h-pins">${w.pins.heading}</h2>
    ${pins.length === 0 ? html`<p class="aside">${w.pins.about}</p>` : nothing}
    ${pins.length < MOST ? html`<p><button type="button" ?disabled=${view.stale} @click=${view.pin}>${w.pins.pin}</button></p>` : nothing}
    ${pins.length === 0
      ? nothing
      : html`<div class="frame ${view.stale ? "stale" : ""}" role="region" aria-label=${w.pins.table} tabindex="0"><table class="beside">
          <thead><tr><td></td><th scope="col">${result.title || w.plans.untitled}<small>${w.pins.now}</small></th>${pins.map(
            (p, i) => html`<th scope="col">${p.title || w.plans.untitled}<small>${whole(view.unlike(i) || w.pins.same)}</small><span class="acts">${readonly ? nothing : html`<button type="button" class="plain" aria-label=${w.pins.goBackLabel(i + 1)} @click=${() => view.goBack(i)}>${w.pins.goBack}</button>`}<button type="button" class="plain" aria-label=${w.pins.compareLabel(i + 1)} ?disabled=${view.stale} @click=${() => view.compare(i)}>${w.pins.compare}</button><button type="button" class="plain" aria-label=${w.pins.unpinLabel(i + 1)} @click=${() => view.unpin(i)}>${w.pins.unpin}</button></span></th>`,
          )}</tr></thead>
          <tbody>${differ.map((key) => {
            const now = says(result.answer, key);
            return html`<tr><th scope="row">${Object.hasOwn(w.pins.keys, key) ? w.pins.keys[key] : key}</th><td>${whole(now || w.pins.nothing)}</td>${pins.map((p) => {
              const then = says(p.answer, key);
              return then === now ? html`<td class="same">${w.pins.same}</td>` : html`<td>${whole(then || w.pins.nothing)}</td>`;
            })}</tr>`;
          })}
          ${differ.length < keys.length ? html`<tr><th scope="row">${differ.length > 0 ? w.pins.rest : w.pins.all}</th><td></td>${pins.map(() => html`<td class="same">${w.pins.same}</td>`)}</tr>` : nothing}</tbody>
        </table></div>`}
    ${view.trouble ? html`<p class="fault">${view.trouble}</p>` : nothing}
    ${view.comparing === undefined
      ? nothing
      : html`<div class="loading"><label>${view.comparing < 1 ? w.paper.fetching : w.pins.comparing} <progress max="1" value=${view.comparing < 1 ? view.comparing : nothing}></progress></label> <button type="button" @click=${view.stop}>${w.paper.stop}</button></div>`}
    ${view.compared && pins.length > 0 ? html`<div class=${view.compared.stale ? "stale" : ""}>${view.compared.stale ? html`<p class="aside">${w.paper.stale}</p>` : nothing}${comparison(view.compared.of, "①②"[view.compared.n]!)}</div>` : nothing}
  </section>`;
}
