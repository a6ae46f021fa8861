import { LitElement, html, noChange, nothing, type PropertyValues, type TemplateResult } from "lit";
import { guard } from "lit/directives/guard.js";
import { live } from "lit/directives/live.js";
import { Book, READINGS, cellOf, type Kept, type Lines } from "./book.js";
import type { About, Answer, Choice, Fault, Plan, PriceList, Result, Row, Sketch } from "./contract.js";
import { asItLies, grips, within, type Grip, type Written } from "./drag.js";
import { drawing } from "./drawing.js";
import { asSent, Engine, EngineError, Superseded, type Answered } from "./engine.js";
import { style } from "./style.js";
import { bookPage, shownFields } from "./view-book.js";
import { History, isBook } from "./history.js";
import { inDocument, shown as onPage } from "./marks.js";
import { fillFrame, picture, standalone } from "./paper.js";
import { rough } from "./rough.js";
import { carriesPlan, fromFragment, LinkError, toFragment } from "./share.js";
import { bounded, historyOf, readable, Store, type Entry } from "./store.js";
import { INCH } from "./tape.js";
import { answers, fromDevice, fromFile, planRequest, toKeep, type KeptAnswer, type Told } from "./told.js";
import { choices, type ChoicesView } from "./view-choices.js";
import { bareUnits, faultsAt, nameOf, sayFault, stray, switchField, unitless, type BookView, type PlacedFault } from "./view-fields.js";
import * as view from "./view-plan.js";
import { follow, frameOf, gripLayer, gripTools, wordsOf, type Box, type GripsView } from "./view-grips.js";
import { called, paper, type PaperView, type Wanted } from "./view-paper.js";
import { isPin, MOST, pins, type Pin } from "./view-pins.js";
import { priceList, type PricesView } from "./view-prices.js";
import { LONGEST_LIST, taken } from "./pricelist.js";
import { plansPanel, sharePanel } from "./view-plans.js";
import { choicesOf, columnsOf, groupOf, labelOf, where } from "./view-wish.js";
import { forget, format, languageOf, learn, speak, w, type Language, type Saying, type Words } from "./words.js";

/** Where the planner's files lie. */
const BASE = new URL(".", import.meta.url);
/** The format of the plans this page writes. */
const PLAN = "slopewright.plan/1";
/** How long after the last keystroke the calculator is asked, in ms. */
const PAUSE = 80;
/** How long a fault in the cell being written in is held back, in ms. */
const PATIENCE = 900;
/** How long an answer may take before the page says that it is at it, in ms. */
const SLOW = 700;
/** How long the steps may take to follow a finger, and a whole plan before it is taken that they do not. */
const [LIVE, WAIT] = [16, 1500];
/** How long the first drawing of the page waits for the plan it is to show, in ms. */
const AT_MOST = 1500;
/** How long the calculator waits for an answer that was made with the page, in ms. */
const ANSWER_LIMIT = 1500;
/** How long the layouts to choose between may take, in ms. */
const CHOICES_LIMIT = 180_000;
/** The largest file that is opened, in bytes. */
const FILE_LIMIT = 2_000_000;

/** The longest price list that is put where it can be written in, in characters. */
const LONGEST_SHOWN = 100_000;

/** Begins the name of a change made in the drawing. */
const MOVE = "move ";

/** The parts that a host can leave out. */
const SECTIONS = new Set("head book answer drawing choices pins stakeout findings cautions earth haul water time order takeoff notes cutplan bill paper".split(" "));

const isInline = (given: string) => /^\s*[{[]/.test(given);

/** What is being dragged: how far it is from where it was, and how far it is in the drawing that is shown. */
interface Held {
  grip: Grip;
  /** The book that it is moved from, and the one to go back to. */
  before: Kept;
  undo: Kept;
  along: number;
  up: number;
  /** Where it was when it was taken up, and where it is drawn. */
  from: Moved;
  drawn: Moved;
  moved: boolean;
  /** What was written for it, and last. */
  touched: Set<string>;
  written: Written;
}

/** A result, the plan and the change of it, and the language it is told in. */
interface Shown {
  result: Result;
  plan: Plan;
  change: number;
  lang: Language;
}

interface Moved {
  along: number;
  up: number;
}

const UNMOVED: Moved = { along: 0, up: 0 };

interface Compared {
  working?: boolean;
  trouble?: Saying;
  shown?: { of: Record<string, unknown>; change: number; book: Kept };
}

interface TakenList {
  open: boolean;
  text: string;
  working?: boolean;
  faults: readonly Fault[];
  trouble?: Saying;
  said?: Saying;
}

/** Once what was drawn is on the screen, and the page has nothing else to do or has had no time for long. A page that is not seen has no frames. */
const shown = () =>
  new Promise<void>((resolve) => {
    const rest = () => ("requestIdleCallback" in window ? requestIdleCallback(() => resolve(), { timeout: 1000 }) : setTimeout(resolve, 50));
    if (document.hidden) rest();
    else requestAnimationFrame(() => setTimeout(rest));
  });

/** Where faults are shown, how many there are, and whether all of them are of what is still blank. */
interface Placed {
  at: ReadonlyMap<string, readonly PlacedFault[]>;
  elsewhere: readonly PlacedFault[];
  n: number;
  wanting: boolean;
  /** The readings without a unit, where there are several. */
  bare: readonly string[];
}

let instances = 0;

/** Something that will not do, and why, in whatever language. */
class Refused extends Error {
  constructor(readonly says: Saying) {
    super();
  }
}

/** Why something could not be done. */
const whyNot = (w: Words, err: unknown) => (err instanceof Refused ? err.says(w) : err instanceof Error ? err.message : String(err));

/**
 * The planner: a field book and what follows from it.
 *
 * @element slopewright-planner
 *
 * @attr {string} plan - a plan document, or where to fetch one from
 * @attr {string} answer - where to fetch the answer to `plan` that was made with this build of the calculator
 * @attr {"imperial"|"metric"} units - how results are shown, in place of what the plan says; readings stay as written
 * @attr {string} rules - the rule set held against every plan that is opened here
 * @attr {string} currency - ISO 4217 code that prices are in, in place of the plan's
 * @attr {string} prices - { prices?, stock? } as in a plan document, or where to fetch it from: they take the place of the plan's
 * @attr {string} sections - the parts to show, by the names of their CSS parts, with spaces between; default all
 * @attr {string} quote - shows a button with these words (or the usual ones) that fires slopewright-quote
 * @attr {boolean} readonly - shows a plan without letting it be changed
 * @attr {string} keep - a name under which plans are kept on this device; what was open last goes before `plan`
 * @attr {boolean} share - plans can be shared by a link to this page, and one in the page's address is opened
 * @attr {string} lang - the language; else that of the nearest ancestor with one
 *
 * @prop {object} plan - the plan document as it stands; set it to open another
 * @prop {object|undefined} result - the last result document (read only)
 *
 * @fires slopewright-change - the person changed the plan; detail: { plan }
 * @fires slopewright-result - a plan was worked out; detail: { plan, result, ms }
 * @fires slopewright-error - it could not be; detail: { plan, faults } or { message }
 * @fires slopewright-quote - the person asks for a quote; detail: { plan, result }
 *
 * @csspart sheet - everything
 * @csspart head - title, units, files
 * @csspart book - the left page
 * @csspart answer - the right page
 * @csspart drawing - the section drawing
 * @csspart plans share - the panels below the head
 * @csspart choices pins stakeout findings cautions earth haul water time order takeoff notes cutplan bill paper - the tables and lists below it
 *
 * @cssprop --slopewright-paper --slopewright-sheet --slopewright-ink --slopewright-soft --slopewright-line
 *   --slopewright-firm --slopewright-pencil --slopewright-red --slopewright-tint --slopewright-grid --slopewright-earth
 * @cssprop --slopewright-prose --slopewright-figures - font families
 */
export class SlopewrightPlanner extends LitElement {
  static override styles = style;
  static override properties = {
    units: { type: String },
    readonly: { type: Boolean, reflect: true },
    keep: { type: String },
    share: { type: Boolean },
    lang: { type: String },
    rules: { type: String },
    currency: { type: String },
    prices: { type: String },
    sections: { type: String },
    quote: { type: String },
    plan: { type: String, noAccessor: true },
  };
  declare units: string | null;
  declare readonly: boolean;
  declare keep: string | null;
  declare share: boolean;
  declare lang: string;
  declare rules: string | null;
  declare currency: string | null;
  declare prices: string | null;
  declare sections: string | null;
  declare quote: string | null;

  #book = Book.blank("metric");
  #engine: Engine | undefined;
  /** The calculator that has been practised with: a browser makes code quick that has run some times. */
  #practised: Engine | undefined;
  #about: About | undefined;
  /** False while #about has only what the first plan names. */
  #aboutAll = false;
  #result: Result | undefined;
  /** The plan as far as the digging, while a point is moved. */
  #sketch: Sketch | undefined;
  /** More than 1: a point that is moved would wait for fits. */
  #long = 0;
  /** What the last fit took, in ms. */
  #fitted = 0;
  /** Its steps are those from before, laid on the ground as it is now. */
  #lying = false;
  #drawn: SVGSVGElement | null = null;
  #prefix = `sw${++instances}`;

  #faults: Fault[] = [];
  /** Those that may come of a slip in a reading that is pointed at. */
  #after: PlacedFault[] = [];
  #lines: Lines = {};
  #stale = false;
  /** What the result shown is of, and the last that somebody settled on: not one of half a word, or of a point on its way. */
  #of: Shown | undefined;
  #settled: Shown | undefined;
  /** The change that was settled on last. */
  #rested = 0;
  /** True while the result shown is of another document than the one in the book. */
  #foreign = false;
  /** Answers that were given before, of this device and of the page: shown while the calculator is still to come. */
  #known: (Told | undefined)[] = [];
  #knownFile: Promise<Told | undefined> | undefined;
  /** The last answer, to be kept on the device. */
  #keptAnswer: KeptAnswer | undefined;
  /** How wide the drawing that is shown was asked for. */
  #drawnWidth = 0;
  /** Until the first plan is open: the page is drawn with it, not before and after. */
  #readying: Promise<void> | undefined;
  /** True once the answer itself was painted: the rest of the page is drawn after it. */
  #inFull = false;
  /** True where faults stood on the page when it was drawn last. */
  #faulted = false;
  #running: Promise<void> | undefined;
  #isRunning = (): void => undefined;
  /** True while an answer takes its time. */
  #slow = false;
  #slowly: ReturnType<typeof setTimeout> | undefined;
  /** Counts the books that were opened. */
  #books = 0;
  /** Counts the changes: an answer to an earlier one is shown, but as what it is. */
  #change = 0;
  #trouble: Saying | undefined;
  /** Something to know that stays until it is put away. */
  #notice: Saying | undefined;
  /** True until the first plan is open. */
  #opening = true;
  /** True once a plan was opened, whoever gave it. */
  #given = false;
  /** True once the element has stood on a page. */
  #begun = false;
  #shownOnce = false;
  #loaded = 0;
  #said = "";

  /** Works out the layouts to choose between, beside the live answers; only while it is needed. */
  #chooser: Engine | undefined;
  #choices: { key: string; all: readonly Choice[] } | undefined;
  #choicesTrouble: Saying | undefined;
  #picked: number | undefined;

  /** What can be moved in the drawing that is shown, and the one that is. */
  #grips: readonly Grip[] = [];
  #grip: string | undefined;
  #held: Held | undefined;
  /** Draws what is held where its steps are late. */
  #trailing: ReturnType<typeof setTimeout> | undefined;
  #gripping: boolean | undefined;
  /** On which side of its point each stands. */
  #ways = new Map<string, number>();
  /** The last move whose result is still to come: what follows it starts where it did. */
  #nudged: Held | undefined;

  /** Plans kept in view beside this one, and the books they are of. */
  #pins: (Pin & { book: Kept })[] = [];
  /** The bill of one of them beside the plan's. */
  #compared: Compared = {};
  /** A price list that is being taken in. */
  #list: TakenList = { open: false, text: "", faults: [] };
  /** Makes sheets, drawings and tables; booted when it is first asked. */
  #clerk: Engine | undefined;
  /** How much of it has come. */
  #clerkHere = 1;
  #paper: { working?: Wanted; trouble?: Saying; shown?: { wanted: Wanted; text: string; drawn?: SVGSVGElement | null; change: number } } = {};
  #size = "";

  #pause: ReturnType<typeof setTimeout> | undefined;
  #announce: ReturnType<typeof setTimeout> | undefined;
  #holding: ReturnType<typeof setTimeout> | undefined;
  /** The groups of wishes that were opened: the others are not drawn. */
  #opened = new Set<number>();
  #wide = new Set<string>();
  /** The field being written in, whose faults wait until the writer pauses. */
  #writing = "";
  /** The field that has the focus. */
  #focused = "";
  #line: number | undefined;
  /** The column a run of tabs began in: Enter goes back to it, as in a spreadsheet. */
  #home = "";
  #history = new History();
  #store: Store | undefined;
  /** Where the book is kept: the same object while it is the same plan. */
  #place: { entry: Entry | undefined } = { entry: undefined };
  /** What is still to be written in the store, and the writing of it. */
  #unsaved: { place: { entry: Entry | undefined }; kept: Kept } | undefined;
  #saving: Promise<void> | undefined;
  #remembering: ReturnType<typeof setTimeout> | undefined;
  #answering: ReturnType<typeof setTimeout> | undefined;
  #entries: readonly Entry[] = [];
  #panel: "" | "plans" | "share" = "";
  #link: { url?: string; trouble?: Saying; copied?: boolean } = {};
  /** True once a person wrote something. */
  #touched = false;
  #wanted: string | undefined;
  #width = 0;
  #watch: ResizeObserver | undefined;
  /** Sees whether what is looked for first is in view: where it is not, a bar says it. */
  #looking: IntersectionObserver | undefined;
  #looked: HTMLElement | null = null;

  constructor() {
    super();
    this.units = null;
    this.readonly = false;
    this.keep = null;
    this.share = false;
    this.lang = "";
    this.rules = this.currency = this.prices = this.sections = this.quote = null;
  }

  /** The language asked for: the element's own, that of the nearest element around it, or the browser's. */
  get #language(): string {
    if (this.lang) return this.lang;
    for (let at: Element | null = this; at; ) {
      const found = at.closest<HTMLElement>("[lang]:not([lang=''])");
      if (found) return found.lang || found.getAttribute("lang")!;
      const root = at.getRootNode();
      at = root instanceof ShadowRoot ? root.host : null;
    }
    return navigator.language || "en";
  }

  /** The same, as dates are written in it; plain where it is none that is spoken here. */
  get #locale(): string {
    try {
      if (new Intl.Locale(this.#language).language === this.#w.lang) return this.#language;
    } catch {
      // no tag of any language
    }
    return this.#w.lang;
  }

  /** The language that the calculator was last asked in. */
  #asked: Language | undefined;

  /** The language may have changed: then all is said again in the new one. */
  #listen = (): void => {
    this.requestUpdate();
    if (this.#asked === undefined || this.#asked === languageOf(this.#language)) return;
    forget(this.#language);
    this.#sayAgain();
  };

  /** Sees when an element around this one is given another language. */
  #around = new MutationObserver(this.#listen);

  /** Back on the network: words that could not be had may be had now. */
  #online = (): void => {
    if (!forget(this.#language)) return;
    this.#engine?.stop(); // the next one looks for its words again
    this.#sayAgain();
  };

  /** Has the calculator say again what it said in other words. */
  #sayAgain(): void {
    clearTimeout(this.#announce);
    this.#said = "";
    this.#about = undefined;
    this.#aboutAll = false;
    this.#choices = undefined;
    this.#stopChoosing();
    this.#stopPaper();
    this.#paper = {};
    this.#list = { ...this.#list, faults: [] };
    void this.#solve();
  }

  /** The first drawing, and the one after a change of language, wait for the words. */
  protected override scheduleUpdate(): void | Promise<unknown> {
    const learning = learn(this.#language, BASE);
    const readying = this.hasUpdated ? undefined : this.#readying;
    const pressing = this.#pressing;
    return learning || readying || pressing ? Promise.all([learning, readying, pressing]).then(() => super.scheduleUpdate()) : super.scheduleUpdate();
  }

  /** While something is pressed the page stays as it is: what a field that is left has to say would push it away from under the finger. */
  #pressing: Promise<void> | undefined;

  #press(e: PointerEvent): void {
    if (!(e.target as Element).closest("button,summary,label")) return;
    this.#pressing = new Promise((resolve) => {
      const ends = ["pointerup", "pointercancel"];
      const up = () => {
        for (const end of ends) removeEventListener(end, up);
        this.#pressing = undefined;
        setTimeout(resolve); // once the click is done
      };
      for (const end of ends) addEventListener(end, up);
    });
  }

  /** Takes this one's language into use, and its mark before decimals with it. */
  #speak(): Words {
    return speak(this.#language);
  }

  get #w(): Words {
    return this.#speak();
  }

  // ---- What a host page sees -------------------------------------------------

  /** The plan document as it stands. */
  get plan(): Plan {
    return this.#book.document().plan;
  }

  /** Opens a plan: a document, its text, or where to fetch it from. */
  set plan(plan: Plan | string) {
    if (typeof plan === "string") void this.#fetch(plan);
    else this.#open(plan);
  }

  /** The last result document; undefined before there is one. */
  get result(): Result | undefined {
    return this.#result;
  }

  /** Resolves once the calculator runs: until then only an answer that was given before may be shown. */
  ready(): Promise<void> {
    return (this.#running ??= new Promise((resolve) => {
      this.#isRunning = resolve;
      if (this.#loaded === 1) resolve();
    }));
  }

  /** Resolves when all that was written is kept on the device. */
  async kept(): Promise<void> {
    await this.#saving;
    await this.#putAside();
  }

  override attributeChangedCallback(name: string, old: string | null, value: string | null): void {
    if (name !== "plan") super.attributeChangedCallback(name, old, value);
    else if (value !== null && this.#begun) void this.#fetch(value);
  }

  override connectedCallback(): void {
    super.connectedCallback();
    this.#engine = new Engine(BASE);
    this.#engine.onprogress = (part) => {
      this.#loaded = part;
      const bar = this.renderRoot.querySelector<HTMLProgressElement>(".loading progress");
      if (bar && part < 1) bar.value = part; // the page is not drawn anew for it
      else this.requestUpdate();
      if (part === 1) this.#isRunning();
    };
    if (this.#begun) void this.#solve();
    else {
      this.#begun = true;
      this.#readying = Promise.race([this.#first(), new Promise<void>((resolve) => setTimeout(resolve, AT_MOST))]);
    }
    addEventListener("hashchange", this.#addressed);
    addEventListener("online", this.#online);
    this.#around.observe(document.documentElement, { attributes: true, attributeFilter: ["lang"], subtree: true });
    addEventListener("pagehide", this.#putAside);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.#watch?.disconnect();
    this.#looking?.disconnect();
    this.#watch = this.#looking = undefined;
    this.#looked = null;
    this.#engine?.stop();
    this.#engine = undefined;
    this.#stopChoosing();
    this.#stopPaper();
    removeEventListener("hashchange", this.#addressed);
    removeEventListener("online", this.#online);
    this.#around.disconnect();
    removeEventListener("pagehide", this.#putAside);
    void this.#putAside();
    for (const timer of [this.#pause, this.#announce, this.#holding, this.#slowly]) clearTimeout(timer);
  }

  // ---- Opening and keeping ---------------------------------------------------

  async #first(): Promise<void> {
    const engine = this.#engine;
    const [plan, answer] = [this.getAttribute("plan"), this.getAttribute("answer")];
    // Asked for at once, in case nothing was written here before.
    const unwanted = new AbortController();
    const coming = plan === null ? undefined : this.#read(plan, unwanted.signal);
    coming?.catch(() => undefined); // told where it is waited for
    this.#knownFile = answer === null ? undefined : fromFile(new URL(answer, document.baseURI), unwanted.signal);
    // On its way while the page is drawn and the plan is read, unless the answer may be here already.
    if ((!this.keep && answer === null) || (this.share && carriesPlan(location.hash))) engine?.warm();
    this.#book = Book.blank(this.units ?? (navigator.language === "en-US" ? "imperial" : "metric"));
    this.#housed();
    // A database takes its time to open: where nothing was kept nobody waits for it.
    const waits = answer === null || (this.keep !== null && Store.holds(this.keep));
    const kept = this.#openStore();
    const last = waits ? await kept : undefined;
    if (last) unwanted.abort();
    if (engine !== this.#engine || this.#touched || this.#wanted !== undefined || this.#given) return; // written in, or given a plan, meanwhile
    if (this.share && carriesPlan(location.hash) && (await this.#openLink())) return;
    if (last && last.out === undefined) {
      if (this.#restore(last)) return;
      this.#notice = (w) => w.trouble.keptUnread;
    }
    if (plan !== null) await this.#fetch(plan, unwanted.signal.aborted ? this.#read(plan) : coming);
    else {
      this.#opening = false;
      void this.#solve();
    }
    const place = this.#place;
    if (!waits)
      void kept.then((late) => {
        if (late && late.out === undefined && place === this.#place && !this.#touched && engine === this.#engine) this.#restore(late);
      });
  }

  /** Opens what is kept on the device, where something is to be: the plan that was written in last. */
  async #openStore(): Promise<Entry | undefined> {
    if (!this.keep) return undefined;
    try {
      const store = (this.#store = await Store.open(this.keep));
      const [last, answer] = await Promise.all([store.lastPlan(), store.recall("answer")]);
      this.#known.push(fromDevice(answer));
      this.#beside = this.#recallPins(store);
      if (this.#touched) this.#keep(); // what was written before it was open
      return last;
    } catch {
      this.#notice = this.readonly ? undefined : (w) => w.trouble.notKept;
      this.requestUpdate();
      return undefined;
    }
  }

  /** The plans beside, read from the device: until they are, none are written. */
  #beside: Promise<void> | undefined;

  async #recallPins(store: Store): Promise<void> {
    try {
      await this.updateComplete;
      await shown();
      const pins: unknown = await store.recall("pins");
      if (!Array.isArray(pins)) return;
      const found = pins.filter((p): p is Pin & { book: Kept } => isPin(p) && isBook((p as { book?: unknown }).book)).map((p) => ({ ...p, lang: languageOf(String(p.lang)) }));
      this.#pins = [...found, ...this.#pins].slice(0, MOST);
      this.requestUpdate();
      await store.tidy();
      if (this.#result) void this.#sayPins();
    } catch {
      // without them
    }
  }

  /** What could be taken back in a plan when it was left. */
  async #recall(place: { entry: Entry | undefined }): Promise<void> {
    if (!this.#inFull) {
      await this.updateComplete; // first things first
      await shown();
    }
    const kept = place.entry && (await this.#store?.recall(historyOf(place.entry.id)).catch(() => undefined));
    if (place !== this.#place) return; // another was opened meanwhile
    this.#history.recall(kept);
    this.requestUpdate();
  }

  /** Opens a kept plan; false where it cannot be read. */
  #restore(entry: Entry): boolean {
    if (!isBook(entry.kept)) return false;
    this.#turn(Book.restore(entry.kept), { entry });
    this.#touched = true;
    void this.#recall(this.#place);
    void this.#solve();
    return true;
  }

  /** Puts another book in the place of the one that is open. */
  #turn(book: Book, place: { entry: Entry | undefined } = { entry: undefined }): void {
    void this.#putAside();
    this.#book = book;
    this.#books++;
    this.#place = place;
    this.#touched = false;
    this.#foreign = this.#stale = true; // what is shown is of another book, and nothing of it can be moved in this one
    this.#held = undefined;
    this.#settled = undefined;
    this.#given = true;
    this.#wanted = undefined; // what is still being fetched comes too late
    this.#change++;
    this.#trouble = undefined;
    this.#line = undefined;
    this.#opening = false;
    this.#nudged = undefined;
    this.#ways.clear();
    this.#housed();
    this.#history.clear();
  }

  /** The page's address changed: it may carry another plan. */
  #addressed = (): void => {
    if (this.share && carriesPlan(location.hash)) void this.#openLink();
  };

  async #openLink(): Promise<boolean> {
    try {
      const plan = await fromFragment(location.hash);
      if (this.#open(plan)) return true;
      const said = this.#trouble;
      this.#trouble = undefined; // told where it can be put away
      this.#tell(said ?? ((w) => w.trouble.noPlan));
      this.#forgetLink();
      return false;
    } catch (err) {
      const fault = err instanceof LinkError ? err.fault : "broken";
      this.#tell((w) => (fault === "long" ? w.share.tooLong : w.share.fault[fault]));
      this.#forgetLink();
      return false;
    }
  }

  /** The address no longer says what is on the page. */
  #forgetLink(): void {
    if (this.share && carriesPlan(location.hash)) history.replaceState(history.state, "", location.pathname + location.search);
  }

  /** What an attribute holds or names. */
  async #read(given: string, signal?: AbortSignal): Promise<unknown> {
    let text = given;
    if (!isInline(given)) {
      const response = await fetch(new URL(given, document.baseURI), signal ? { signal } : {});
      if (!response.ok) throw new Refused((w) => w.trouble.answered(response.status));
      text = await response.text();
    }
    if (text.length > FILE_LIMIT) throw new Refused((w) => w.trouble.large);
    return JSON.parse(text) as unknown;
  }

  /** The host's own prices and timber. */
  #house: { prices?: unknown; stock?: unknown } = {};

  #pricing: Promise<void> | undefined;

  async #fetchPrices(): Promise<void> {
    const given = this.prices;
    this.#house = {};
    if (!given) return;
    try {
      const found = (await this.#read(given)) as { prices?: unknown; stock?: unknown } | null;
      if (this.prices !== given) return; // others were given meanwhile
      const part = (name: "prices" | "stock") => (found && Object.hasOwn(found, name) ? { [name]: found[name] } : {});
      if (typeof found !== "object" || found === null || (!Object.hasOwn(found, "prices") && !Object.hasOwn(found, "stock"))) throw new Refused((w) => w.trouble.noPrices);
      this.#house = { ...part("prices"), ...part("stock") };
      this.#housed();
      void this.#solve();
    } catch (err) {
      this.#tell((w) => w.trouble.pricesNotOpened(isInline(given) ? "" : given, whyNot(w, err)));
    }
  }

  /** Puts what the host says in the plan. */
  #housed(): void {
    const book = this.#book;
    if (this.units === "imperial" || this.units === "metric") book.show(this.units);
    if (this.rules) book.write("steps.rules", this.rules);
    for (const part of ["prices", "stock"] as const) if (this.#house[part] !== undefined) book.put(part, this.#house[part]);
    if (this.currency) book.write("prices.currency", this.currency);
    this.#change++;
  }

  /** @param first the plan on its way, which is shown only where nobody has written anything by then */
  async #fetch(plan: string, first?: Promise<unknown>): Promise<void> {
    this.#wanted = plan;
    try {
      const found = await (first ?? this.#read(plan));
      await this.#pricing; // worked out once, at the host's prices
      if (first) await this.#knowFile(found);
      if (this.#wanted !== plan || (first && this.#touched)) return; // another was asked for meanwhile
      this.#open(found);
    } catch (err) {
      if (this.#wanted !== plan) return;
      if (this.#engine) void this.#askAbout(this.#engine, languageOf(this.#language)).catch(() => undefined); // it can still be written in
      this.#fail((w) => (isInline(plan) ? w.trouble.inlineNotJson : w.trouble.notOpened(plan, whyNot(w, err))));
    }
  }

  /** Waits for the answer that was made with the page, where it is not on the device: not for long. */
  async #knowFile(plan: unknown): Promise<void> {
    if (!this.#knownFile) return;
    const lang = languageOf(this.#language);
    try {
      const book = new Book(plan as Plan);
      if (this.#known.some((told) => answers(told, book.document().plan, 0, this.#prefix, lang))) return;
    } catch {
      return; // it is no plan
    }
    this.#known.push(await Promise.race([this.#knownFile, new Promise<undefined>((resolve) => setTimeout(resolve, ANSWER_LIMIT))]));
  }

  #open(plan: unknown): boolean {
    const { format } = (plan ?? {}) as { format?: unknown };
    if (typeof format !== "string" || !format.startsWith("slopewright.plan/")) {
      this.#fail((w) => w.trouble.noPlan);
      return false;
    }
    if (!bounded(plan)) {
      this.#fail((w) => w.trouble.tooMuch);
      return false;
    }
    let book: Book;
    try {
      book = new Book(plan as Plan);
    } catch {
      this.#fail((w) => w.trouble.noPlan); // a host gave what is no document
      return false;
    }
    this.#turn(book);
    void this.#solve();
    return true;
  }

  /** Keeps the book as it stands, at once; what is written meanwhile follows. */
  #keep(): void {
    if (!this.#store || this.readonly) return;
    const [place, kept] = [this.#place, this.#book.keep()];
    this.#unsaved = { place, kept };
    if (this.#saving) this.#store.hold(place.entry, kept);
    this.#saving ??= this.#writeOut(this.#store);
  }

  async #writeOut(store: Store): Promise<void> {
    try {
      while (this.#unsaved) {
        const { place, kept } = this.#unsaved;
        this.#unsaved = undefined;
        const was = place.entry;
        store.hold(was, kept);
        place.entry = await store.put(was, kept);
        if (was && place.entry.id !== was.id) this.#tell((w) => w.plans.elsewhere);
      }
      store.release();
    } catch {
      this.#tell((w) => w.trouble.notKept);
    }
    this.#saving = undefined;
    if (this.#panel === "plans") void this.#listPlans();
  }

  /** Between visits are also kept what can be taken back, and the plans beside: not at every stroke, as it may be much. */
  #remember(): void {
    if (this.#store && !this.readonly) this.#remembering ??= setTimeout(this.#putAside, 1000);
  }

  #putAside = async (): Promise<void> => {
    const answer = this.#putAnswer();
    await this.#putRest();
    await answer;
  };

  /** Keeps the last answer for the next visit. */
  async #putAnswer(): Promise<void> {
    if (this.#answering === undefined || !this.#store) return;
    clearTimeout(this.#answering);
    this.#answering = undefined;
    await this.#store.remember("answer", this.#keptAnswer).catch(() => undefined); // without it the next visit waits for the calculator
  }

  async #putRest(): Promise<void> {
    if (this.#remembering === undefined || !this.#store) return;
    clearTimeout(this.#remembering);
    this.#remembering = undefined;
    const [place, history] = [this.#place, this.#history.keep()];
    await this.#beside;
    const pins = this.#pins;
    if (!place.entry) await this.#saving; // a plan that is kept for the first time
    try {
      await this.#store.remember("pins", pins);
      if (place.entry) await this.#store.remember(historyOf(place.entry.id), history);
    } catch {
      // The plan itself is kept, or it is said that it is not.
    }
  }

  async #listPlans(): Promise<void> {
    try {
      this.#entries = (await this.#store?.list()) ?? [];
    } catch {
      this.#notice = (w) => w.trouble.notKept;
    }
    this.requestUpdate();
  }

  async #show(panel: "plans" | "share"): Promise<void> {
    this.#panel = this.#panel === panel ? "" : panel;
    if (this.#panel === "plans") await this.#listPlans();
    if (this.#panel === "share") void this.#makeLink();
    this.requestUpdate();
    await this.updateComplete;
    this.renderRoot.querySelector<HTMLElement>(this.#panel ? `#h-${panel}` : `[data-panel=${panel}]`)?.focus();
  }

  async #turnTo(entry: Entry): Promise<void> {
    await this.#saving;
    const now = (await this.#store?.get(entry.id)) ?? entry;
    if (!this.#restore(now)) return;
    this.#forgetLink();
    await this.#store?.turnTo(now.id).catch(() => undefined);
    this.#emit("slopewright-change", { plan: this.plan });
    await this.#listPlans();
  }

  async #takeOut(entry: Entry, out: boolean): Promise<void> {
    await this.#saving;
    try {
      await this.#store?.takeOut(entry.id, out);
    } catch {
      this.#notice = (w) => w.trouble.notKept;
    }
    await this.#listPlans();
    if (out && entry.id === this.#place.entry?.id) {
      const next = this.#entries.find((e) => e.out === undefined && readable(e.kept));
      if (next) await this.#turnTo(next);
      else this.#blank();
    }
    this.#refocus("#h-plans");
  }

  #blank(): void {
    this.#forgetLink();
    // In what the switch above it shows: it stays as the person sees it.
    this.#turn(Book.blank(this.#book.text("units") === "imperial" ? "imperial" : "metric"));
    this.#emit("slopewright-change", { plan: this.plan });
    void this.#solve();
  }

  #copyPlan(): void {
    const book = Book.restore(this.#book.keep());
    book.write("title", this.#w.plans.copyOf(this.#book.text("title")));
    this.#turn(book);
    this.#changed();
  }

  async #makeLink(): Promise<void> {
    this.#link = {};
    try {
      this.#link = { url: new URL(await toFragment(this.plan), location.href).href };
    } catch (err) {
      this.#link = { trouble: (w) => w.share.fault[err instanceof LinkError ? err.fault : "broken"] };
    }
    this.requestUpdate();
  }

  async #copyLink(): Promise<void> {
    const input = this.renderRoot.querySelector<HTMLInputElement>("#link");
    try {
      await navigator.clipboard.writeText(this.#link.url ?? "");
    } catch {
      input?.focus(); // it is selected, to be copied by hand
      return;
    }
    this.#link = { ...this.#link, copied: true };
    this.#say((w) => w.share.copied);
    this.requestUpdate();
  }

  async #openFile(input: HTMLInputElement): Promise<void> {
    const file = input.files?.[0];
    input.value = "";
    if (!file) return;
    if (file.size > FILE_LIMIT) {
      this.#fail((w) => w.trouble.tooLarge(file.name));
      return;
    }
    let plan: unknown;
    try {
      plan = JSON.parse(await file.text());
    } catch {
      this.#fail((w) => w.trouble.notJson(file.name));
      return;
    }
    if (!this.#open(plan)) return;
    this.#touched = true;
    this.#panel = "";
    this.#forgetLink();
    this.#keep();
    this.#emit("slopewright-change", { plan: this.plan });
  }

  #saveFile(): void {
    const { plan } = this.#book.document();
    download(`${fileName(plan.title)}.slopewright.json`, "application/json", `${JSON.stringify(plan, null, 2)}\n`);
  }

  // ---- Undo and redo ---------------------------------------------------------

  /** Before each change: so that it can be taken back. */
  #note(what: string): void {
    if (!what.startsWith(MOVE)) {
      this.#nudged = undefined;
      this.renderRoot.querySelector(".first")?.removeAttribute("style");
    }
    this.#history.note(what, this.#settle);
  }

  /** Something else begins: what there is was settled on, although its answer may still come. */
  #settle = (): Kept => {
    this.#rested = this.#change;
    this.#rest();
    return this.#book.keep();
  };

  #rest(): void {
    if (this.#of && this.#of.change <= this.#rested) this.#settled = this.#of;
  }

  #timeTravel(way: "undo" | "redo", go: boolean): void {
    if (this.readonly) return;
    const step = this.#history[way](this.#settle);
    if (!step) return;
    this.#book = Book.restore(step.book);
    this.#writing = "";
    this.#changed();
    this.#say((w) => (way === "undo" ? w.history.undone : w.history.redone));
    this.#nudged = undefined;
    if (go && step.what !== "" && !step.what.startsWith(MOVE)) void this.#goTo(step.what);
  }

  #hotkey(e: KeyboardEvent): void {
    if (e.key === "Escape" && this.#panel && (e.target as HTMLElement).closest(".panel")) {
      e.preventDefault();
      void this.#show(this.#panel);
      return;
    }
    if (!(e.ctrlKey || e.metaKey) || e.altKey) return;
    const key = e.key.toLowerCase();
    const way = key === "z" ? (e.shiftKey ? "redo" : "undo") : key === "y" && !e.shiftKey ? "redo" : undefined;
    if (!way || this.readonly) return;
    e.preventDefault(); // the browser's own would take back strokes the book no longer knows
    this.#timeTravel(way, true);
  }

  // ---- Changing and solving --------------------------------------------------

  /** The person changed something: keep it, say so, work it out. */
  #changed(): void {
    if (!this.#touched) this.#forgetLink();
    this.#touched = true;
    if (!this.units && !this.#result) this.#book.adopt();
    this.#keep();
    this.#remember();
    this.#change++;
    this.#stale = true;
    this.requestUpdate();
    clearTimeout(this.#pause);
    this.#pause = setTimeout(() => {
      this.#emit("slopewright-change", { plan: this.plan });
      this.#solve();
    }, PAUSE);
  }

  #write(field: string, text: string): void {
    this.#note(field);
    this.#speak();
    this.#book.enter(field, inDocument(field, text));
    this.#writing = field;
    clearTimeout(this.#holding);
    this.#holding = setTimeout(() => {
      this.#writing = "";
      this.requestUpdate();
    }, PATIENCE);
    this.#changed();
  }

  /** Takes out what no plan has, and says what it was. */
  #takeOutStrays(strays: readonly Fault[]): void {
    this.#choose((b) => {
      const out = strays.map(({ field }) => `${field} ${JSON.stringify(b.takeOut(field, this.#lines))}`).join(", ");
      this.#notice = (w) => `${out}: ${w.plans.takenOut}`;
    });
    void this.#refocus("#h-method");
  }

  #choose(change: (book: Book) => void, what = ""): void {
    this.#note(what);
    change(this.#book);
    this.#changed();
  }

  async #solve(resting = false): Promise<void> {
    const engine = this.#engine;
    if (!engine) return;
    const held = this.#held;
    if (!held) this.requestUpdate();
    const [book, books] = [this.#book, this.#books];
    const { plan, lines } = book.document();
    const change = this.#change;
    const lang = (this.#asked = languageOf(this.#language));
    try {
      if (this.#book.empty && plan.format === PLAN) {
        if (this.#result) {
          this.#said = ""; // of what was here before
          this.#say((w) => w.invite.first);
        }
        this.#result = undefined;
        this.#drawn = null;
        this.#faults = [];
        this.#stale = false;
        if (!this.#opening) await this.#askAbout(engine, lang); // the plan that is on its way goes first
        return;
      }
      const told = held ? undefined : this.#known.find((k) => answers(k, plan, this.#width, this.#prefix, lang));
      if (told) {
        this.#about ??= told.about;
        this.#aboutAll ||= told.all;
        this.#drawnWidth = told.width;
        this.#take(told.result, plan, lines, 0, change, lang, book);
        void this.#atLeisure(engine, lang);
        return;
      }
      if (this.#width === 0) {
        // Before the first frame nobody has told how wide the drawing is to be.
        await this.updateComplete;
        this.#width = Math.max(0, innerWidthOf(this.renderRoot.querySelector(".plan")!) - 2); // less the frame
        if (change !== this.#change || engine !== this.#engine) return;
      }
      clearTimeout(this.#slowly);
      this.#slowly = setTimeout(() => {
        this.#slow = true;
        this.requestUpdate();
      }, SLOW);
      const lying = held && !resting && this.#lies();
      const request = lying || this.#request(held ? "sketch" : "plan", plan);
      const moving = this.#held ?? this.#nudged;
      const drawn = moving && { along: moving.along, up: moving.up };
      const answered = await engine.ask(request, lang);
      if (!lying) this.#took(answered, held ? LIVE : WAIT);
      // A finger that has rested as long as they take sees them.
      else setTimeout(() => held === this.#held && change === this.#change && void this.#solve(true), this.#fitted + 200);
      this.#quick();
      // Another book was opened meanwhile, all was cleared, or the drag was given up: this is not of it.
      if (books !== this.#books || (change !== this.#change && this.#book.empty) || (held && held !== (this.#held ?? this.#nudged))) return;
      this.#known = []; // from here on it is asked
      this.#drawnWidth = this.#width;
      const answer = answered.document as Answer;
      this.#lying = !!lying && answer.format === "slopewright.sketch/1";
      // Only then its drawing is another.
      if (moving && (held || change === this.#change) && answer.format !== "slopewright.error/1") moving.drawn = drawn!;
      this.#take(answer, plan, lines, answered.ms, change, lang, book);
      if (!held) {
        this.#stale ||= change !== this.#change;
        this.#keepAnswer(request, answered);
      }
      await this.#sayBefore(engine, lang);
      await this.#askAbout(engine, lang); // nobody waits for it
    } catch (err) {
      if (err instanceof Superseded) return;
      this.#quick();
      this.#fail(err instanceof EngineError ? err.says : (w) => w.trouble.notWorkedOut(String(err)));
    }
  }

  /** What the page shows from before something was wrong is told in the language that is spoken now. */
  async #sayBefore(engine: Engine, lang: Language): Promise<void> {
    if (this.#faults.length === 0 || !this.#result || !this.#of || this.#of.lang === lang) return;
    const { plan, change } = this.#of;
    const result = (await engine.ask(this.#request("plan", plan), lang, true)).document as Answer;
    if (result.format !== "slopewright.result/1") return;
    this.#showResult({ result, plan, change, lang });
    this.requestUpdate();
  }

  /** The answer was here before the calculator, which is fetched and started once that is painted. */
  async #atLeisure(engine: Engine, lang: Language): Promise<void> {
    await this.updateComplete;
    await shown();
    if (engine !== this.#engine || engine.ready) return;
    try {
      await this.#askAbout(engine, lang, true); // asked even if it is known: whether it runs is seen by what it answers
    } catch (err) {
      if (err instanceof EngineError) this.#fail(err.says);
      return;
    }
    // Drawn as wide as it is shown.
    if (this.#result && !this.#stale && this.#drawnWidth !== this.#width && this.#width > 0) void this.#solve();
  }

  /** Keeps an answer on the device, for the next visit. */
  #keepAnswer(request: object, { document, bytes, lang }: Answered): void {
    if (!this.#store || this.readonly || (document as Answer).format !== "slopewright.result/1") return;
    this.#keptAnswer = toKeep(asSent(request, lang), bytes, this.#aboutAll ? this.#about : undefined);
    this.#answering ??= setTimeout(() => this.#putAnswer(), 1000);
  }

  /** A request for the steps there are as they lie, where a fit would have the finger wait. */
  #lies(): object | undefined {
    const lying = this.#long > 1 && this.#book.rows("steps.fixed").length < 2 && asItLies(this.#sketch ?? this.#result);
    if (!lying) return undefined;
    const laid = Book.restore(this.#book.keep());
    laid.lay(lying);
    return { ...this.#request("sketch", laid.document().plan), stretch: true };
  }

  /** Learns whether fits take too long to follow a finger. */
  #took({ ms }: Answered, most: number): void {
    this.#fitted = ms;
    this.#long = ms > most ? this.#long + (ms > 400 ? 2 : 1) : 0;
  }

  /** Somebody turns to the drawing, and may move what is in it: the calculator gets practice while nobody waits for it. */
  #practise = async (): Promise<void> => {
    const engine = this.#engine;
    if (!engine?.idle || !this.#aboutAll || engine === this.#practised || engine.onPage || this.#held || this.readonly || !this.#result) return;
    this.#practised = engine;
    const lang = languageOf(this.#language);
    try {
      for (let n = 0; n < 30 && engine.idle && !this.#held; n++) {
        const lying = this.#lies();
        const answered = await engine.ask(lying ?? this.#request("sketch"), lang, true);
        if (!lying) this.#took(answered, LIVE);
      }
    } catch {
      // Whoever asks in earnest is told.
    }
  };

  #request(op: string, plan = this.#book.document().plan): object {
    const width = Math.min(Math.max(this.#width || 800, 300), 2000);
    return planRequest(op, plan, width, this.#prefix);
  }

  /** What plans can name, by the names it has for people. */
  async #askAbout(engine: Engine, lang: Language, again = false): Promise<void> {
    if (this.#aboutAll && !again) return;
    const about = (await engine.ask({ format: "slopewright.request/1", op: "about" }, lang, true)).document as About;
    if (about.format !== "slopewright.about/1") throw new EngineError((w) => w.trouble.versions);
    if (lang === this.#asked) {
      this.#about = about;
      this.#aboutAll = true;
      if (this.#keptAnswer && !this.#keptAnswer.about) {
        this.#keptAnswer = { ...this.#keptAnswer, about };
        this.#answering ??= setTimeout(() => this.#putAnswer(), 1000);
      }
    }
    this.requestUpdate();
  }

  #quick(): void {
    clearTimeout(this.#slowly);
    this.#slow = false;
  }

  #take(answer: Answer, plan: Plan, lines: Lines, ms: number, change: number, lang: Language, book: Book): void {
    this.#lines = lines;
    this.#trouble = undefined;
    if (answer.format === "slopewright.sketch/1") {
      this.#say(answer.answer[0]?.says ?? ""); // once what is held rests
      this.#faults = [];
      if (this.#held) this.#stale = false;
      this.#sketch = answer;
      this.#drawn = drawing(answer.drawings?.section ?? "", this.#drawn);
      this.#grips = grips(book, answer);
      this.requestUpdate();
      return;
    }
    const sketch = this.#sketch;
    this.#sketch = undefined;
    if (answer.format === "slopewright.result/1") {
      this.#showResult({ result: answer, plan, change, lang });
      this.#foreign = false;
      this.#faults = [];
      this.#stale = false;
      if (change === this.#change && !this.#held) this.#nudged = undefined;
      if (change === this.#change) this.#grips = this.#inFull ? grips(this.#book, answer) : [];
      else if (!this.#nudged && !this.#held) this.#grips = []; // of a book that has changed since
      this.#say(answer.answer[0]?.says ?? "");
      this.#emit("slopewright-result", { plan, result: answer, ms });
    } else {
      this.#faults = answer.faults;
      this.#stale = true;
      if (this.#foreign) this.#result = undefined;
      // Not of half a word, or of a point on its way.
      else if (this.#result && (sketch || this.#of !== (this.#settled ??= this.#of))) this.#showResult(this.#settled!);
      const moved = this.#held ?? this.#nudged;
      if (moved && this.#result) {
        // Drawn as it was before, and what was moved from there, where it lies now.
        moved.drawn = UNMOVED;
        this.#grips = grips(Book.restore(moved.before), this.#result);
      }
      const { wanting } = this.#placed("");
      this.#say((w) => `${w.held.peek(answer.faults.length, wanting)}.`);
      this.#emit("slopewright-error", { plan, faults: answer.faults });
    }
    this.requestUpdate();
  }

  #showResult(shown: Shown): void {
    const { result } = shown;
    this.#result = result;
    this.#of = shown;
    this.#rest();
    this.#drawn = drawing(result.drawings?.section ?? "", this.#drawn);
    void this.#sayPins();
  }

  #fail(says: Saying): void {
    this.#trouble = says;
    this.#say(says);
    this.#emit("slopewright-error", { message: says(this.#w) });
    this.requestUpdate();
  }

  /** Shows something that stays until it is put away. */
  #tell(says: Saying): void {
    this.#notice = says;
    this.#say(says);
    this.#emit("slopewright-error", { message: says(this.#w) });
    this.requestUpdate();
  }

  /** Tells those who hear the page, once they have stopped writing. */
  #say(says: Saying | string): void {
    clearTimeout(this.#announce);
    const lang = languageOf(this.#language);
    this.#announce = setTimeout(async () => {
      await learn(this.#language, BASE);
      // What the calculator said comes anew in another language.
      if (typeof says !== "string") this.#said = says(this.#w);
      else if (lang === languageOf(this.#language)) this.#said = says;
      this.requestUpdate();
    }, 700);
  }

  #emit(name: string, detail: object): void {
    this.dispatchEvent(new CustomEvent(name, { detail, bubbles: true, composed: true }));
  }

  // ---- Moving points of the drawing ------------------------------------------

  #gripsView(): GripsView {
    const imperial = this.#book.text("units") === "imperial";
    const drawn = this.#drawn;
    let words: readonly Box[] | undefined;
    return {
      words: () => (words ??= drawn ? wordsOf(drawn) : []),
      ways: this.#ways,
      // Not what is seen first.
      frame: !this.#inFull || this.readonly || (this.#stale && !this.#held && !this.#nudged) ? undefined : frameOf(this.#drawn),
      unit: this.#width > 0 ? this.#drawnWidth / this.#width : 1,
      grips: this.#grips,
      current: this.#grip,
      held: this.#held?.grip.id,
      lying: this.#lying,
      // A finger that scrolls should not move the hill by chance.
      on: (this.#gripping ??= matchMedia("(pointer: fine)").matches),
      toggle: () => {
        this.#gripping = !this.#gripping;
        this.requestUpdate();
      },
      grab: (grip) => {
        this.#grip = grip.id;
        this.#held = this.#taken(grip);
        // While it is held a headline that grows shorter does not take the drawing with it.
        const first = this.renderRoot.querySelector<HTMLElement>(".first")!;
        first.style.minHeight = `${first.offsetHeight}px`;
        this.requestUpdate();
      },
      drag: (along, up) => {
        const held = this.#held;
        if (!held) return;
        held.along = within(held.grip, held.from.along + along);
        held.up = held.from.up + up;
        this.#dragged(held);
        // Browsers send one move a frame. Steps that are there by the next are drawn with what is under the finger; else that goes first.
        clearTimeout(this.#trailing);
        this.#trailing = setTimeout(() => this.#held === held && this.#follow(held), 12);
      },
      drop: (keep) => {
        const held = this.#held;
        if (!held) return;
        this.#held = undefined;
        this.#lying = false;
        setTimeout(this.#practise, 1000); // for the next
        if (!held.moved) return this.requestUpdate();
        if (keep) {
          // Moved and back again is nothing to take back.
          if (!same(held.undo, this.#book.keep())) this.#history.note("", () => held.undo);
          this.#nudged = held;
        } else {
          Object.assign(held, held.from);
          this.#book = Book.restore(held.undo);
        }
        this.#changed();
      },
      nudge: (grip, along, up) => {
        this.#note(MOVE + grip.id);
        this.#grip = grip.id;
        const now = (this.#nudged = this.#taken(grip));
        now.along = within(now.grip, now.along + along);
        now.up += up;
        this.#book = Book.restore(now.before);
        this.#moveBy(now, now.along, now.up);
        this.#changed();
        this.#refocusGrip(grip.id);
      },
      turnTo: (id) => {
        this.#grip = id;
        this.#refocusGrip(id);
      },
      length: (metres) => lengthText(metres, imperial),
    };
  }

  /** A grip that is taken up; what was moved and is not worked out yet, or cannot be, goes on from where it is. */
  #taken(grip: Grip): Held {
    const undo = this.#settle();
    const on = this.#nudged?.grip.id === grip.id ? this.#nudged : { grip, before: undo, ...UNMOVED, drawn: UNMOVED, written: {} };
    return Object.assign(on, { undo, from: { along: on.along, up: on.up }, moved: false, touched: new Set<string>() });
  }

  /** Moves what is held, and the ground that hangs on it, to where the finger is from where it is drawn. */
  #follow({ grip, along, up, drawn, touched }: Held): void {
    for (const field of touched) {
      const input = this.renderRoot.querySelector<HTMLInputElement>(`.book [data-field="${field}"]`);
      if (input) input.value = onPage(field, this.#book.textOf(field));
    }
    const frame = frameOf(this.#drawn);
    const now = this.#grips.find((g) => g.id === grip.id);
    const ground = (this.#sketch ?? this.#result)?.ground as unknown as { points: { station: number; level: number }[] } | undefined;
    if (frame && now && ground) follow(this.renderRoot, { frame, grip: now, points: ground.points, along: along - drawn.along, up: up - drawn.up });
  }

  async #refocusGrip(id: string): Promise<void> {
    this.requestUpdate();
    await this.updateComplete;
    this.renderRoot.querySelector<SVGElement>(`[data-grip="${id}"]`)?.focus({ preventScroll: true });
  }

  /** Each look is from where the drag began: rounding does not add up. */
  #dragged(held: Held): void {
    this.#book = Book.restore(held.before);
    // A move that is hardly one is none: the other way is meant.
    const least = held.grip.step / 2;
    const [x, y] = [Math.abs(held.along) < least ? 0 : held.along, Math.abs(held.up) < least ? 0 : held.up];
    if (x !== 0 || y !== 0) held.moved = true;
    const { fields = [] } = this.#moveBy(held, x, y);
    // The left page rests while a point of the ground is dragged.
    for (const [field] of fields) held.touched.add(field);
    this.#change++;
    void this.#solve();
  }

  #moveBy(held: Held, along: number, up: number): Written {
    const there = held.grip.move(along, up);
    const { fields = [], fixed } = (held.written = there.stays ? held.written : there);
    for (const [field, text] of fields) this.#book.enter(field, text);
    if (fixed) this.#book.lay(fixed);
    return held.written;
  }

  // ---- Choosing --------------------------------------------------------------

  /** What the choices follow from: the plan without its own layout and its words. */
  #choiceKey(plan: Plan): string {
    const { title: _, notes: __, ...rest } = plan;
    const { fixed: ___, fixed_foot: ____, fixed_head: _____, ...steps } = rest.steps ?? {};
    return JSON.stringify({ ...rest, steps });
  }

  async #askChoices(): Promise<void> {
    const { plan } = this.#book.document();
    const key = this.#choiceKey(plan);
    for (const own of ["fixed", "fixed_foot", "fixed_head"]) delete plan.steps?.[own];
    this.#stopChoosing();
    this.#choicesTrouble = undefined;
    const chooser = (this.#chooser = new Engine(BASE, CHOICES_LIMIT, true));
    this.requestUpdate();
    void this.#refocus("#h-choices");
    try {
      const answer = (await chooser.ask({ format: "slopewright.request/1", plan, choices: true }, languageOf(this.#language))).document as Answer;
      if (answer.format !== "slopewright.result/1") throw new EngineError((w) => w.choices.putRight);
      this.#choices = { key, all: answer.choices ?? [] };
      this.#picked = undefined;
      const { length } = this.#choices.all;
      this.#say((w) => w.choices.found(length));
    } catch (err) {
      if (err instanceof Superseded) return;
      this.#choicesTrouble = err instanceof EngineError ? err.says : (w) => w.choices.trouble(String(err));
      this.#say(this.#choicesTrouble);
    }
    if (this.#chooser === chooser) this.#stopChoosing();
  }

  /** Ends the second calculator, and what it is at. */
  #stopChoosing(): void {
    this.#chooser?.stop();
    this.#chooser = undefined;
    this.requestUpdate();
  }

  #choicesView(): ChoicesView {
    const { plan } = this.#book.document();
    const all = this.#choices?.all;
    const fixed = plan.steps?.fixed;
    const stale = this.#choices !== undefined && this.#choices.key !== this.#choiceKey(plan);
    const taken = stale ? -1 : (all ?? []).findIndex((c) => (fixed === undefined ? !this.#stale && same(c.flights, this.#result?.layout?.flights) : same([c.steps, c.foot, c.head], [fixed, plan.steps?.fixed_foot, plan.steps?.fixed_head])));
    return {
      working: this.#chooser !== undefined,
      trouble: this.#choicesTrouble?.(w) ?? "",
      all,
      stale,
      taken,
      picked: this.#picked,
      imperial: plan.units === "imperial",
      readonly: this.readonly,
      width: this.#width,
      ask: () => void this.#askChoices(),
      stop: () => this.#stopChoosing(),
      pick: (i) => {
        this.#picked = this.#picked === i ? undefined : i;
        this.requestUpdate();
        if (this.#picked !== undefined) this.renderRoot.querySelector(`[data-choice="${i}"]`)?.scrollIntoView({ block: "nearest" });
      },
      take: (i) => {
        this.#choose((b) => b.lay(all?.[i]));
        this.#refocus(`[data-choice="${i}"]`);
      },
    };
  }

  /** The button that was pressed goes: the focus stays where it was. */
  async #refocus(where: string): Promise<void> {
    await this.updateComplete;
    const at = this.renderRoot.querySelector<HTMLElement>(where);
    at?.setAttribute("tabindex", "-1");
    at?.focus({ preventScroll: true });
  }

  // ---- What if ---------------------------------------------------------------

  /** Has the plans beside this one said again, where that was in another language. */
  async #sayPins(): Promise<void> {
    const [engine, lang] = [this.#engine, this.#asked];
    for (const pin of this.#pins) {
      if (!engine || !lang || (pin.lang ?? "en") === lang) continue;
      try {
        const answer = (await engine.ask({ format: "slopewright.request/1", op: "plan", plan: Book.restore(pin.book).document().plan }, lang, true)).document as Answer;
        if (answer.format === "slopewright.result/1") this.#pins = this.#pins.map((p) => (p === pin ? { ...p, answer: answer.answer, lang } : p));
      } catch {
        return; // overtaken: after the next answer
      }
      this.requestUpdate();
    }
  }

  #pinsView() {
    const { shown } = this.#compared;
    return {
      pins: this.#pins,
      unlike: (i: number) => unlike(Book.restore(this.#pins[i]!.book), this.#book, this.#about),
      readonly: this.readonly,
      stale: this.#stale,
      pin: () => {
        const result = this.#result;
        if (!result || this.#stale || this.#pins.length >= MOST) return;
        this.#remember();
        this.#pins = [...this.#pins, { title: result.title ?? "", answer: result.answer, book: this.#book.keep(), lang: this.#asked ?? "en" }];
        this.#say((w) => w.pins.pinned);
        void this.#refocus("#h-pins");
        this.requestUpdate();
      },
      goBack: (i: number) => {
        const pin = this.#pins[i];
        if (!pin) return;
        this.#note("");
        this.#book = Book.restore(pin.book);
        this.#changed();
      },
      unpin: (i: number) => {
        this.#remember();
        if (this.#compared.shown?.book === this.#pins[i]?.book) this.#compared = {};
        this.#pins = this.#pins.filter((_, j) => j !== i);
        void this.#refocus("#h-pins");
        this.requestUpdate();
      },
      compare: (i: number) => void this.#compare(i),
      comparing: this.#compared.working ? this.#clerkHere : undefined,
      stop: () => this.#stopPaper(),
      trouble: this.#compared.trouble?.(w) ?? "",
      compared: shown && { of: shown.of, n: this.#pins.findIndex((p) => p.book === shown.book), stale: shown.change !== this.#change },
    };
  }

  async #compare(i: number): Promise<void> {
    const pin = this.#pins[i];
    if (!pin) return;
    const change = this.#change;
    const mine: Compared = (this.#compared = { working: true });
    const done = (compared: Compared) => {
      if (this.#compared === mine) this.#compared = compared;
      if (compared.trouble) this.#say(compared.trouble);
      this.requestUpdate();
    };
    try {
      const answer = await this.#askClerk({ plan: this.#book.document().plan, compare: Book.restore(pin.book).document().plan });
      if (answer.format === "slopewright.result/1" && answer.comparison) {
        this.#say(String(answer.comparison.says ?? ""));
        return done({ shown: { of: answer.comparison, change, book: pin.book } });
      }
      done({ trouble: (w) => (answer.format === "slopewright.error/1" ? w.pins.notCompared(answer.faults.map((f) => `${where(f.field)}: ${f.problem}`).join("; ")) : w.paper.putRight) });
    } catch (err) {
      done(err instanceof Superseded ? {} : { trouble: err instanceof EngineError ? err.says : (w) => w.pins.notCompared(String(err)) });
    }
  }

  // ---- Price lists -----------------------------------------------------------

  #listView(): PricesView {
    const { open, text, working, faults, trouble, said } = this.#list;
    const put = (more: Partial<TakenList>) => {
      this.#list = { ...this.#list, ...more };
      this.requestUpdate();
    };
    return {
      open,
      text,
      working: working ? this.#clerkHere : undefined,
      faults,
      trouble: trouble?.(w) ?? "",
      said: said?.(w) ?? "",
      file: (input) => {
        const file = input.files?.[0];
        input.value = "";
        if (file && file.size > LONGEST_LIST) put({ faults: [], trouble: (w) => w.pricelist.tooLarge });
        else if (file) void file.text().then((text) => this.#takeList(text));
      },
      toggle: () => {
        put({ open: !open });
        if (!open) void this.updateComplete.then(() => this.renderRoot.querySelector<HTMLElement>(".pricelist textarea")?.focus());
      },
      write: (text) => put({ text }),
      take: () => text.trim() !== "" && void this.#takeList(text),
      stop: () => this.#stopPaper(),
    };
  }

  /** Takes what goods or timber cost into the plan; where something is wrong nothing is taken, and the list stays to be put right. */
  async #takeList(text: string): Promise<void> {
    this.#list = { open: this.#list.open, text, faults: [], working: true };
    this.requestUpdate();
    const refuse = (more: { faults?: readonly Fault[]; trouble?: Saying }) => {
      if (this.#list.working) this.#list = { faults: [], ...more, ...(text.length < LONGEST_SHOWN ? { open: true, text } : { open: false, text: "" }) };
      const { trouble, faults } = this.#list;
      this.#say(trouble ?? ((w) => w.pricelist.nothingTaken(faults.length)));
      this.requestUpdate();
    };
    const take = (items: readonly Row[], timber: readonly Row[]) => {
      if (items.length + timber.length === 0) return refuse({ trouble: (w) => w.pricelist.empty });
      const into = (list: "prices.items" | "stock", rows: readonly Row[], same: readonly string[]) => taken(this.#book.rows(list).filter((row) => Object.keys(row).length > 0), rows, same);
      const goods = into("prices.items", items, ["item"]);
      const lengths = into("stock", timber, ["section", "length"]);
      this.#choose((b) => {
        if (items.length > 0) b.setRows("prices.items", goods.rows);
        if (timber.length > 0) b.setRows("stock", lengths.rows);
      });
      const says: Saying = (w) => [items.length > 0 ? w.pricelist.taken(items.length, goods.replaced) : "", timber.length > 0 ? w.pricelist.timber(timber.length, lengths.replaced) : ""].join(" ").trim();
      if (this.#list.open) void this.updateComplete.then(() => this.renderRoot.querySelector<HTMLElement>("[data-do=paste-list]")?.focus()); // what was pressed goes
      this.#list = { open: false, text: "", faults: [], said: says };
      this.#say(says);
    };
    if (text.length > LONGEST_LIST) return refuse({ trouble: (w) => w.pricelist.tooLarge });
    try {
      const answer = await this.#askClerk({ op: "prices", price_list: text });
      if (this.#list.working !== true) return; // stopped
      if (answer.format === "slopewright.prices/1") return take(answer.items, answer.stock ?? []);
      refuse({ faults: answer.format === "slopewright.error/1" ? answer.faults.map((f) => ({ ...f, field: f.field.replace(/^price_list\.?/, "") })) : [] });
    } catch (err) {
      refuse({ trouble: err instanceof EngineError ? err.says : (w) => w.pricelist.notRead(err instanceof Superseded ? w.paper.stop : String(err)) });
    }
  }

  // ---- Paper and files -------------------------------------------------------

  /** Asks the whole calculator for what a person waits for; the latest request wins. */
  async #askClerk(request: object): Promise<Answer | PriceList> {
    if (!this.#clerk) {
      this.#clerk = new Engine(BASE, CHOICES_LIMIT, true);
      this.#clerkHere = 0;
      this.#clerk.onprogress = (part) => {
        this.#clerkHere = part;
        this.requestUpdate();
      };
      this.requestUpdate();
    }
    try {
      return (await this.#clerk.ask({ format: "slopewright.request/1", ...request }, languageOf(this.#language))).document as Answer | PriceList;
    } catch (err) {
      if (!(err instanceof Superseded)) this.#clerk = undefined;
      throw err;
    }
  }

  #stopPaper(): void {
    this.#clerk?.stop();
    this.#clerk = undefined;
    this.#clerkHere = 1;
    this.#paper = { ...this.#paper };
    this.#compared = {};
    delete this.#list.working;
    delete this.#paper.working;
    this.requestUpdate();
  }

  async #makePaper(wanted: Wanted): Promise<void> {
    const change = this.#change;
    const { plan } = this.#book.document();
    this.#paper = { ...this.#paper, working: wanted };
    delete this.#paper.trouble;
    this.requestUpdate();
    const done = (shown: { text: string; drawn?: SVGSVGElement | null } | undefined, trouble?: Saying) => {
      this.#paper = { ...(trouble ? { trouble } : {}), ...(shown ? { shown: { wanted, change, ...shown } } : this.#paper.shown ? { shown: this.#paper.shown } : {}) };
      if (trouble) this.#say(trouble);
      this.requestUpdate();
    };
    const asked =
      wanted.what === "sheet"
        ? { sheets: [{ kind: wanted.name, paper: this.#paperSize(plan) }] }
        : wanted.what === "table"
          ? { tables: [wanted.name] }
          : { drawings: [{ name: wanted.name, width: Math.min(Math.max(this.#width || 800, 300), 1100), prefix: `${this.#prefix}p` }] };
    try {
      const answer = await this.#askClerk({ plan, ...asked });
      if (answer.format !== "slopewright.result/1") return done(undefined, (w) => (answer.format === "slopewright.error/1" && this.#faults.length === 0 ? `${w.paper.notMade} ${answer.faults.map((f) => `${where(f.field)}: ${f.problem}`).join("; ")}.` : w.paper.putRight));
      const text = (wanted.what === "sheet" ? answer.sheets : wanted.what === "table" ? answer.tables : answer.drawings)?.[wanted.name] ?? "";
      if (text === "") return done(undefined, (w) => w.paper.none);
      if (wanted.what === "table") {
        const name = `${fileName(plan.title, called(wanted))}.csv`;
        download(name, "text/csv", `\uFEFF${text}`); // the mark tells spreadsheets that it is UTF-8
        this.#say((w) => w.paper.saved(name));
        return done(undefined);
      }
      done(wanted.what === "drawing" ? { text, drawn: drawing(text) } : { text });
      // On a phone it lies below all that can be asked for.
      await this.updateComplete;
      this.renderRoot.querySelector("div.taken")?.scrollIntoView({ block: "nearest" });
    } catch (err) {
      if (err instanceof Superseded) {
        if (this.#paper.working === wanted) delete this.#paper.working; // for something else of the same calculator
        return this.requestUpdate();
      }
      done(undefined, err instanceof EngineError ? err.says : (w) => `${w.paper.notMade} ${String(err)}`);
    }
  }

  #paperSize(plan: Plan): string {
    return this.#size || (plan.units === "imperial" ? "letter" : "a4");
  }

  #paperView(): PaperView {
    const { working, trouble, shown } = this.#paper;
    const { plan } = this.#book.document();
    return {
      working,
      progress: this.#clerkHere,
      trouble: trouble?.(w) ?? "",
      shown: shown && { ...shown, stale: shown.change !== this.#change },
      made: this.#result?.build ?? {},
      paper: this.#paperSize(plan),
      setPaper: (size) => {
        this.#size = size;
        this.requestUpdate();
        if (shown?.wanted.what === "sheet") void this.#makePaper(shown.wanted);
      },
      ask: (wanted) => void this.#makePaper(wanted),
      stop: () => this.#stopPaper(),
      print: (frame) => frame.contentWindow?.print(),
      save: (as) => void this.#savePaper(as),
      saveResult: () => download(`${fileName(plan.title, w.paper.resultFile)}.json`, "application/json", `${JSON.stringify(this.#result, null, 2)}\n`),
      close: () => {
        delete this.#paper.shown;
        this.requestUpdate();
        void this.#refocus("#h-paper");
      },
    };
  }

  async #savePaper(as: "html" | "svg" | "png"): Promise<void> {
    const { shown } = this.#paper;
    if (!shown) return;
    this.#speak();
    const name = `${fileName(this.#book.text("title"), called(shown.wanted))}.${as}`;
    try {
      if (as === "html") download(name, "text/html", shown.text);
      else if (as === "svg") download(name, "image/svg+xml", standalone(shown.text));
      else download(name, "image/png", await picture(shown.text, 3));
      this.#say((w) => w.paper.saved(name));
    } catch (err) {
      this.#paper = { ...this.#paper, trouble: (w) => `${w.paper.notMade} ${whyNot(w, err)}` };
      this.requestUpdate();
    }
  }

  // ---- Keys, focus, paste ----------------------------------------------------

  #cellOf(e: Event): { list: string; line: number; key: string } | undefined {
    const input = e.target;
    return input instanceof HTMLInputElement ? cellOf(input.dataset.field ?? "") : undefined;
  }

  async #goTo(field: string): Promise<void> {
    const group = groupOf(field);
    if (group >= 0) this.#opened.add(group);
    this.requestUpdate();
    await this.updateComplete;
    const target = this.renderRoot.querySelector<HTMLElement>(`[data-field="${CSS.escape(field)}"]`) ?? this.renderRoot.querySelector<HTMLElement>(`[data-field^="${CSS.escape(field.replace(/\].*/, "]"))}"]`);
    if (!target) return;
    target.closest("details")?.setAttribute("open", "");
    target.focus();
    if (target instanceof HTMLInputElement && target.type === "text") target.select();
  }

  #keydown(e: KeyboardEvent): void {
    const cell = this.#cellOf(e);
    if (!cell || e.isComposing) return;
    const to = (line: number, key: string) => {
      e.preventDefault();
      if (line >= 0) void this.#goTo(`${cell.list}[${line}].${key}`);
    };
    if (e.key === "Enter") to(cell.line + 1, e.shiftKey ? cell.key : this.#home || cell.key);
    else if (e.key === "ArrowDown") to(cell.line + 1, cell.key);
    else if (e.key === "ArrowUp") to(cell.line - 1, cell.key);
    else if (e.key === "Tab") this.#tabbing = true;
  }
  #tabbing = false;
  /** The row last written on. */
  #row = "";

  #focusin(e: FocusEvent): void {
    const input = e.target as HTMLElement;
    this.#focused = input.dataset?.field ?? "";
    const cell = this.#cellOf(e);
    if (cell) {
      const row = `${cell.list}[${cell.line}]`;
      if (!this.#tabbing || row !== this.#row) this.#home = cell.key;
      this.#row = row;
      if (cell.list === READINGS) this.#line = cell.line;
    }
    this.#tabbing = false;
    this.requestUpdate();
  }

  #focusout(): void {
    this.#focused = "";
    this.#writing = "";
    this.requestUpdate();
  }

  #paste(e: ClipboardEvent): void {
    const cell = this.#cellOf(e);
    const text = e.clipboardData?.getData("text/plain");
    if (!cell || !text || this.readonly) return;
    const before = this.#settle();
    this.#speak();
    const after = this.#book.paste(cell.line, cell.key, text, cell.list, (cell.list === READINGS ? this.#book.columns : columnsOf(cell.list)).map((c) => c.key), inDocument);
    if (after < 0) return; // one cell: the browser pastes it as text
    e.preventDefault();
    this.#history.note("", () => before);
    this.#changed();
    void this.#goTo(`${cell.list}[${after}].${cell.key}`);
  }

  #click(e: Event): void {
    const what = (e.target as HTMLElement).dataset?.do;
    const key = this.#book.columns[0]?.key ?? "at";
    if (what === "add") void this.#goTo(`ground.readings[${this.#book.rows().length - 1}].${key}`);
    if (what === "insert" && this.#line !== undefined) {
      const line = this.#line;
      this.#choose((b) => b.insert(line));
      void this.#goTo(`ground.readings[${line}].${key}`);
    }
  }

  // ---- Drawing the page ------------------------------------------------------

  #placed(writing = this.#writing): Placed {
    const at = new Map<string, PlacedFault[]>();
    const elsewhere: PlacedFault[] = [];
    this.#after = [];
    if (this.#faults.length === 0) return { at, elsewhere, n: 0, wanting: false, bare: [] };
    const shown = shownFields(this.#book);
    const slip = this.#faults[0]!.got && this.#faults[0]!.field.startsWith(READINGS);
    const row = /^[\w.]+\[\d+\]/.exec(this.#focused)?.[0];
    for (const fault of this.#faults) {
      const field = this.#book.place(fault, this.#lines, shown);
      // Readings that are only begun, too.
      const wanted = field === READINGS ? /^[01]$/.test(fault.got ?? "") : !fault.got && field !== "" && !stray(fault) && (cellOf(field) !== undefined || needed(field)) && this.#book.textOf(field) === "";
      const placed = { ...fault, wanted };
      // That no steps fit may come of a slip in a reading.
      if (slip && !fault.got && /^steps[\w.]*$/.test(fault.field)) this.#after.push(placed);
      else if (field === "") elsewhere.push(placed);
      else if (field === writing) continue; // still being written
      else if (wanted && row && field.startsWith(row)) continue; // the row is still being written
      else at.set(field, [...(at.get(field) ?? []), placed]);
    }
    const all = [...at.values()].flat().concat(elsewhere);
    const some = [...at].filter(([field, [fault]]) => field.startsWith(READINGS) && unitless(fault!));
    if (some.length > 1) for (const [, faults] of some) faults[0]!.bare = true;
    return { at, elsewhere, n: all.length, wanting: all.every((fault) => fault.wanted), bare: some.length > 1 ? some.map(([field]) => field) : [] };
  }

  protected override render(): TemplateResult {
    this.#speak();
    const placed = this.#placed();
    // While a point is dragged only what follows it is drawn.
    const resting = <T>(draw: () => T) => (this.#held?.moved && this.hasUpdated ? noChange : draw());
    let made: BookView | undefined;
    const left = () => (made ??= this.#bookView(placed));
    // Of the left page a point of the ground changes one cell, which is written at once.
    const faulted = this.#faulted;
    this.#faulted = this.#faults.length > 0;
    const page = () => bookPage(left());
    return html`<div class="sheet" part="sheet" lang=${w.lang} @keydown=${this.#hotkey} @pointerdown=${this.#press}>
      ${resting(() => this.#head(left()))}
      ${this.#notice
        ? html`<div class="notice" role="alert"><p>${this.#notice(w)}</p><button type="button" class="plain" @click=${() => {
            this.#notice = undefined;
            this.requestUpdate();
          }}>${w.plans.close}</button></div>`
        : nothing}
      ${resting(() => this.#panels())}
      <div class="spread ${this.#sketch ? "moving" : ""}">
        <div class="book" part="book" @keydown=${this.#keydown} @focusin=${this.#focusin} @focusout=${this.#focusout} @paste=${this.#paste} @click=${this.#click}><div class="written">${this.#held?.grip.kind !== "ground" || faulted || this.#faulted ? page() : resting(page)}</div>${this.#peek(placed)}</div>
        <div class="plan" part="answer">${this.#answer(placed)}</div>
        ${this.#result && this.#inFull ? guard([this.#result, this.#stale, w], () => this.#below(this.#result!)) : nothing}
        ${this.#held?.moved ? noChange : this.#result && this.#inFull ? html`<div class="plan papers">${paper(this.#paperView())}</div><p class="end">${w.end(this.#result.version)}</p>` : nothing}
      </div>
      <p class="unseen" role="status">${this.#said}</p>
    </div>`;
  }

  #bookView({ at, bare }: Placed): BookView {
    const book = this.#book;
    const metric = book.text("units") !== "imperial";
    return {
      book,
      about: this.#about,
      metric,
      readonly: this.readonly,
      faults: at,
      focused: this.#focused,
      line: this.#line,
      items: (this.#result?.takeoff ?? []).filter((t) => !t.section).map((t) => ({ id: t.item, name: t.name })),
      inFull: this.#inFull,
      checks: this.#result ? html`<div class="live ${this.#stale ? "stale" : ""}">${view.checks(this.#result)}</div>` : nothing,
      opened: this.#opened,
      open: (group) => {
        if (this.#opened.has(group)) return;
        this.#opened.add(group);
        this.requestUpdate();
      },
      wide: this.#wide,
      widen: (table) => {
        if (!this.#wide.delete(table)) this.#wide.add(table);
        this.requestUpdate();
      },
      bare: bare.length === 0 ? nothing : bareUnits(bare.length, (unit) => {
        this.#choose((b) => {
          for (const field of bare) b.enter(field, `${b.textOf(field)} ${unit}`);
        });
        void this.#refocus("#h-readings");
      }),
      priceList: this.readonly ? nothing : priceList(this.#listView()),
      write: (field, text) => this.#write(field, text),
      choose: (change) => this.#choose(change),
    };
  }

  #head(bookView: BookView): TemplateResult {
    const book = this.#book;
    return html`<div class="head" part="head">
      <div class="title">
        <div data-text=${book.text("title")}><textarea rows="1" aria-label=${w.head.title} data-field="title" placeholder=${w.head.titleHint} autocomplete="off" .value=${live(book.text("title"))} ?readonly=${this.readonly}
          aria-describedby=${faultsAt(bookView, "title").id} @keydown=${(e: KeyboardEvent) => e.key === "Enter" && e.preventDefault()}
          @input=${(e: InputEvent) => this.#write("title", (e.target as HTMLTextAreaElement).value)}></textarea></div>
        ${faultsAt(bookView, "title").says}
      </div>
      ${switchField("units", w.head.units, [{ value: "imperial", label: w.head.imperial }, { value: "metric", label: w.head.metric }], bookView.metric ? "metric" : "imperial", false, (v) => this.#choose((b) => b.show(v)))}
      ${faultsAt(bookView, "units").says}
      <div class="acts">
        <button type="button" data-panel="plans" aria-expanded=${this.#panel === "plans" ? "true" : "false"} @click=${() => this.#show("plans")}>${w.plans.open}</button>
        ${this.readonly ? nothing : html`<button type="button" @click=${this.#blank}>${w.plans.blank}</button>`}
        ${this.share ? html`<button type="button" data-panel="share" aria-expanded=${this.#panel === "share" ? "true" : "false"} @click=${() => this.#show("share")}>${w.share.open}</button>` : nothing}
        ${this.readonly
          ? nothing
          : html`<span class="acts">${(["undo", "redo"] as const).map((way) => html`<button type="button" aria-disabled=${this.#history[`${way}es`] === undefined ? "true" : "false"} @click=${() => this.#timeTravel(way, false)}>${w.history[way]}</button>`)}</span>`}
      </div>
    </div>`;
  }

  /** A day and a time, as they are written where the language is spoken. */
  #when = (ms: number): string => new Intl.DateTimeFormat(this.#locale, { dateStyle: "medium", timeStyle: "short" }).format(ms);

  #panels(): TemplateResult | typeof nothing {
    const close = () => void this.#show(this.#panel as "plans" | "share");
    if (this.#panel === "plans") {
      return plansPanel({
        entries: this.#entries,
        open: this.#place.entry?.id,
        when: this.#when,
        slope: (entry) => (isBook(entry.kept) ? slopeOf(Book.restore(entry.kept), "short") : ""),
        keeps: this.#store !== undefined,
        readonly: this.readonly,
        turnTo: (entry) => void this.#turnTo(entry),
        takeOut: (entry, out) => void this.#takeOut(entry, out),
        copy: () => this.#copyPlan(),
        file: (input) => void this.#openFile(input),
        save: () => this.#saveFile(),
        saveUnread: (entry) => download(`${fileName(entry.title)}.json`, "application/json", JSON.stringify(entry.kept)),
        close,
      });
    }
    if (this.#panel !== "share") return nothing;
    const { url, trouble, copied = false } = this.#link;
    const pass = url !== undefined && "share" in navigator ? () => void navigator.share({ title: this.#book.text("title"), url }).catch(() => undefined) : undefined;
    return sharePanel({ link: url, trouble: trouble?.(w) ?? "", copied, copy: () => void this.#copyLink(), pass, close });
  }

  #answer(placed: Placed): TemplateResult {
    const whole = this.#result;
    const sketch = this.#sketch;
    // What a sketch does not tell stands as it was, and grey, until the point is let go.
    const result = whole && sketch ? { ...whole, answer: [...sketch.answer, ...whole.answer.filter((s) => !sketch.answer.some((t) => t.key === s.key))] } : whole;
    const live = `live ${this.#stale ? "stale" : ""}`;
    const gripsView = this.#gripsView();
    // Of what is moved it is said below: the drawing stays under the finger.
    const moving = this.#held ?? this.#nudged;
    const wrong = this.#toPutRight(placed);
    // In brief at the drawing, too: below it may be out of sight.
    const unfit = [...placed.at.values(), placed.elsewhere].flat()[0];
    return html`
      ${this.#trouble ? html`<div class="trouble" role="alert"><p>${this.#trouble(w)}</p></div>` : nothing}
      ${this.#loaded < 1 && !this.#trouble
        ? html`<div class="loading ${whole && !this.#stale ? "aside-bar" : ""}"><label>${w.fetching} <progress max="1" value=${this.#loaded}></progress></label>${this.#rough()}</div>`
        : nothing}
      ${this.#slow && this.#loaded === 1 ? html`<p class="slow">${w.working}</p>` : nothing}
      ${moving ? nothing : wrong}
      ${result ? html`<div class=${live} aria-busy=${this.#stale ? "true" : "false"}>${view.headline(result)}</div>` : this.#book.empty && !this.#opening ? this.#invitation() : nothing}
      <figure part="drawing" ?hidden=${!result} @pointerenter=${this.#practise} @focusin=${this.#practise}><div class="paper ${live}">${this.#drawn}${gripLayer(gripsView)}</div>${moving && unfit ? html`<p class="unfit fault" aria-hidden="true"><span>${w.grips.unfit} ${sayFault(unfit)}</span></p>` : nothing}${this.#ownLayout()}${gripTools(gripsView)}</figure>
      ${moving ? wrong : nothing}
      ${result
        ? html`<div class=${live}>
            ${view.sentences(result, sketch?.answer.length ?? Infinity)}
          </div>
          ${this.quote === null ? nothing : html`<p class="quote"><button type="button" class="strong" ?disabled=${this.#stale} @click=${() => this.#emit("slopewright-quote", { plan: this.plan, result: this.#result })}>${this.quote || w.quote}</button></p>`}
          ${this.#inFull
            ? html`${this.#held?.moved ? noChange : choices(this.#choicesView())}
              ${this.#held?.moved ? noChange : pins(this.#pinsView(), result)}
              ${guard([whole, this.#stale, w, this.#width < 300], () => html`<div class=${live}>${view.stakeout(result, this.#width < 300)}</div>`)}`
            : nothing}`
        : nothing}
    `;
  }

  /** That the steps are not fitted, where they were put by hand. */
  #ownLayout(): TemplateResult | typeof nothing {
    if (this.readonly || this.#book.rows("steps.fixed").length < 2) return nothing;
    const fit = () => {
      this.#choose((b) => b.lay(undefined));
      void this.#refocus("figure");
    };
    // What does not fit is not what is drawn.
    return html`<p class="own">${this.#faults.length > 0 ? w.choices.ownBefore : w.choices.own} <button type="button" class="plain" @click=${fit}>${w.choices.fit}</button></p>`;
  }

  /** What can be told while the calculator is still to come. */
  #rough(): TemplateResult | typeof nothing {
    const found = this.#result ? undefined : rough(this.#book);
    return found ? html`<p class="rough">${w.rough(slopeOf(this.#book), format(found.rise / found.run, { style: "percent" }))}</p>` : nothing;
  }

  #below(result: Result): TemplateResult {
    return html`<div class="plan below live ${this.#stale ? "stale" : ""}">
      ${view.ofBefore()}
      ${view.findings(result)} ${view.earth(result)} ${view.haul(result)} ${view.water(result)} ${view.time(result)} ${view.order(result)} ${view.notes(result)} ${view.shopping(result)}
    </div>`;
  }

  #peek({ n, wanting }: Placed): TemplateResult | typeof nothing {
    const says = this.#trouble?.(w) || (n > 0 ? w.held.peek(n, wanting) : view.lead((this.#sketch ?? this.#result)?.answer[0]?.says));
    if (!says) return nothing;
    const go = () => {
      const told = this.#told;
      told?.scrollIntoView();
      told?.setAttribute("tabindex", "-1"); // the bar goes: the focus does not go with it
      told?.focus({ preventScroll: true });
    };
    return html`<button type="button" class="peek ${(n > 0 && !wanting) || this.#trouble ? "fault" : ""}" @click=${go}><span>${view.whole(says)}</span></button>`;
  }

  /** What is looked for first: what is wrong, else the headline. */
  get #told(): HTMLElement | null {
    return this.renderRoot.querySelector(".trouble, .plan > .held") ?? this.renderRoot.querySelector(".first");
  }

  #invitation(): TemplateResult {
    return html`<div class="invite">
      <p class="first">${w.invite.first}</p>
      <p>${w.invite.how}</p>
      ${this.getAttribute("plan") && !this.readonly ? html`<p><button type="button" @click=${this.#demo}>${w.invite.demo}</button></p>` : nothing}
    </div>`;
  }

  #demo(): void {
    void this.#fetch(this.getAttribute("plan")!);
  }

  #toPutRight({ at, elsewhere, n, wanting, bare }: Placed): TemplateResult | typeof nothing {
    if (n === 0) return nothing;
    const placed = [...at].flatMap(([field, faults]) => faults.filter((fault) => !fault.bare).map((fault) => ({ field, fault })));
    const strays = this.#faults.filter(stray);
    return html`<div class="held ${wanting ? "wanting" : ""}">
      <p>${w.held.peek(n, wanting)}${this.#result ? w.held.before : ""}:</p>
      <ul>
        ${bare.length > 0 ? html`<li><button type="button" class="plain" @click=${() => this.renderRoot.querySelector<HTMLElement>("[data-unit]")?.focus()}><u>${w.book.readings}</u>: ${w.held.bare(bare.length)}.</button></li>` : nothing}
        ${placed.slice(0, 12).map(({ field, fault }) => html`<li><button type="button" class="plain" @click=${() => this.#goTo(field)}><u>${where(Object.hasOwn(w.where, fault.field) || stranger(field, fault.field) ? fault.field : field)}</u>: ${sayFault(fault)}</button></li>`)}
        ${placed.length > 12 ? html`<li>${w.held.more(placed.length - 12)}</li>` : nothing}
        ${elsewhere.map((fault) => html`<li>${fault.field ? `${where(fault.field)}: ` : nothing}${sayFault(fault)}</li>`)}
        ${this.#after.map((fault) => html`<li class="aside">${sayFault(fault)}</li>`)}
      </ul>
      ${strays.length > 0 && !this.readonly ? html`<button type="button" @click=${() => this.#takeOutStrays(strays)}>${w.plans.takeOutLabel(strays.map(nameOf).join(", "))}</button>` : nothing}
    </div>`;
  }

  protected override update(changed: PropertyValues): void {
    // A headline may grow, and what is wrong may stand above the drawing, too: that stays where it is under the finger.
    const figure = (this.#held ?? this.#nudged) && this.renderRoot.querySelector("figure");
    const top = figure?.getBoundingClientRect().top;
    super.update(changed);
    // What is wrong is not hidden away.
    for (const closed of this.#held ? [] : this.renderRoot.querySelectorAll("details:not([open])")) {
      if (closed.querySelector("[aria-invalid=true], .fault")) closed.setAttribute("open", "");
    }
    if (figure) scrollBy(0, figure.getBoundingClientRect().top - top!);
  }

  protected override updated(changed: PropertyValues): void {
    if (changed.has("prices") && (this.prices || this.#shownOnce)) this.#pricing = this.#fetchPrices();
    if (changed.has("lang") && this.#shownOnce) this.#listen();
    if (this.#shownOnce && (["units", "rules", "currency"] as const).some((name) => changed.has(name))) {
      this.#housed();
      void this.#solve();
    }
    this.#shownOnce = true;
    const held = this.#held ?? this.#nudged;
    if (held) this.#follow(held); // the drawing is another: from there
    else follow(this.renderRoot);
    this.#look();
    if (this.#held?.moved) return;
    if (!this.#inFull) void this.#drawInFull();
    // A frame has its document only once it stands on the page.
    const frame = this.renderRoot.querySelector<HTMLIFrameElement & { filled?: string }>(".taken iframe");
    const text = this.#paper.shown?.text;
    if (frame && text !== undefined && frame.filled !== text) {
      frame.filled = text;
      fillFrame(frame, text);
    }
    const wanted = this.sections?.split(/[\s,]+/).filter(Boolean) ?? [];
    for (const part of this.renderRoot.querySelectorAll<HTMLElement>("[part]")) {
      const names = part.getAttribute("part")!;
      if (SECTIONS.has(names)) part.toggleAttribute("data-away", wanted.length > 0 && !wanted.includes(names));
    }
    if (!this.#watch) {
      this.#watch = new ResizeObserver(([entry]) => this.#resized(entry!.contentRect.width));
      this.#watch.observe(this.renderRoot.querySelector(".plan")!);
    }
  }

  #look(): void {
    const told = this.#told;
    if (told === this.#looked) return;
    this.#looked = told;
    const away = (seen: IntersectionObserverEntry[]) => this.renderRoot.querySelector(".spread")!.toggleAttribute("data-low", !seen.at(-1)!.isIntersecting && told!.offsetParent !== null);
    this.#looking?.disconnect();
    this.#looking = new IntersectionObserver(away, { threshold: 0.5 });
    if (told) this.#looking.observe(told);
  }

  /** The rest of the page comes once the answer is painted. */
  async #drawInFull(): Promise<void> {
    await shown();
    if (this.#inFull) return;
    this.#inFull = true;
    if (this.#result && !this.#stale) this.#grips = grips(this.#book, this.#result);
    this.requestUpdate();
  }

  /** A drawing's words keep their size, so a drawing is asked for at the width it is shown in. */
  #resized(width: number): void {
    const now = Math.floor(width) - 2; // less the frame
    if (now <= 0 || Math.abs(now - this.#width) < 4) return;
    const first = this.#width === 0;
    this.#width = Math.abs(now - this.#drawnWidth) < 4 ? this.#drawnWidth : now;
    if (this.#width === this.#drawnWidth) return;
    if (this.#result && !this.#stale && !this.#engine?.ready) return this.requestUpdate(); // drawn so at leisure
    clearTimeout(this.#pause);
    this.#pause = setTimeout(() => this.#solve(), first ? 0 : PAUSE);
  }
}

const same = (a: unknown, b: unknown) => JSON.stringify(a) === JSON.stringify(b);

/** Whether a field outside the tables is wanting while it is blank; a wish may always stay blank. */
const needed = (field: string) => !/^steps|\[/.test(field) && field !== READINGS && labelOf(field) === undefined;

/** Whether a fault that is shown at a field is of another, which has no place on the page. */
const stranger = (shown: string, field: string) => !field.includes("[") && !shown.startsWith(field) && field !== "" && labelOf(field) === undefined;

/** How wide the inside of an element is, in CSS pixels. */
function innerWidthOf(element: HTMLElement): number {
  const style = getComputedStyle(element);
  const beside = [style.paddingLeft, style.paddingRight, style.borderLeftWidth].reduce((sum, px) => sum + parseFloat(px), 0);
  return Math.floor(element.getBoundingClientRect().width - beside); // as the watch of its size has it
}

/** A title as the name of a file, and what of the plan is in it. */
const fileName = (title: string | undefined, what = "") => `${/[\p{L}\p{N}]/u.test(title ?? "") ? title : w.paper.untitled} ${what}`.replace(/[^\p{L}\p{N}]+/gu, "-").replace(/^-|-$/g, "").toLowerCase();

/** Hands a file to the person. */
function download(name: string, type: string, data: BlobPart): void {
  const url = URL.createObjectURL(new Blob([data], { type }));
  const a = document.createElement("a");
  a.href = url;
  a.download = name;
  a.click();
  setTimeout(() => URL.revokeObjectURL(url), 1000);
}

/** The values of a document by the names of its fields; of a table, all of it. */
const leaves = (value: unknown, at = ""): [string, unknown][] =>
  typeof value === "object" && value && !Array.isArray(value) ? Object.entries(value).flatMap(([key, v]) => leaves(v, at ? `${at}.${key}` : key)) : [[at, value]];

/** What something that is chosen is called where it is chosen. */
const named = (field: string, id: string, about?: About) =>
  field === "units" ? w.head[id as "metric"] : field === "ground.method" ? w.book.methods[id as "rod"]?.name : (field === "soil.class" ? about?.soils : field === "steps.rules" ? about?.rules : choicesOf(field))?.find((c) => c.id === id)?.name;

/** What a plan has otherwise than another, by the names on the page: the first three of it. */
function unlike(plan: Book, other: Book, about?: About): string {
  const [mine, its] = [plan, other].map((book) => new Map(leaves(book.document().plan))) as [Map<string, unknown>, Map<string, unknown>];
  const fields = [...new Map([...mine, ...its]).keys()].filter((field) => field !== "title" && !same(mine.get(field), its.get(field)));
  const says = (field: string) => (Array.isArray(mine.get(field) ?? its.get(field)) ? where(field) : `${where(field)} ${(named(field, plan.textOf(field), about) ?? onPage(field, plan.textOf(field))).slice(0, 40) || w.pins.nothing}`);
  return [...fields.slice(0, 3).map(says), ...(fields.length > 3 ? ["…"] : [])].join("; ");
}

/** How far a plan climbs, as far as that can be told from what is written. */
function slopeOf(book: Book, units?: "short"): string {
  const found = rough(book);
  const text = (metres: number) => lengthText(metres, book.text("units") === "imperial", units);
  return found ? w.slope(text(found.rise), text(found.run)) : "";
}

/** A length for those who hear the page, by the language's own words for units. */
function lengthText(metres: number, imperial: boolean, unitDisplay: "long" | "short" = "long"): string {
  const say = (n: number, unit: string) => format(n, { style: "unit", unit, unitDisplay, maximumFractionDigits: 2 });
  if (!imperial) return say(metres, "meter");
  // Feet, inches and sixteenths, as a tape has them.
  const all = Math.round((16 * Math.abs(metres)) / INCH);
  const [feet, inches, parts] = [Math.floor(all / 192), Math.floor((all % 192) / 16), all % 16];
  const least = parts & -parts;
  const says = [inches || parts === 0 ? inches : "", parts === 0 ? "" : `${parts / least}/${16 / least}`].join(" ").trim();
  return `${metres < 0 && all > 0 ? "−" : ""}${[feet > 0 ? say(feet, "foot") : "", feet > 0 && says === "0" ? "" : say(Math.ceil(inches + parts / 16), "inch").replace(/\d+/, says)].join(" ").trim()}`;
}
