// The page's side of the worker: one calculator, asked by id, latest request
// wins. A request that is overtaken before it was sent is dropped; one that is
// being computed too long while another waits is stopped by ending the worker
// and booting a new one. What is asked aside overtakes nothing: it has its turn
// when nothing else waits. Where the files come from another address than the
// page, a small worker of the page's own stands in and loads the real one; where
// the page's policy forbids that too, the calculator runs on the page itself.
import type { Why } from "./calculator.js";
import { InPage } from "./inpage.js";
import { english, type Language, type Saying } from "./words.js";

declare const __BUILD__: string;

export interface ToWorker {
  id: number;
  request: Uint8Array;
  /** The language that the request asks for. */
  lang: Language;
}

export type FromWorker =
  | { kind: "progress"; part: number }
  | { kind: "ready"; build: string }
  | { kind: "answer"; id: number; answer: Uint8Array; ms: number }
  /** The words of the language asked for cannot be had. */
  | { kind: "wordless"; id: number }
  | { kind: "stopped"; why: Why };

/** Given to the one who asked when a later request took the place of theirs. */
export class Superseded extends Error {
  constructor() {
    super("Superseded");
    this.name = "Superseded";
  }
}

/** The calculator could not be reached: what is wrong, for a person to read. */
export class EngineError extends Error {
  constructor(readonly says: Saying) {
    super(says(english));
    this.name = "EngineError";
  }
}

/** A request document as it goes to the calculator, which speaks English unless it is asked for something else. */
export const asSent = (document: object, lang: Language): string => JSON.stringify(lang === "en" ? document : { ...document, lang });

/** What the calculator answered: the document, and the bytes it came in. */
export interface Answered {
  document: unknown;
  bytes: Uint8Array;
  ms: number;
  /** The language it is in. */
  lang: Language;
}

interface Asked {
  id: number;
  document: object;
  lang: Language;
  resolve: (answer: Answered) => void;
  reject: (err: Error) => void;
}

/** How long a running request may hold up a newer one before the worker is ended, in ms. */
const PATIENCE = 4000;

export class Engine {
  #base: URL;
  #whole: boolean;
  #worker: Worker | InPage | undefined;
  /** True once no worker could be had. */
  #inPage = false;
  #last = 0;
  #running: Asked | undefined;
  #waiting: Asked | undefined;
  #asides: Asked[] = [];
  #overdue: ReturnType<typeof setTimeout> | undefined;
  #ready = false;
  #limit: number;
  #late: ReturnType<typeof setTimeout> | undefined;

  /** True once the calculator runs. */
  get ready(): boolean {
    return this.#ready;
  }

  /** Told how much of the binary has come, 0 to 1, and once with 1 when it runs. */
  onprogress: ((part: number) => void) | undefined;

  /**
   * @param base where slopewright-worker.js, wasm_exec.js and the calculators, slopewright.wasm and slopewright-whole.wasm, lie
   * @param limit how long one request may take in all, in ms; 0 for as long as none is waiting
   * @param whole with the whole calculator, which also does choices, sheets, tables and all drawings
   */
  constructor(base: URL, limit = 0, whole = false) {
    this.#base = base;
    this.#whole = whole;
    this.#limit = limit;
  }

  /**
   * Sends a request document and gives the document that answers it, in a
   * language or, where its words cannot be had, in English.
   * Rejects with Superseded or EngineError.
   *
   * @param aside true for what takes no other's place
   */
  ask(document: object, lang: Language, aside = false): Promise<Answered> {
    return new Promise((resolve, reject) => {
      const asked = { id: ++this.#last, document, lang, resolve, reject };
      if (aside) this.#asides.push(asked);
      else {
        this.#waiting?.reject(new Superseded());
        this.#waiting = asked;
      }
      this.#next();
    });
  }

  /** True where it is there and at nothing. */
  get idle(): boolean {
    return this.#ready && !this.#running;
  }

  /** True where it runs on the page itself, and what it is at holds up the page. */
  get onPage(): boolean {
    return this.#inPage;
  }

  /** Boots the calculator before anything is asked of it. */
  warm(): void {
    try {
      this.#worker ??= this.#boot();
    } catch {
      // Told to the one who asks.
    }
  }

  /** Ends the worker; a later ask boots a new one. */
  stop(): void {
    this.#worker?.terminate();
    this.#worker = undefined;
    clearTimeout(this.#overdue);
    this.#overdue = undefined;
    clearTimeout(this.#late);
    this.#drop(new Superseded());
  }

  /** Whoever waits for something waits no longer. */
  #drop(err: Error): void {
    const dropped = [this.#running, this.#waiting, ...this.#asides];
    this.#running = this.#waiting = undefined;
    this.#asides = [];
    for (const asked of dropped) asked?.reject(err);
  }

  #next(): void {
    if (this.#running) {
      if (this.#waiting) this.#overdue ??= setTimeout(() => this.#giveUp(), PATIENCE);
      return;
    }
    if (!this.#waiting && this.#asides.length === 0) return;
    try {
      this.#worker ??= this.#boot();
    } catch (err) {
      this.#fail((w) => w.engine.foreignWorker(String(err)));
      return;
    }
    const next = this.#waiting ?? this.#asides.shift()!;
    this.#running = next;
    this.#waiting = undefined;
    if (this.#limit > 0) this.#late = setTimeout(() => this.#fail((w) => w.engine.late(Math.round(this.#limit / 1000))), this.#limit);
    this.#post(next);
  }

  #giveUp(): void {
    this.#overdue = undefined;
    if (!this.#running || !this.#waiting) return;
    if (!this.#ready) {
      this.#overdue = setTimeout(() => this.#giveUp(), PATIENCE); // it is still coming: begun anew it would come later
      return;
    }
    const running = this.#running;
    clearTimeout(this.#late);
    this.#worker?.terminate();
    this.#worker = undefined;
    this.#running = undefined;
    running.reject(new Superseded());
    this.#next();
  }

  #boot(): Worker | InPage {
    this.#ready = false;
    const url = new URL(`slopewright-worker.js?${__BUILD__}`, this.#base);
    const foreign = url.origin !== location.origin;
    if (foreign && this.#inPage) {
      const inPage = new InPage(this.#base, this.#whole);
      inPage.onmessage = (event) => this.#hear(inPage, event.data);
      return inPage;
    }
    const from = foreign ? URL.createObjectURL(new Blob([`slopewrightFrom=${JSON.stringify(url.href)};importScripts(slopewrightFrom)`], { type: "text/javascript" })) : url;
    // What a service worker has put aside is here at once: nobody needs to be told how much of it has come.
    const kept = !foreign && !this.#whole && navigator.serviceWorker?.controller;
    let worker: Worker;
    try {
      worker = new Worker(from, { name: `slopewright${this.#whole ? "-whole" : ""}${kept ? "-kept" : ""}` });
    } catch (err) {
      if (!foreign) throw err;
      this.#inPage = true;
      return this.#boot();
    }
    worker.onmessage = (event: MessageEvent<FromWorker>) => this.#hear(worker, event.data);
    worker.onerror = (event) => {
      event.preventDefault();
      if (foreign && !this.#ready && worker === this.#worker) {
        // The page's policy lets no such worker start: what was asked is asked again on the page.
        this.#inPage = true;
        this.#worker = this.#boot();
        if (this.#running) this.#post(this.#running);
        return;
      }
      this.#hear(worker, { kind: "stopped", why: event.message ? { what: "other", detail: event.message } : { what: "unloaded", detail: "slopewright-worker.js" } });
    };
    return worker;
  }

  #post({ id, document, lang }: Asked): void {
    const request = new TextEncoder().encode(asSent(document, lang));
    void this.#worker?.postMessage({ id, request, lang } satisfies ToWorker);
  }

  #hear(worker: Worker | InPage, message: FromWorker): void {
    if (worker !== this.#worker) return; // the last words of one that was ended
    switch (message.kind) {
      case "progress":
        // All bytes here is not yet running: the last step is "ready".
        if (!this.#ready) this.onprogress?.(Math.min(0.99, message.part));
        return;
      case "ready":
        if (message.build !== __BUILD__) {
          this.#fail((w) => w.engine.builds(__BUILD__, message.build));
          return;
        }
        this.#ready = true;
        this.onprogress?.(1);
        return;
      case "stopped":
        this.#fail((w) => {
          const why = w.engine.why[message.why.what](message.why.detail);
          return this.#base.origin === location.origin ? w.engine.stopped(why) : w.engine.elsewhere(this.#base.origin, why);
        });
        return;
      case "wordless":
        if (this.#running?.id !== message.id) return;
        this.#running.lang = "en";
        this.#post(this.#running);
        return;
      case "answer": {
        const asked = this.#running;
        if (!asked || asked.id !== message.id) return;
        this.#running = undefined;
        clearTimeout(this.#overdue);
        clearTimeout(this.#late);
        this.#overdue = undefined;
        try {
          const document: unknown = JSON.parse(new TextDecoder().decode(message.answer));
          asked.resolve({ document, bytes: message.answer, ms: message.ms, lang: asked.lang });
        } catch {
          asked.reject(new EngineError((w) => w.engine.unread));
        }
        this.#next();
      }
    }
  }

  #fail(says: Saying): void {
    this.#worker?.terminate();
    this.#worker = undefined;
    clearTimeout(this.#overdue);
    this.#overdue = undefined;
    clearTimeout(this.#late);
    this.#drop(new EngineError(says));
  }
}
