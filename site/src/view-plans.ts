// The panels below the head: the plans kept on this device, and the link to the
// one that is open.
import { html, nothing, type TemplateResult } from "lit";
import { readable, type Entry } from "./store.js";
import { whole } from "./view-plan.js";
import { w } from "./words.js";

export interface PlansView {
  entries: readonly Entry[];
  open: string | undefined;
  when(ms: number): string;
  /** How far the plan climbs, in words; "" where that cannot be told. */
  slope(entry: Entry): string;
  /** False where this browser or this page keeps nothing. */
  keeps: boolean;
  readonly: boolean;
  turnTo(entry: Entry): void;
  takeOut(entry: Entry, out: boolean): void;
  copy(): void;
  file(input: HTMLInputElement): void;
  save(): void;
  saveUnread(entry: Entry): void;
  close(): void;
}

export function plansPanel(view: PlansView): TemplateResult {
  const line = (entry: Entry) => {
    const title = typeof entry.title === "string" && entry.title;
    const name = title || [w.plans.untitled, view.slope(entry)].filter(Boolean).join(". ");
    const shown = title || whole(name);
    if (entry.out !== undefined)
      return html`<li class="out"><span><s>${shown}</s><small>${w.plans.takenOut}</small></span>
        <button type="button" class="plain" aria-label=${w.plans.bringBackLabel(name)} @click=${() => view.takeOut(entry, false)}>${w.plans.bringBack}</button></li>`;
    const here = entry.id === view.open;
    return html`<li>
      ${readable(entry.kept)
        ? html`<button type="button" class="plain name" aria-current=${here ? "true" : nothing} @click=${() => view.turnTo(entry)}><b>${shown}</b><small>${here ? w.plans.here : w.plans.changed(view.when(entry.changed))}</small></button>`
        : html`<span class="unread"><b>${name}</b><small>${w.plans.unread}</small></span><button type="button" class="plain" @click=${() => view.saveUnread(entry)}>${w.plans.saveUnread}</button>`}
      <button type="button" class="plain" aria-label=${w.plans.takeOutLabel(name)} @click=${() => view.takeOut(entry, true)}>${w.plans.takeOut}</button>
    </li>`;
  };
  return html`<div class="panel" part="plans" role="region" aria-labelledby="h-plans">
    <h2 id="h-plans" tabindex="-1">${w.plans.heading}</h2>
    ${view.keeps ? html`<p class="aside">${view.entries.length === 0 ? w.plans.none : w.plans.about}</p>` : nothing}
    ${view.entries.length === 0 ? nothing : html`<ul class="kept">${view.entries.map(line)}</ul>`}
    <div class="acts">
      ${view.readonly ? nothing : html`<span class="file">${w.plans.file}<input type="file" accept=".json,application/json" aria-label=${w.plans.fileLabel} @change=${(e: Event) => view.file(e.target as HTMLInputElement)}></span>`}
      <button type="button" title=${w.plans.saveLabel} @click=${view.save}>${w.plans.save}</button>
      ${view.readonly ? nothing : html`<button type="button" @click=${view.copy}>${w.plans.copy}</button>`}
      <button type="button" class="plain" @click=${view.close}>${w.plans.close}</button>
    </div>
  </div>`;
}

export interface ShareView {
  /** The link; undefined while it is made, or where it cannot be. */
  link: string | undefined;
  trouble: string;
  copied: boolean;
  copy(): void;
  pass: (() => void) | undefined;
  close(): void;
}

export function sharePanel(view: ShareView): TemplateResult {
  return html`<div class="panel" part="share" role="region" aria-labelledby="h-share">
    <h2 id="h-share" tabindex="-1">${w.share.heading}</h2>
    ${view.trouble ? html`<p class="fault">${view.trouble}</p>` : html`<p class="aside">${w.share.about}</p>`}
    ${view.link === undefined
      ? nothing
      : html`<div class="line"><label for="link">${w.share.link}</label><input id="link" type="text" readonly .value=${view.link} @focus=${(e: Event) => (e.target as HTMLInputElement).select()}></div>`}
    <div class="acts">
      ${view.link === undefined ? nothing : html`<button type="button" @click=${view.copy}>${view.copied ? w.share.copied : w.share.copy}</button>`}
      ${view.link !== undefined && view.pass ? html`<button type="button" @click=${view.pass}>${w.share.pass}</button>` : nothing}
      <button type="button" class="plain" @click=${view.close}>${w.plans.close}</button>
    </div>
  </div>`;
}
