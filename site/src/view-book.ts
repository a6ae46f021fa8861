// The left page: how the hill was measured, the readings, what is to be built.
import { html, nothing, svg, type TemplateResult } from "lit";
import { live } from "lit/directives/live.js";
import { METHODS, type Book, type Method } from "./book.js";
import type { About, Fault } from "./contract.js";
import { glyphs } from "./glyphs.js";

/** What the left page needs to be drawn, and what it asks for. */
export interface BookView {
  book: Book;
  about: About | undefined;
  metric: boolean;
  readonly: boolean;
  /** Faults by the field they stand beside. */
  faults: ReadonlyMap<string, readonly PlacedFault[]>;
  /** The line of the readings last written on. */
  line: number | undefined;
  /** How the readings check on themselves. */
  checks: TemplateResult | typeof nothing;
  write(field: string, text: string): void;
  choose(change: (book: Book) => void): void;
}

export interface PlacedFault extends Fault {
  /** True for a field that is still blank: wanted, not wrong. */
  wanted: boolean;
}

const METHOD_NAMES: Record<Method, string> = { total: "Two totals", string: "String", rod: "Rod", slope: "Slope", levels: "Levels" };

const METHOD_SAYS: Record<Method, string> = {
  total: "Only the height and the level distance from foot to head are known. What lies between is taken as one straight slope.",
  string: "A string was drawn level, and the ground taped down from it at each distance.",
  rod: "A level and a rod: the readings as they stand in a level book, rise and fall, one set-up after the other.",
  slope: "A tape was laid up the slope, piece by piece from the foot, with a clinometer held along it.",
  levels: "The levels are known already, from a drawing or somebody’s survey.",
};

/** The faults beside a field, and the attributes that tie them to it. */
export function faultsAt(view: BookView, field: string) {
  const faults = view.faults.get(field) ?? [];
  const wrong = faults.some((f) => !f.wanted);
  return {
    wrong,
    id: faults.length > 0 ? idOf(field) : nothing,
    says: faults.length === 0 ? nothing : html`<p class=${wrong ? "fault" : "fault wanted"} id=${idOf(field)}>${faults.map(sayFault)}</p>`,
  };
}

const idOf = (field: string) => `fault-${field.replace(/[^a-z0-9]+/gi, "-")}`;

export function sayFault(fault: PlacedFault): TemplateResult {
  const problem = fault.problem.replace(/\.$/, "");
  const upper = (s: string) => s.charAt(0).toUpperCase() + s.slice(1);
  return html`<span>${fault.got ? html`<q>${fault.got}</q> ${problem}.` : `${upper(problem)}.`}${fault.fix ? ` ${upper(fault.fix.replace(/\.$/, ""))}.` : nothing} </span>`;
}

function textField(view: BookView, field: string, label: string, example: string, note = ""): TemplateResult {
  const fault = faultsAt(view, field);
  const id = `in-${field.replace(/\W+/g, "-")}`;
  return html`<div class="line">
    <label for=${id}>${label}${note ? html`<small>${note}</small>` : nothing}</label>
    <input id=${id} data-field=${field} type="text" autocomplete="off" autocapitalize="off" spellcheck="false" enterkeyhint="next"
      .value=${live(view.book.text(field))} placeholder=${example} ?readonly=${view.readonly}
      aria-invalid=${fault.wrong ? "true" : "false"} aria-describedby=${fault.id}
      @input=${(e: InputEvent) => view.write(field, (e.target as HTMLInputElement).value)}>
    ${fault.says}
  </div>`;
}

function choiceField(view: BookView, field: string, label: string, choices: readonly { id: string; name: string; note?: string | undefined }[], unset: string): TemplateResult {
  const fault = faultsAt(view, field);
  const id = `in-${field.replace(/\W+/g, "-")}`;
  const now = view.book.text(field);
  const known = choices.some((c) => c.id === now);
  return html`<div class="line choice">
    <label for=${id}>${label}</label>
    <select id=${id} data-field=${field} ?disabled=${view.readonly} aria-invalid=${fault.wrong ? "true" : "false"} aria-describedby=${fault.id}
      @change=${(e: Event) => view.write(field, (e.target as HTMLSelectElement).value)}>
      ${now === "" ? html`<option value="" selected>${unset}</option>` : known ? nothing : html`<option value=${now} selected>${now}</option>`}
      ${choices.map((c) => html`<option value=${c.id} .selected=${live(c.id === now)}>${c.name}</option>`)}
    </select>
    ${choices.find((c) => c.id === now)?.note ? html`<p class="aside">${choices.find((c) => c.id === now)!.note}</p>` : nothing}
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

export function bookPage(view: BookView): TemplateResult {
  const { book, metric, readonly } = view;
  const method = book.method as Method;
  const ground = faultsAt(view, "ground");
  return html`
    <section aria-labelledby="h-method">
      <h2 id="h-method">How it was measured</h2>
      <fieldset class="methods">
        <legend class="unseen">How it was measured</legend>
        ${METHODS.map(
          (m) => html`<label>
            <input type="radio" name="method" value=${m} data-field=${m === method ? "ground.method" : nothing} .checked=${live(m === method)} ?disabled=${readonly}
              @change=${() => view.choose((b) => (b.method = m))}>
            <span><svg viewBox="0 0 66 50" aria-hidden="true">${glyphs[m]}</svg>${METHOD_NAMES[m]}</span>
          </label>`,
        )}
      </fieldset>
      ${METHOD_SAYS[method] ? html`<p class="aside">${METHOD_SAYS[method]}</p>` : nothing}
      ${faultsAt(view, "ground.method").says} ${ground.says}
    </section>
    <section aria-labelledby="h-readings">
      <h2 id="h-readings">${method === "total" ? "The two totals" : "Readings"}</h2>
      ${method === "string"
        ? switchField("from", "Distances from the", [{ value: "head", label: "head" }, { value: "foot", label: "foot" }], book.text("ground.from") || "foot", readonly, (v) => view.write("ground.from", v))
        : nothing}
      ${faultsAt(view, "ground.from").says}
      ${method === "slope"
        ? switchField("by", "Steepness written as", [{ value: "angle", label: "angle" }, { value: "grade", label: "grade" }], book.slopeBy, readonly, (v) => view.choose((b) => (b.slopeBy = v as "angle" | "grade")))
        : nothing}
      ${method === "total"
        ? html`${textField(view, "ground.rise", "Rise, foot to head", metric ? "1.8 m" : "6 ft")} ${textField(view, "ground.run", "Run, level, foot to head", metric ? "5.4 m" : "18 ft")}`
        : readingsTable(view)}
      ${textField(view, "ground.accuracy", "Each reading good to", metric ? "± 5 mm" : `± 1/4 in`, "left blank: what is usual for the method")}
      ${view.checks}
    </section>
    <section aria-labelledby="h-wish">
      <h2 id="h-wish">What is to be built</h2>
      ${textField(view, "path.width", "Width of the steps", metric ? "1.2 m" : "4 ft")}
      ${choiceField(view, "steps.rules", "Held against", (view.about?.rules ?? []).map((r) => ({ id: r.id, name: r.name, note: r.applies })), "the usual for gardens")}
      ${choiceField(view, "soil.class", "Dug in", view.about?.soils ?? [], "loam, unless said otherwise")}
      <details ?open=${ownLimits.some((f) => book.text(f) !== "" && view.faults.has(f))}>
        <summary>Limits of your own</summary>
        <p class="aside">These narrow the limits of the rule set; they never widen them.</p>
        ${textField(view, "steps.riser.min", "Risers at least", metric ? "110 mm" : "4 1/2 in")}
        ${textField(view, "steps.riser.max", "Risers at most", metric ? "170 mm" : "6 3/4 in")}
        ${textField(view, "steps.tread.min", "Treads at least", metric ? "350 mm" : "14 in")}
        ${textField(view, "steps.tread.max", "Treads at most", metric ? "900 mm" : "3 ft")}
        ${textField(view, "steps.landing.min", "Landings at least", metric ? "1 m" : "3 ft")}
        ${textField(view, "steps.landing.every", "A landing at least every", "12", "risers")}
        ${textField(view, "steps.wash", "Forward fall of a tread", metric ? "2 %" : "1/4 in per ft")}
        ${textField(view, "steps.max_cut", "Dig no deeper than", metric ? "1.2 m" : "4 ft")}
      </details>
      <details ?open=${theWork.some((f) => book.text(f) !== "" && view.faults.has(f))}>
        <summary>Who digs, and how far it is carried</summary>
        ${textField(view, "crew.people", "People", "2")} ${textField(view, "crew.hours_per_day", "Hours a day", "6")}
        ${textField(view, "crew.days_per_week", "Days a week", "2")}
        ${textField(view, "soil.haul", "Spoil is barrowed", metric ? "15 m" : "50 ft")} ${textField(view, "soil.carry", "Gravel and timber are carried", metric ? "15 m" : "50 ft")}
      </details>
    </section>
  `;
}

const ownLimits = ["steps.riser.min", "steps.riser.max", "steps.tread.min", "steps.tread.max", "steps.landing.min", "steps.landing.every", "steps.wash", "steps.max_cut"];
const theWork = ["crew.people", "crew.hours_per_day", "crew.days_per_week", "soil.haul", "soil.carry"];

/** Every field the left page shows for the book as it stands, by the names that faults use. */
export function shownFields(book: Book): Set<string> {
  const shown = new Set(["title", "units", "ground", "ground.method", "ground.accuracy", "path.width", "steps.rules", "soil.class", ...ownLimits, ...theWork]);
  if (book.method === "total") {
    shown.add("ground.rise").add("ground.run");
    return shown;
  }
  if (book.method === "string") shown.add("ground.from");
  shown.add("ground.readings");
  book.rows.forEach((_, line) => {
    shown.add(`ground.readings[${line}]`);
    for (const c of book.columns) shown.add(`ground.readings[${line}].${c.key}`);
  });
  return shown;
}

function readingsTable(view: BookView): TemplateResult {
  const { book, metric, readonly } = view;
  const columns = book.columns;
  const rows = readonly ? book.rows.slice(0, -1) : book.rows;
  const line = view.line !== undefined && view.line < rows.length ? view.line : undefined;
  return html`
    <table class="readings ${book.method}">
      <caption class="unseen">Readings. Enter goes to the next row. A table copied from a spreadsheet can be pasted in any cell.</caption>
      <thead><tr>
        <th scope="col"><span class="unseen">Row</span></th>
        ${columns.map((c) => html`<th scope="col"><abbr title=${c.about}>${c.name}</abbr></th>`)}
        ${readonly ? nothing : html`<td></td>`}
      </tr></thead>
      <tbody>${rows.map((_, i) => {
        const name = `ground.readings[${i}]`;
        const cells = columns.map((c) => ({ column: c, field: `${name}.${c.key}`, fault: faultsAt(view, `${name}.${c.key}`) }));
        const row = faultsAt(view, name);
        const says = [...cells.map((c) => c.fault.says), row.says].filter((s) => s !== nothing);
        const wrong = row.wrong || cells.some((c) => c.fault.wrong);
        return html`<tr class=${wrong ? "wrong" : ""}>
            <th scope="row"><span class="unseen">Row </span>${i + 1}</th>
            ${cells.map(
              ({ column, field, fault }) => html`<td data-head=${column.name}>
                <input data-field=${field} data-line=${i} data-key=${column.key} type="text" autocomplete="off" autocapitalize="off" spellcheck="false" enterkeyhint="next"
                  aria-label="${column.name}, row ${i + 1}" aria-invalid=${fault.wrong ? "true" : "false"} aria-describedby=${fault.id}
                  placeholder=${i === 0 && book.empty ? (metric ? column.metric : column.imperial) : nothing}
                  .value=${live(book.cell(i, column.key))} ?readonly=${readonly}
                  @input=${(e: InputEvent) => view.write(field, (e.target as HTMLInputElement).value)}>
              </td>`,
            )}
            ${readonly
              ? nothing
              : html`<td class="out">${i < rows.length - 1
                  ? html`<button type="button" aria-label="Take out row ${i + 1}" title="Take out row ${i + 1}" @click=${() => view.choose((b) => b.remove(i))}>${svg`<svg viewBox="0 0 12 12" aria-hidden="true"><path d="M2.500 2.500 L9.500 9.500 M9.500 2.500 L2.500 9.500"/></svg>`}</button>`
                  : nothing}</td>`}
          </tr>
          ${says.length > 0 ? html`<tr class="says"><td aria-hidden="true">${wrong ? "✗" : "…"}</td><td colspan=${columns.length + (readonly ? 0 : 1)}>${says}</td></tr>` : nothing}`;
      })}</tbody>
    </table>
    ${faultsAt(view, "ground.readings").says}
    ${readonly
      ? nothing
      : html`<div class="tools">
          <button type="button" class="plain" data-do="add">Add a row</button>
          <button type="button" class="plain" data-do="insert" ?disabled=${line === undefined}>${line === undefined ? "Insert a row" : `Insert above row ${line + 1}`}</button>
        </div>
        <p class="aside keys">Enter goes to the next row. Columns copied from a spreadsheet can be pasted in.</p>`}
  `;
}
