// The left page: how the hill was measured, the readings, what is to be built.
import { html, nothing, type TemplateResult } from "lit";
import { live } from "lit/directives/live.js";
import { METHODS, READINGS, type Book, type Method } from "./book.js";
import { glyphs } from "./glyphs.js";
import { w } from "./words.js";
import { cellFields, cellTable, choiceField, faultsAt, switchField, textField, type BookView, type Heading } from "./view-fields.js";
import { wishes, wishFields } from "./view-wish.js";

// The ± of one reading where the plan says none, in mm, by method: as package earthwork has it.
const USUAL: Readonly<Record<string, number>> = { total: 25, string: 5, rod: 3, slope: 10, levels: 5 };
const usually = (method: string, metric: boolean) => {
  const mm = USUAL[method] ?? USUAL["string"]!;
  return metric ? `± ${mm} mm` : `± ${(mm / 25.4).toFixed(1)} in`;
};

export function bookPage(view: BookView): TemplateResult {
  const { book, metric, readonly } = view;
  const method = book.method as Method;
  const ground = faultsAt(view, "ground");
  return html`
    <section aria-labelledby="h-method">
      <h2 id="h-method">${w.book.measured}</h2>
      <fieldset class="methods">
        <legend class="unseen">${w.book.measured}</legend>
        ${METHODS.map(
          (m) => html`<label>
            <input type="radio" name="method" value=${m} data-field=${m === method ? "ground.method" : nothing} .checked=${live(m === method)} ?disabled=${readonly}
              @change=${() => view.choose((b) => (b.method = m))}>
            <span><svg viewBox="0 0 66 50" aria-hidden="true">${glyphs[m]}</svg>${w.book.methods[m].name}</span>
          </label>`,
        )}
      </fieldset>
      ${METHODS.includes(method) ? html`<p class="aside">${w.book.methods[method].says}</p>` : nothing}
      ${faultsAt(view, "ground.method").says} ${ground.says}
    </section>
    <section aria-labelledby="h-readings">
      <h2 id="h-readings">${method === "total" ? w.book.totals : w.book.readings}</h2>
      ${method === "string"
        ? switchField("from", w.book.from, [{ value: "head", label: w.book.head }, { value: "foot", label: w.book.foot }], book.text("ground.from") || "foot", readonly, (v) => view.write("ground.from", v))
        : nothing}
      ${faultsAt(view, "ground.from").says}
      ${method === "slope"
        ? switchField("by", w.book.by, [{ value: "angle", label: w.book.angle }, { value: "grade", label: w.book.grade }], book.slopeBy, readonly, (v) => view.choose((b) => (b.slopeBy = v as "angle" | "grade")))
        : nothing}
      ${method === "total"
        ? html`${textField(view, "ground.rise", w.book.rise, metric ? "1.8 m" : "6 ft")} ${textField(view, "ground.run", w.book.run, metric ? "5.4 m" : "18 ft")}`
        : readingsTable(view)}
      ${textField(view, "ground.accuracy", w.book.accuracy, usually(method, metric), w.book.accuracyNote)}
      ${view.checks}
    </section>
    <section aria-labelledby="h-wish">
      <h2 id="h-wish">${w.book.toBuild}</h2>
      ${textField(view, "path.width", w.book.width, metric ? "1.25 m" : "4 ft")}
      ${choiceField(view, "steps.rules", w.book.rules, (view.about?.rules ?? []).map((r) => ({ id: r.id, name: r.name, note: r.applies })), w.book.rulesUnset)}
      ${choiceField(view, "soil.class", w.book.soil, view.about?.soils ?? [], w.book.soilUnset)}
      ${view.inFull ? wishes(view) : nothing}
    </section>
  `;
}

/** Every field the left page shows for the book as it stands, by the names that faults use. */
export function shownFields(book: Book): Set<string> {
  const shown = new Set(["title", "units", "sizes", "ground", "ground.method", "ground.accuracy", "path.width", "steps.rules", "soil.class", ...wishFields(book)]);
  if (book.method === "total") return shown.add("ground.rise").add("ground.run");
  if (book.method === "string") shown.add("ground.from");
  for (const field of cellFields(book, READINGS, book.columns)) shown.add(field);
  return shown;
}

/** The columns of the readings with what stands over them. */
export const headings = (book: Book): Heading[] => book.columns.map((c) => ({ ...c, ...w.columns[c.key === "at" && book.method === "rod" ? "atRod" : c.key] }));

function readingsTable(view: BookView): TemplateResult {
  const { book, readonly } = view;
  const last = book.rows().length - (readonly ? 1 : 0);
  const line = view.line !== undefined && view.line < last ? view.line : undefined;
  return html`
    ${cellTable(view, READINGS, w.book.readings, headings(book), book.method)} ${view.bare}
    ${readonly
      ? nothing
      : html`<div class="tools">
          <button type="button" class="plain" data-do="add">${w.book.add}</button>
          <button type="button" class="plain" data-do="insert" ?disabled=${line === undefined}>${line === undefined ? w.book.insert : w.book.insertAbove(line + 1)}</button>
        </div>
        <p class="aside keys">${w.book.keys}</p>`}
  `;
}
