// A price list taken in: from a file or pasted, with what is wrong in it beside
// it, by its lines.
import { html, nothing, type TemplateResult } from "lit";
import { live } from "lit/directives/live.js";
import type { Fault } from "./contract.js";
import { sayFault } from "./view-fields.js";
import { w } from "./words.js";

export interface PricesView {
  /** True while the place to paste in is open. */
  open: boolean;
  text: string;
  /** How much of the calculator has come while it is fetched for this; undefined when nothing is worked on. */
  working: number | undefined;
  faults: readonly Fault[];
  trouble: string;
  /** What was taken. */
  said: string;
  file(input: HTMLInputElement): void;
  toggle(): void;
  write(text: string): void;
  take(): void;
  stop(): void;
}

/** The columns that a list has at least. */
const HEADINGS = ["item", "price", "per"].join(",");
/** How many faults are shown at once. */
const SHOWN = 12;

export function priceList(view: PricesView): TemplateResult {
  const { open, faults, trouble, working } = view;
  const wrong = faults.length > 0 || trouble !== "";
  return html`<div class="pricelist" role="group" aria-label=${w.pricelist.group}>
    <p class="aside" id="about-list">${w.pricelist.about}</p>
    <div class="acts">
      <span class="file">${w.pricelist.file}<input type="file" accept=".csv,.tsv,.txt,text/csv,text/tab-separated-values,text/plain" aria-label=${w.pricelist.fileLabel} @change=${(e: Event) => view.file(e.target as HTMLInputElement)}></span>
      <button type="button" data-do="paste-list" aria-expanded=${open ? "true" : "false"} @click=${view.toggle}>${w.pricelist.paste}</button>
    </div>
    ${open
      ? html`<label class="pasted"><span>${w.pricelist.pasted}</span><textarea rows="6" spellcheck="false" autocapitalize="off" placeholder=${HEADINGS} aria-describedby=${[...(wrong ? ["wrong-list"] : []), "about-list"].join(" ")} aria-invalid=${wrong ? "true" : "false"}
            .value=${live(view.text)} @input=${(e: Event) => view.write((e.target as HTMLTextAreaElement).value)}></textarea></label>
          <div class="acts"><button type="button" data-do="take-list" aria-disabled=${view.text.trim() === "" ? "true" : "false"} @click=${view.take}>${w.pricelist.take}</button></div>`
      : nothing}
    ${working === undefined
      ? nothing
      : html`<div class="loading"><label>${working < 1 ? w.paper.fetching : w.pricelist.reading} <progress max="1" value=${working < 1 ? working : nothing}></progress></label> <button type="button" @click=${view.stop}>${w.paper.stop}</button></div>`}
    ${wrong
      ? html`<div class="fault" id="wrong-list">
          ${trouble ? html`<p>${trouble}</p>` : html`<p>${w.pricelist.nothingTaken(faults.length)}</p>`}
          <ul>${faults.slice(0, SHOWN).map((f) => html`<li>${f.field ? html`<b>${f.field.replace(/^line/, w.pricelist.line)}</b>: ` : nothing}${sayFault({ ...f, wanted: false })}</li>`)}${faults.length > SHOWN ? html`<li>${w.pricelist.more(faults.length - SHOWN)}</li>` : nothing}</ul>
        </div>`
      : nothing}
    ${view.said ? html`<p class="aside">${view.said}</p>` : nothing}
  </div>`;
}
