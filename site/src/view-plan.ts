// The right page: what follows from the readings. Everything written here was
// worded and measured by the calculator; this only sets it out.
import { html, nothing, type TemplateResult } from "lit";
import type { Result } from "./contract.js";
import { example } from "./marks.js";
import { inWords } from "./view-fields.js";
import { figure, w } from "./words.js";

type Any = Record<string, unknown>;
const list = (v: unknown): Any[] => (Array.isArray(v) ? v.filter((x): x is Any => typeof x === "object" && x !== null) : []);
const part = (v: unknown): Any => (typeof v === "object" && v !== null && !Array.isArray(v) ? (v as Any) : {});
const text = (v: unknown): string => (typeof v === "string" ? v : typeof v === "number" ? String(v) : "");
/** A code in words, where there are any for it. */
const worded = (words: Readonly<Record<string, string>>, code: string): string => (Object.hasOwn(words, code) ? words[code]! : code);
/** An amount of money. */
const amount = (v: unknown): string => example(text(v));
const tidy = (s: string) => s.charAt(0).toUpperCase() + s.slice(1);

/** A measure, an amount or a date in a text: its figures and units. */
const MEASURE = /(\d{4}-\d\d-\d\d|\d(?:\S*[^\s,;:])?(?: (?:\d\S*|ft|in|mm?|cu|sq|yd|kg|lb|gal|[lth%×]|[A-Z]{3})[²³]?(?![^\s.,;:)]))+)/;
/** A text of the calculator, each of its measures on one line, and fields by their names on the page. */
export const whole = (says: unknown) => inWords(text(says)).split(MEASURE).map((part, i) => (i % 2 ? html`<nobr>${part}</nobr>` : part));
const sentence = (s: string) => whole(/[.!?]$/.test(s) ? tidy(s) : `${tidy(s)}.`);

/** What an item is called. */
const named = (of: Any) => whole(tidy(text(of.name) || text(of.item)));

const sum = (all: readonly number[]) => all.reduce((a, b) => a + b);
/** Hours in tenths that add up to their whole: what rounding leaves over goes to the longest work, where it matters least. */
function tenths(hours: readonly number[], whole: number): string[] {
  const all = hours.map((h) => Math.round(10 * h));
  all[all.indexOf(Math.max(...all))]! += Math.round(10 * whole) - sum(all);
  return all.map((t) => figure(t / 10, 1));
}

interface Head {
  name: string;
  number?: boolean;
}

/** A plain table in a frame that scrolls sideways by itself where it must. */
function table(label: string, heads: readonly Head[], rows: readonly (readonly unknown[])[], foot: readonly (readonly unknown[])[] = [], look = ""): TemplateResult {
  const cell = (of: unknown, i: number) => {
    const c = heads[i]?.number || typeof of !== "string" ? of : whole(of);
    return i === 0 ? html`<th scope="row">${c}</th>` : html`<td class=${heads[i]?.number ? "n" : ""} data-head=${heads[i]?.name}>${c}</td>`;
  };
  return html`<div class="frame" role="region" aria-label=${w.tableOf(label)} tabindex="0">
    <table class=${look}>
      <thead><tr>${heads.map((h) => html`<th scope="col" class=${h.number ? "n" : ""}>${h.name}</th>`)}</tr></thead>
      <tbody>${rows.map((r) => html`<tr>${r.map(cell)}</tr>`)}</tbody>
      ${foot.length > 0 ? html`<tfoot>${foot.map((r) => html`<tr><th scope="row" colspan=${heads.length - r.length + 1}>${r[0]}</th>${r.slice(1).map((c) => html`<td class="n">${c}</td>`)}</tr>`)}</tfoot>` : nothing}
    </table>
  </div>`;
}

function section(id: string, title: string, body: unknown): TemplateResult {
  return html`<section id=${id} part=${id} aria-labelledby="h-${id}"><h2 id="h-${id}">${title}</h2>${body}</section>`;
}

/** The first sentence, the one most wanted, in large. */
export function headline(result: Result): TemplateResult {
  const says = result.answer[0]?.says ?? "";
  return html`<p class="first">${whole(lead(says))}<span>${whole(says.slice(lead(says).length))}</span></p>`;
}

/** The first sentence of some. */
export const lead = (says = "") => /^.*?\.(?= [^a-z])/.exec(says)?.[0] ?? says;

/** What is only seen while a point is moved: that what follows waits for it to be let go. */
export const ofBefore = () => html`<p class="of-before">${w.result.ofBefore}</p>`;

/** The rest of the answer. */
/** @param old from which on they are of what was before */
export function sentences(result: Result, old: number): TemplateResult {
  return html`<ul class="sentences">${result.answer.slice(1).map((s, i) => html`${i + 1 === old ? html`<li>${w.result.ofBefore}</li>` : nothing}<li data-key=${s.key} class=${i + 1 < old ? "" : "was"}>${whole(s.says)}</li>`)}</ul>`;
}

export function checks(result: Result): TemplateResult | typeof nothing {
  const list = result.ground.checks ?? [];
  const notes = result.ground.notes ?? [];
  if (list.length + notes.length === 0) return nothing;
  return html`<ul class="checks" aria-label=${w.result.checks}>
    ${list.map((c) => html`<li class=${c.ok ? "good" : "bad"}><span class="unseen">${c.ok ? w.result.holds : w.result.holdsNot}</span>${whole(c.says)}</li>`)}
    ${notes.map((n) => html`<li class="note">${whole(n)}</li>`)}
  </ul>`;
}

/** @param narrow whether the page is too narrow for five figures beside each other */
export function stakeout(result: Result, narrow: boolean): TemplateResult {
  const marks = result.stakeout ?? [];
  return section(
    "stakeout",
    w.result.stakeout,
    html`${ofBefore()}<p class="aside">${w.result.stakeoutAbout}</p>
      ${table(
        w.result.stakeout,
        [
          { name: w.result.riser, number: true },
          { name: w.result.fromFoot, number: true },
          { name: w.result.fromHead, number: true },
          { name: w.result.above, number: true },
          { name: w.result.below, number: true },
          { name: w.result.digTo, number: true },
        ],
        marks.map((m) => [m.riser, m.text.station, m.text.from_head, m.text.level, m.text.drop, m.text.dig_to]),
        [],
        marks.some((m) => Object.values(m.text).some((text) => text.length > (narrow ? 6 : 9))) ? "long" : "",
      )}`,
  );
}

const SEVERITY: Record<string, { id: "stop" | "warn" | "note"; mark: string; order: number }> = {
  stop: { id: "stop", mark: "✗", order: 0 },
  warn: { id: "warn", mark: "!", order: 1 },
  note: { id: "note", mark: "·", order: 2 },
};

export function findings(result: Result): TemplateResult {
  const all = result.findings ?? [];
  const found = all.filter((f) => f.severity !== "caution").map((f) => ({ f, s: SEVERITY[f.severity] ?? SEVERITY.note! }));
  found.sort((a, b) => a.s.order - b.s.order);
  const cautions = all.filter((f) => f.severity === "caution");
  return html`${section(
      "findings",
      w.result.findings,
      found.length === 0
        ? html`<p>${w.result.nothing}</p>`
        : html`<ul class="findings">${found.map(
            ({ f, s }) => html`<li class=${f.severity}>
              <b><span class="mark" aria-hidden="true">${s.mark}</span>${w.result.severity[s.id]}</b>
              <p>${sentence(f.says)}${f.where ? html` <span class="where">${tidy(f.where)}.</span>` : nothing}<small>${whole([f.source, f.clause].filter(Boolean).join(", "))}</small></p>
            </li>`,
          )}</ul>`,
    )}
    ${cautions.length === 0
      ? nothing
      : section("cautions", w.result.cautions, html`<ul class="cautions">${cautions.map((f) => html`<li>${sentence(f.says)}${f.source ? html`<small>${whole(f.source)}</small>` : nothing}</li>`)}</ul>`)}`;
}

export function earth(result: Result): TemplateResult {
  const dig = part(result.dig);
  const loads = list(dig.loads);
  const soil = part(dig.soil);
  return section(
    "earth",
    w.result.earth,
    html`${table(
        w.result.earth,
        [{ name: text(soil.name) ? tidy(text(soil.name)) : "" }, { name: w.result.volume, number: true }, { name: w.result.state }],
        list(dig.lines).map((l) => [l.name, whole(l.says), l.state]),
      )}
      ${loads.length === 0
        ? nothing
        : table(
            w.result.loads,
            [{ name: w.result.carrier }, { name: w.result.loads, number: true }, { name: w.result.fullBy }],
            loads.map((l) => [tidy(worded(w.result.carriers, text(l.carrier))), text(l.count), worded(w.result.binds, text(l.binds))]),
          )}`,
  );
}

/** Lines that were worded by the calculator, each a sentence. */
const lines = (v: unknown) => (Array.isArray(v) ? v : []).map(text).filter(Boolean);
const asides = (v: unknown) => lines(v).map((l) => html`<p class="aside">${sentence(l)}</p>`);

/** What is carried where, in the order of the path, and what becomes of it there. */
export function haul(result: Result): TemplateResult | typeof nothing {
  // A tenth of a litre or less would read as nothing carried.
  const told = (v: unknown) => list(v).filter((m) => !(Number(m.loose) < 0.0001)).map((m) => text(m.says)).filter(Boolean);
  const [moves, places] = [told(part(result.haul).moves), told(part(result.haul).places)];
  if (moves.length + places.length === 0) return nothing;
  return section("haul", w.haul, html`${moves.length === 0 ? nothing : html`<ol class="boards">${moves.map((m) => html`<li>${whole(m)}</li>`)}</ol>`}${places.map((p) => html`<p>${sentence(p)}</p>`)}`);
}

export function water(result: Result): TemplateResult | typeof nothing {
  const { says, source } = part(result.water);
  return lines(says).length === 0 ? nothing : section("water", w.water, html`${lines(says).map((l) => html`<p>${whole(l)}</p>`)}${text(source) ? html`<p class="aside">${sentence(text(source))}</p>` : nothing}`);
}

/** The order of the work, from the bottom up, by days where the plan says when it begins. */
export function order(result: Result): TemplateResult | typeof nothing {
  const steps = list(result.order).filter((o) => text(o.says));
  return steps.length === 0 ? nothing : section("order", w.result.order, html`<ol class="order">${steps.map((o) => html`<li value=${text(o.number) || nothing}>${whole(o.says)}</li>`)}</ol>`);
}

/** What to mind in making it. */
export function notes(result: Result): TemplateResult | typeof nothing {
  const all = list(result.notes).filter((n) => text(n.says));
  return all.length === 0 ? nothing : section("notes", w.result.notes, html`<ul class="minded">${all.map((n) => html`<li>${text(n.where) ? html`<b>${tidy(text(n.where))}:</b> ` : nothing}${sentence(text(n.says))}</li>`)}</ul>`);
}

export function time(result: Result): TemplateResult | typeof nothing {
  const work = list(part(result.hours).work);
  if (work.length === 0) return nothing;
  const all = part(result.hours);
  const columns = ["likely", "low", "high"];
  const heads = [{ name: w.result.personHours }, { name: w.result.likely, number: true }, { name: w.result.low, number: true }, { name: w.result.high, number: true }];
  return section(
    "time",
    w.result.time,
    html`${table(
      w.result.time,
      heads,
      work.map((k, i) => [tidy(text(k.name)), ...columns.map((c) => tenths(work.map((x) => Number(x[c])), Number(all[c]))[i])]),
      [[w.result.inAll, ...columns.map((c) => figure(Number(all[c]), 1))]],
    )}${asides(all.notes)}`,
  );
}

export function shopping(result: Result): TemplateResult {
  const takeoff = list(result.takeoff);
  const plan = part(result.cutplan);
  const boards = list(plan.boards);
  return html`
    ${section(
      "takeoff",
      w.result.takeoff,
      table(w.result.takeoff, [{ name: w.result.item }, { name: w.result.quantity }], takeoff.map((t, i) => [html`${named(t)}${t.note && t.note !== takeoff[i - 1]?.note ? html`<small>${whole(tidy(text(t.note)))}</small>` : nothing}`, t.says])),
    )}
    ${boards.length === 0
      ? nothing
      : section(
          "cutplan",
          w.result.cutplan,
          html`<ol class="boards">${boards.map((b) => html`<li>${whole(b.says)}</li>`)}</ol>
            <p class="aside">${plan.proven !== true ? w.result.notProven : { cost: w.result.provenCost, length: w.result.provenLength, both: w.result.provenBoth }[plan.by as "cost"]} ${lines(plan.notes).join(" ")}</p>
            ${list(plan.kept).length === 0 ? nothing : html`<p class="aside">${whole(w.result.kept(list(plan.kept).map((k) => text(k.says)).join("; ")))}</p>`}`,
        )}
    ${bill(result)}
  `;
}

/** Goods first, then what brings them, the mark-ups, the labour and the tax: each only where there is any. */
function bill(result: Result): TemplateResult {
  const bill = part(result.bill);
  const all = list(bill.lines);
  const unpriced = lines(bill.unpriced);
  if (all.length === 0) return section("bill", w.result.bill, html`<p>${w.result.noPrices}</p>`);
  const money = (v: unknown) => (v === undefined ? html`<span class="unseen">${w.result.noPrice}</span>–` : amount(v));
  const small = (l: Any) => [text(l.need) && w.result.needed(text(l.need)) + (/gravel|topping|stone/.test(text(l.item)) ? w.result.sold : ""), l.untaxed === true ? w.result.untaxed : "", text(l.note)].filter(Boolean).join("; ");
  const some = (v: unknown) => Number(text(v)) !== 0;
  const parts = ([["goods", "goods"], ["deliveries", "deliveries"], ["markups", "markups"], ["labour", "labour"]] as const).filter(([key]) => some(bill[key])).map(([key, name]) => [w.result[name], amount(bill[key])]);
  const taxed = some(bill.tax);
  const bare = unpriced.length === all.length; // what adds up to nothing is no total
  return section(
    "bill",
    w.result.bill,
    html`${table(
        w.result.bill,
        [{ name: w.result.item }, { name: w.result.buy }, { name: w.result.each, number: true }, { name: text(bill.currency) || w.result.cost, number: true }],
        all.map((l) => [html`${named(l)}<small>${whole(small(l))}</small>`, text(l.buy), money(l.price), money(l.cost)]),
        bare ? [] : [
          ...(parts.length > 1 ? parts : []),
          ...(taxed ? [[w.result.beforeTax, amount(bill.subtotal)], [text(bill.taxed) === text(bill.subtotal) ? w.result.tax : w.result.taxOn(amount(bill.taxed)), amount(bill.tax)]] : []),
          [unpriced.length > 0 ? w.result.totalPriced : w.result.total, amount(bill.total)],
        ],
      )}
      ${unpriced.length > 0 && !bare ? html`<p class="aside">${w.result.unpriced(unpriced.join(", "))}</p>` : nothing}
      ${asides(bill.notes)} ${some(bill.total) ? asides([bill.rounding]) : nothing}`,
  );
}

/** Another plan's bill beside this one's, line by line. */
export function comparison(of: Any, mark: string): TemplateResult {
  const cost = (buy: unknown, money: unknown) => (text(buy) === "" ? w.pins.nothing : html`${amount(money) || "–"}<small>${text(buy)}</small>`);
  const more = (v: unknown) => (text(v) === "" ? "–" : text(v).startsWith("-") ? `−${amount(v).slice(1)}` : Number(text(v)) === 0 ? amount(v) : `+${amount(v)}`);
  const open = list(of.lines).some((l) => !l.more);
  return html`<p>${mark} ${whole(of.says)}</p>
    ${table(
      w.pins.bills,
      [{ name: w.result.item }, { name: tidy(text(of.this)), number: true }, { name: `${mark} ${tidy(text(of.other))}`, number: true }, { name: w.pins.more(text(of.currency)), number: true }],
      list(of.lines).map((l) => [named(l), cost(l.buy, l.cost), cost(l.other_buy, l.other_cost), more(l.more)]),
      // Where nothing has a price on both, there is none.
      list(of.lines).some((l) => l.more)
        ? [
            [open ? w.result.totalPriced : w.result.total, amount(of.total), amount(of.other_total), open ? "" : more(of.more)],
            // What has a price on one of them is in its total, and in no difference.
            ...(open ? [[w.pins.both, more(of.more)]] : []),
          ]
        : [],
    )}`;
}
