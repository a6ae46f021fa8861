// The left page: how the hill was measured, the readings, what is to be built.
import { html, nothing, type TemplateResult } from "lit";
import { live } from "lit/directives/live.js";
import { METHODS, READINGS, type Book, type Method } from "./book.js";
import { glyphs } from "./glyphs.js";
import { cellFields, cellTable, choiceField, faultsAt, switchField, textField, type BookView } from "./view-fields.js";
import { wishes, wishFields } from "./view-wish.js";

const METHOD_NAMES: Record<Method, string> = { total: "Two totals", string: "String", rod: "Rod", slope: "Slope", levels: "Levels" };

const METHOD_SAYS: Record<Method, string> = {
  total: "Only the height and the level distance from foot to head are known. What lies between is taken as one straight slope.",
  string: "A string was drawn level, and the ground taped down from it at each distance.",
  rod: "A level and a rod: the readings as they stand in a level book, rise and fall, one set-up after the other.",
  slope: "A tape was laid up the slope, piece by piece from the foot, with a clinometer held along it.",
  levels: "The levels are known already, from a drawing or somebody’s survey.",
};

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
      ${wishes(view)}
    </section>
  `;
}

/** Every field the left page shows for the book as it stands, by the names that faults use. */
export function shownFields(book: Book): Set<string> {
  const shown = new Set(["title", "units", "ground", "ground.method", "ground.accuracy", "path.width", "steps.rules", "soil.class", ...wishFields(book)]);
  if (book.method === "total") return shown.add("ground.rise").add("ground.run");
  if (book.method === "string") shown.add("ground.from");
  for (const field of cellFields(book, READINGS, book.columns)) shown.add(field);
  return shown;
}

function readingsTable(view: BookView): TemplateResult {
  const { book, readonly } = view;
  const last = book.rows().length - (readonly ? 1 : 0);
  const line = view.line !== undefined && view.line < last ? view.line : undefined;
  return html`
    ${cellTable(view, READINGS, "Readings", book.columns, book.method)}
    ${readonly
      ? nothing
      : html`<div class="tools">
          <button type="button" class="plain" data-do="add">Add a row</button>
          <button type="button" class="plain" data-do="insert" ?disabled=${line === undefined}>${line === undefined ? "Insert a row" : `Insert above row ${line + 1}`}</button>
        </div>
        <p class="aside keys">Enter goes to the next row. Columns copied from a spreadsheet can be pasted in.</p>`}
  `;
}
