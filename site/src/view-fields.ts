// What the left page is made of: fields to write in, choices, and tables, each
// with what is wrong beside it.
import { html, noChange, nothing, svg, type TemplateResult } from "lit";
import { setCommittedValue } from "lit/directive-helpers.js";
import { Directive, directive, type Part, type PropertyPart } from "lit/directive.js";
import { live } from "lit/directives/live.js";
import { READINGS, settled, type Book } from "./book.js";
import type { About, Fault } from "./contract.js";
import { KINDS } from "./fields.js";
import { example, inDocument, shown } from "./marks.js";
import { whole } from "./view-plan.js";
import { where } from "./view-wish.js";
import { w } from "./words.js";

/** A column of a table: what stands over it, and how what is written in it may look. */
export interface Heading {
  key: string;
  name: string;
  /** What the column is for, for people who cannot see the little drawing. */
  about: string;
  imperial: string;
  metric: string;
}

/** What the left page needs to be drawn, and what it asks for. */
export interface BookView {
  book: Book;
  about: About | undefined;
  /** False while only what is seen at once is drawn. */
  inFull: boolean;
  metric: boolean;
  readonly: boolean;
  /** Faults by the field they stand beside. */
  faults: ReadonlyMap<string, readonly PlacedFault[]>;
  /** The field that has the focus. */
  focused: string;
  /** The line of the readings last written on. */
  line: number | undefined;
  /** How the readings check on themselves. */
  checks: TemplateResult | typeof nothing;
  /** What the last plan took, by the names that can be priced. */
  items: readonly { id: string; name: string }[];
  /** The groups of wishes that were opened, and what opens one. */
  opened: ReadonlySet<number>;
  open(group: number): void;
  /** The tables that show all their columns, and what shows or hides them. */
  wide: ReadonlySet<string>;
  widen(table: string): void;
  /** What is said of readings without a unit. */
  bare: TemplateResult | typeof nothing;
  /** Where a price list is taken in. */
  priceList: TemplateResult | typeof nothing;
  write(field: string, text: string): void;
  choose(change: (book: Book) => void): void;
}

export interface PlacedFault extends Fault {
  /** True for a field that is still blank: wanted, not wrong. */
  wanted: boolean;
  /** True for one of several readings without a unit, of which it is said once. */
  bare?: boolean;
}

/** Whether a fault is a figure without a unit. */
export const unitless = (fault: Fault) => fault.kind === "unit";

/** The units that figures without one can be given. */
const UNITS = ["in", "ft", "mm", "m"];

/** That several readings have no unit, and what gives it to all of them. */
export const bareUnits = (n: number, give: (unit: string) => void) =>
  html`<p class="fault" id="fault-bare">${w.held.bare(n)}: <span class="acts">${UNITS.map((unit) => html`<button type="button" data-unit @click=${() => give(unit)}>${unit}</button>`)}</span></p>`;

/** The faults beside a field, and the attributes that tie them to it. */
export function faultsAt(view: BookView, field: string) {
  const faults = view.faults.get(field) ?? [];
  const wrong = faults.some((f) => !f.wanted);
  return {
    wrong,
    id: faults.length > 0 ? (faults[0]!.bare ? "fault-bare" : idOf(field)) : nothing,
    says: faults.length === 0 || faults[0]!.bare ? nothing : html`<p class=${wrong ? "fault" : "fault wanted"} id=${idOf(field)}>${faults.map(sayFault)}</p>`,
  };
}

const idOf = (field: string) => `fault-${field.replace(/[^a-z0-9]+/gi, "-")}`;

/** Fields and rows that a text names as documents do, as the page names and counts them. */
export const inWords = (text: string) =>
  text.replace(/\b[a-z]+(?:[_.][a-z]+|\[\d+\])+/g, (name) => {
    const bare = name.replace(/\[\d+\]/g, "");
    const field = [...KINDS.keys()].find((f) => `.${f}`.endsWith(`.${bare}`));
    const row = /readings\[(\d+)/.exec(name);
    return field ? `“${where(field.slice(0, -bare.length) + name)}”` : row ? `${w.row.toLowerCase()} ${Number(row[1]) + 1}` : name;
  });

/** Whether a fault is a field that no plan has. */
export const stray = (fault: Fault) => fault.kind === "field";

/** The last name of a fault's field. */
export const nameOf = (fault: Fault) => fault.field.replace(/^.*[.\]]/, "");

export function sayFault(fault: PlacedFault): TemplateResult {
  const problem = fault.problem.replace(/\.$/, "");
  const upper = (s: string) => s.charAt(0).toUpperCase() + s.slice(1);
  // Brackets and quotation marks are for those who write documents by hand: here it is written in a field.
  const byHand = /[{[] |quotation|comillas/.test(fault.fix ?? "");
  const kind = /^(ground|path)\b/.test(fault.field) ? "measure" : KINDS.get(fault.field.replace(/\[\d+\]/g, ""));
  const end = fault.field === "ground.from" && (fault.got === "head" || fault.got === "foot") && w.book[fault.got];
  const got = end || (stray(fault) ? nameOf(fault) : shown(fault.field, fault.got ?? ""));
  const fix = stray(fault) ? "" : byHand ? (kind === "money" || kind === "number" || kind === "measure" ? w.held.fix[kind] : w.held.fix.other) : (fault.fix ?? "");
  // Of several things that would do each has a line.
  return html`<span>${got ? html`<q>${got}</q> ${whole(`${problem}.`)}` : whole(`${upper(problem)}.`)}${fix ? ` ${upper(fix.replace(/\.$/, ""))}.`.replace(/; (?!or? )|: (?=.*; (?!or? ))/g, (m) => `${m[0]}\n`).split("\n").map((part, i) => html`${i ? html`<br>` : nothing}${whole(part)}`) : nothing} </span>`;
}

/** What is written in a field, in its input; while it is being written it is left as it is if it means the same. */
const written = directive(
  class extends Directive {
    override render(field: string, text: string) {
      return shown(field, text);
    }
    override update(part: Part, [field, text]: [string, string]) {
      const input = (part as PropertyPart).element as HTMLInputElement;
      const says = shown(field, text);
      if (input.value === says || (input.matches(":focus") && settled(field, inDocument(field, input.value)) === text)) return noChange;
      setCommittedValue(part);
      return says;
    }
  },
);

export const inputOf = (field: string) => `in-${field.replace(/\W+/g, "-")}`;

/** What of a hint is seen in a field on a phone, in characters: a longer one is said before it. */
const HINT = 14;

/** @param suggest the id of a list of suggestions */
export function textField(view: BookView, field: string, label: string, hint: string, note = "", suggest = ""): TemplateResult {
  const fault = faultsAt(view, field);
  const id = inputOf(field);
  const long = hint.length > HINT;
  const says = [note, long && `${w.fields.blank} ${example(hint)}`].filter(Boolean).join("; ");
  return html`<div class="line">
    <label for=${id}>${label}${says && html`<small>${whole(says)}</small>`}</label>
    <input id=${id} data-field=${field} type="text" autocomplete="off" autocapitalize="off" spellcheck="false" enterkeyhint="next"
      .value=${written(field, view.book.text(field))} placeholder=${long ? nothing : example(hint)} ?readonly=${view.readonly} list=${suggest || nothing}
      aria-invalid=${fault.wrong ? "true" : "false"} aria-describedby=${fault.id}
      @input=${(e: InputEvent) => view.write(field, (e.target as HTMLInputElement).value)}>
    ${fault.says}
  </div>`;
}

/** What of a name is seen where it is chosen, in characters: a longer one is said below. */
const LINE = 29;

export function choiceField(view: BookView, field: string, label: string, choices: readonly { id: string; name: string; note?: string | undefined }[], unset: string): TemplateResult {
  const fault = faultsAt(view, field);
  const id = inputOf(field);
  const now = view.book.text(field);
  const known = choices.find((c) => c.id === now);
  const below = known ? [known.name.length > LINE && known.name, known.note].filter(Boolean).join(". ") : "";
  return html`<div class="line choice">
    <label for=${id}>${label}</label>
    <select id=${id} data-field=${field} ?disabled=${view.readonly} aria-invalid=${fault.wrong ? "true" : "false"} aria-describedby=${fault.id}
      @change=${(e: Event) => view.write(field, (e.target as HTMLSelectElement).value)}>
      ${now === "" ? html`<option value="" selected>${unset}</option>` : known ? nothing : html`<option value=${now} selected>${now}</option>`}
      ${choices.map((c) => html`<option value=${c.id} .selected=${live(c.id === now)}>${c.name}</option>`)}
    </select>
    ${below && html`<p class="aside">${below}</p>`}
    ${fault.says}
  </div>`;
}

/** A range: two readings on one line, either of which may stay blank. */
export function rangeField(view: BookView, field: string, label: string, note = ""): TemplateResult {
  const whole = faultsAt(view, field);
  const ends = (["min", "max"] as const).map((end) => ({ name: `${field}.${end}`, fault: faultsAt(view, `${field}.${end}`), says: end === "min" ? w.fields.atLeast(label) : w.fields.atMost(label), hint: end === "min" ? w.fields.least : w.fields.most }));
  return html`<div class="line range" role="group" aria-labelledby=${inputOf(field)}>
    <span id=${inputOf(field)}>${label}${note ? html`<small>${note}</small>` : nothing}</span>
    <span class="ends">${ends.map(
      ({ name, fault, says, hint }) => html`<input id=${inputOf(name)} data-field=${name} type="text" autocomplete="off" autocapitalize="off" spellcheck="false" enterkeyhint="next"
        aria-label=${says} .value=${written(name, view.book.text(name))} placeholder=${hint} ?readonly=${view.readonly}
        aria-invalid=${fault.wrong || whole.wrong ? "true" : "false"} aria-describedby=${fault.id === nothing ? whole.id : fault.id}
        @input=${(e: InputEvent) => view.write(name, (e.target as HTMLInputElement).value)}>`,
    )}</span>
    ${whole.says} ${ends.map((e) => e.fault.says)}
  </div>`;
}

/** A thing that is wanted or not. */
export function tickField(view: BookView, field: string, label: string, note = ""): TemplateResult {
  const fault = faultsAt(view, field);
  const id = inputOf(field);
  return html`<div class="line tick">
    <label for=${id}>${label}${note ? html`<small>${note}</small>` : nothing}</label>
    <input id=${id} data-field=${field} type="checkbox" .checked=${live(view.book.ticked(field))} ?disabled=${view.readonly}
      aria-invalid=${fault.wrong ? "true" : "false"} aria-describedby=${fault.id}
      @change=${(e: Event) => view.choose((b) => b.tick(field, (e.target as HTMLInputElement).checked))}>
    ${fault.says}
  </div>`;
}

/** Two or three choices side by side. */
export function switchField(name: string, legend: string, choices: readonly { value: string; label: string }[], now: string, disabled: boolean, choose: (value: string) => void): TemplateResult {
  return html`<fieldset class="switch">
    <legend>${legend}</legend>
    <span class="ways">${choices.map(
      (c) => html`<label><input type="radio" name=${name} value=${c.value} .checked=${live(c.value === now)} ?disabled=${disabled} @change=${() => choose(c.value)}><span>${c.label}</span></label>`,
    )}</span>
  </fieldset>`;
}

/** The most rows of a table that are drawn: no table of a plan that can be worked out has more. */
const DRAWN = 2001;

/**
 * A table to type in: Enter for the next row, columns pasted from a spreadsheet,
 * and always one blank line.
 *
 * @param look a class
 * @param without the cells that are left out
 */
export function cellTable(view: BookView, list: string, caption: string, columns: readonly Heading[], look: string, suggest: Readonly<Record<string, string>> = {}, without = (_key: string, _row: number) => false): TemplateResult {
  const { book, metric, readonly } = view;
  const all = book.rows(list);
  const rows = all.slice(0, Math.min(all.length - (readonly ? 1 : 0), DRAWN));
  const out = (i: number) => (list === READINGS ? w.fields.takeOut(i + 1) : w.fields.takeOutOf(caption, i + 1));
  const first = list === READINGS ? book.empty : rows.length < 2;
  // What is written is to be read in full: the longer it is, the smaller, and a row takes more lines where that would be too small.
  // Of readings all columns are as small; a list's names leave its figures as they are.
  const lengths = columns.map((c) => rows.reduce((most, _, i) => Math.max(most, book.cell(i, c.key, list).length), 1));
  const longest = Math.max(...lengths);
  const hinted = Math.max(...columns.map((c) => (metric ? c.metric : c.imperial).length));
  const n = columns.length;
  const lines = n > 4 && (look !== "rod" || longest > 9) ? "many" : n > 3 || Math.max(longest, hinted) * n > 28 ? "tall" : "";
  return html`
    ${readonly && rows.length === 0 ? nothing : html`<table class="readings ${look} ${lines}" .style=${`--c:${n}`}>
      <caption class="unseen">${w.fields.caption(caption)}</caption>
      <thead><tr>
        <th scope="col"><span class="unseen">${w.row}</span></th>
        ${columns.map((c) => html`<th scope="col"><abbr title=${c.about}>${c.name}</abbr></th>`)}
        ${readonly ? nothing : html`<td></td>`}
      </tr></thead>
      <tbody>${rows.map((_, i) => {
        const name = `${list}[${i}]`;
        const cells = columns.map((c, j) => ({ column: c, n: list === READINGS ? longest : lengths[j], field: `${name}.${c.key}`, fault: faultsAt(view, `${name}.${c.key}`) })).filter((c) => !without(c.column.key, i));
        const row = faultsAt(view, name);
        const says = [...cells.map((c) => c.fault.says), row.says].filter((s) => s !== nothing);
        const wrong = row.wrong || cells.some((c) => c.fault.wrong);
        return html`<tr class=${wrong ? "wrong" : ""}>
            <th scope="row"><span class="unseen">${w.row} </span>${i + 1}</th>
            ${cells.map(
              ({ column, n, field, fault }) => html`<td data-head=${column.name} .style=${`--n:${n}`}>
                <input data-field=${field} data-list=${list} data-line=${i} data-key=${column.key} type="text" autocomplete="off" autocapitalize="off" spellcheck="false" enterkeyhint="next"
                  aria-label=${list === READINGS ? w.fields.cell(column.name, i + 1) : w.fields.cellOf(caption, column.name, i + 1)} list=${suggest[column.key] ?? nothing} aria-invalid=${fault.wrong ? "true" : "false"} aria-describedby=${fault.id}
                  placeholder=${i === 0 && first ? shown(field, example(metric ? column.metric : column.imperial)) : nothing}
                  .value=${written(field, book.cell(i, column.key, list))} ?readonly=${readonly}
                  @input=${(e: InputEvent) => view.write(field, (e.target as HTMLInputElement).value)}>
              </td>`,
            )}
            ${readonly
              ? nothing
              : html`<td class="out">${i < all.length - 1
                  ? html`<button type="button" aria-label=${out(i)} title=${out(i)} @click=${() => view.choose((b) => b.remove(i, list))}>${svg`<svg viewBox="0 0 12 12" aria-hidden="true"><path d="M2.500 2.500 L9.500 9.500 M9.500 2.500 L2.500 9.500"/></svg>`}</button>`
                  : nothing}</td>`}
          </tr>
          ${says.length > 0 ? html`<tr class="says"><td aria-hidden="true">${wrong ? "✗" : "…"}</td><td colspan=${columns.length + (readonly ? 0 : 1)}>${says}</td></tr>` : nothing}`;
      })}</tbody>
    </table>`}
    ${all.length > DRAWN ? html`<p class="aside">${w.fields.notDrawn(all.length - 1 - DRAWN)}</p>` : nothing}
    ${faultsAt(view, list).says}`;
}

/** The fields of a table, by the names that faults use. */
export function cellFields(book: Book, list: string, columns: readonly { key: string }[]): string[] {
  return [list, ...book.rows(list).flatMap((_, line) => [`${list}[${line}]`, ...columns.map((c) => `${list}[${line}].${c.key}`)])];
}
