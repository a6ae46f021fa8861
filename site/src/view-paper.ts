// What can be taken away from the plan: sheets to print, drawings, tables.
import { html, nothing, type TemplateResult } from "lit";
import { fillFrame } from "./paper.js";
import { w } from "./words.js";

export const SHEETS = ["build", "field", "quote"] as const;
export const DRAWINGS = ["section", "plan", "view", "step", "across", "flight", "stringer", "cutplan", "haul"] as const;
export const TABLES = ["takeoff", "pieces", "cutplan", "bill", "prices"] as const;

export type Wanted = { what: "sheet"; name: (typeof SHEETS)[number] } | { what: "drawing"; name: (typeof DRAWINGS)[number] } | { what: "table"; name: (typeof TABLES)[number] };

export interface PaperView {
  /** What is being made. */
  working: Wanted | undefined;
  progress: number;
  trouble: string;
  /** What is shown, and whether it is of the plan as it stands. */
  shown: { wanted: Wanted; text: string; drawn?: SVGSVGElement | null; stale: boolean } | undefined;
  /** What is built, as the result has it: of what there is none there is no drawing. */
  made: Record<string, readonly unknown[] | undefined>;
  paper: string;
  setPaper(paper: string): void;
  ask(wanted: Wanted): void;
  stop(): void;
  print(frame: HTMLIFrameElement): void;
  save(as: "html" | "svg" | "png"): void;
  saveResult(): void;
  close(): void;
}

/** What a thing to take away is called on the page. */
export const called = (wanted: Wanted): string => (wanted.what === "sheet" ? w.paper.sheet[wanted.name] : wanted.what === "drawing" ? w.paper.drawing[wanted.name] : w.paper.table[wanted.name]);

/** Drawings of one kind of flight. */
const OF: Partial<Record<(typeof DRAWINGS)[number], string>> = { step: "boxes", across: "boxes", flight: "framed", stringer: "framed" };

const is = (a: Wanted | undefined, b: Wanted) => a?.what === b.what && a.name === b.name;

export function paper(view: PaperView): TemplateResult {
  const button = (wanted: Wanted, name: string) =>
    html`<button type="button" aria-pressed=${wanted.what === "table" ? nothing : is(view.shown?.wanted, wanted) ? "true" : "false"} data-ask="${wanted.what}-${wanted.name}" @click=${() => view.ask(wanted)}>${name}</button>`;
  return html`<section id="paper" part="paper" aria-labelledby="h-paper">
    <h2 id="h-paper">${w.paper.heading}</h2>
    <p class="aside">${w.paper.about}</p>
    <div class="row" role="group" aria-label=${w.paper.sheets}><span>${w.paper.sheets}</span>${SHEETS.map((name) => button({ what: "sheet", name }, w.paper.sheet[name]))}
      <label class="pick">${w.paper.size} <select @change=${(e: Event) => view.setPaper((e.target as HTMLSelectElement).value)}>${["a4", "letter"].map((p) => html`<option value=${p} ?selected=${p === view.paper}>${w.paper.sizes[p as "a4" | "letter"]}</option>`)}</select></label>
    </div>
    <div class="row" role="group" aria-label=${w.paper.drawings}><span>${w.paper.drawings}</span>${DRAWINGS.filter((name) => !OF[name] || view.made[OF[name]]?.length).map((name) => button({ what: "drawing", name }, w.paper.drawing[name]))}</div>
    <div class="row" role="group" aria-label=${w.paper.tables}><span>${w.paper.tables}</span>${TABLES.map((name) => button({ what: "table", name }, w.paper.table[name]))}<button type="button" @click=${view.saveResult}>${w.paper.result}</button></div>
    ${view.trouble ? html`<p class="fault">${view.trouble}</p>` : nothing}
    ${view.working
      ? html`<div class="loading"><label>${view.progress < 1 ? w.paper.fetching : w.paper.working} <progress max="1" value=${view.progress < 1 ? view.progress : nothing}></progress></label> <button type="button" @click=${view.stop}>${w.paper.stop}</button></div>`
      : nothing}
    ${view.shown ? shown(view, view.shown) : nothing}
  </section>`;
}

function shown(view: PaperView, { wanted, text, drawn, stale }: NonNullable<PaperView["shown"]>): TemplateResult {
  const name = called(wanted);
  const frame = (e: Event) => (e.currentTarget as HTMLElement).closest(".taken")!.querySelector("iframe")!;
  return html`<div class="taken" role="group" aria-label=${name}>
    <div class="acts">
      ${wanted.what === "sheet"
        ? html`<button type="button" @click=${(e: Event) => view.print(frame(e))}>${w.paper.print}</button><button type="button" @click=${() => view.save("html")}>${w.paper.saveSheet}</button>`
        : html`<button type="button" @click=${() => view.save("svg")}>${w.paper.saveSvg}</button><button type="button" @click=${() => view.save("png")}>${w.paper.savePng}</button>`}
      <button type="button" class="plain" @click=${view.close}>${w.plans.close}</button>
      ${stale ? html`<p class="aside">${w.paper.stale} <button type="button" class="plain" @click=${() => view.ask(wanted)}>${w.paper.again}</button></p>` : nothing}
    </div>
    ${wanted.what === "sheet"
      ? html`<iframe class=${stale ? "stale" : ""} title=${name} @load=${(e: Event) => fillFrame(e.currentTarget as HTMLIFrameElement, text)}></iframe>`
      : html`<figure class=${stale ? "stale" : ""}><div class="paper" tabindex="0" role="region" aria-label=${name}>${drawn}</div></figure>`}
  </div>`;
}
