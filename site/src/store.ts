// What is kept on this device: every plan a person wrote, in IndexedDB, under
// the name the page gives. What cannot be read is left as it lies: a later
// version of the page may have written it.
import type { Kept } from "./book.js";

/** One kept plan. `kept` is what was written, whatever it is. */
export interface Entry {
  id: string;
  title: string;
  /** When it was last written, in ms since 1970. */
  changed: number;
  /** Counts the writes, so that two tabs notice each other. */
  rev: number;
  kept: unknown;
  /** When it was taken out of the list; it can be brought back for a month. */
  out?: number;
}

/** How long a plan that was taken out can be brought back, in ms. */
const MONTH = 31 * 24 * 3600 * 1000;

const PLANS = "plans";
const LAST = "last";

/** True for what this version wrote or can read. */
export const readable = (kept: unknown): kept is Kept => {
  const { format, plan, pages } = (kept ?? {}) as Partial<Kept>;
  return format === "slopewright.book/1" && bounded(kept, MOST_PAGES) && [plan, pages].every((part) => typeof part === "object" && part !== null);
};

/** How deep a plan may be nested, and how many values it may hold: far more than the calculator takes. */
const DEEPEST = 24;
const MOST = 50_000;
/** And all the pages of a book, each method's. */
const MOST_PAGES = 300_000;

/** Whether a document can be handled at all. The calculator says what is wrong with one that can. */
export function bounded(document: unknown, most = MOST): boolean {
  let level: unknown[] = [document];
  let n = 0;
  for (let depth = 0; level.length > 0; depth++) {
    n += level.length;
    if (depth > DEEPEST || n > most) return false;
    const next: unknown[] = [];
    for (const value of level) if (typeof value === "object" && value !== null) for (const v of Object.values(value)) next.push(v);
    level = next;
  }
  return true;
}

const done = <T>(request: IDBRequest<T>): Promise<T> =>
  new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });

const settled = (transaction: IDBTransaction): Promise<void> =>
  new Promise((resolve, reject) => {
    transaction.oncomplete = () => resolve();
    transaction.onabort = transaction.onerror = () => reject(transaction.error);
  });

const nameOf = (name: string) => `slopewright:${name}`;

/** The name under which is kept what can be taken back in a plan. */
export const historyOf = (id: string) => `history ${id}`;

export class Store {
  #db: IDBDatabase;
  #name: string;

  private constructor(db: IDBDatabase, name: string) {
    this.#db = db;
    this.#name = name;
  }

  /** Opens the store of a name; rejects where the browser keeps nothing. */
  static async open(name: string): Promise<Store> {
    const request = indexedDB.open(nameOf(name), 1);
    request.onupgradeneeded = () => {
      request.result.createObjectStore(PLANS, { keyPath: "id" });
      request.result.createObjectStore(LAST);
    };
    const db = await done(request);
    db.onversionchange = () => db.close(); // a later version of the page may go on
    const store = new Store(db, request.result.name);
    await store.#recover();
    return store;
  }

  /** Keeps what is about to be written where that is done at once: a tab can be ended before a database has begun. */
  hold(entry: Entry | undefined, kept: Kept): void {
    try {
      localStorage.setItem(this.#name, JSON.stringify({ id: entry?.id, rev: entry?.rev, kept }));
    } catch {
      // The database has it in a moment.
    }
  }

  /** It is written, and there is something here from now on. */
  release(): void {
    try {
      localStorage.setItem(this.#name, "{}");
    } catch {
      // Nothing was held.
    }
  }

  /** False where nothing was ever kept under a name, as far as can be told without a database. */
  static holds(name: string): boolean {
    try {
      return localStorage.getItem(nameOf(name)) !== null;
    } catch {
      return true;
    }
  }

  /** Writes what was held and never written. */
  async #recover(): Promise<void> {
    try {
      const { id, rev, kept } = JSON.parse(localStorage.getItem(this.#name) ?? "{}") as Partial<Entry>;
      if (!readable(kept)) return;
      const now = await (id === undefined ? this.lastPlan() : this.get(id));
      if (JSON.stringify(now?.kept) !== JSON.stringify(kept)) await this.put(id === undefined || !now ? undefined : { ...now, rev: rev ?? 0 }, kept);
      this.release();
    } catch {
      // It is left as it lies.
    }
  }

  close(): void {
    this.#db.close();
  }

  /** All plans, the last changed first, those taken out among them. */
  async list(): Promise<Entry[]> {
    const all = (await done(this.#db.transaction(PLANS).objectStore(PLANS).getAll())) as Entry[];
    return all.sort((a, b) => b.changed - a.changed);
  }

  async get(id: string): Promise<Entry | undefined> {
    return (await done(this.#db.transaction(PLANS).objectStore(PLANS).get(id))) as Entry | undefined;
  }

  /** The plan that was written in last. */
  async lastPlan(): Promise<Entry | undefined> {
    const transaction = this.#db.transaction([PLANS, LAST]);
    const id: unknown = await done(transaction.objectStore(LAST).get("id"));
    return typeof id === "string" ? done(transaction.objectStore(PLANS).get(id) as IDBRequest<Entry | undefined>) : undefined;
  }

  /**
   * Writes a plan. Where another tab wrote it meanwhile, what is given becomes
   * a plan of its own, and neither is lost; the entry written is given back.
   * @param entry the plan as it was last read or written; without one it is new
   */
  async put(entry: Entry | undefined, kept: Kept): Promise<Entry> {
    const transaction = this.#db.transaction([PLANS, LAST], "readwrite");
    const plans = transaction.objectStore(PLANS);
    const found = entry && ((await done(plans.get(entry.id))) as Entry | undefined);
    const own = entry && (!found || found.rev === entry.rev) && found?.out === undefined;
    const title = typeof kept.plan.title === "string" ? kept.plan.title : "";
    const next: Entry = { id: own ? entry.id : crypto.randomUUID(), title, changed: Date.now(), rev: (own ? entry.rev : 0) + 1, kept };
    plans.put(next);
    transaction.objectStore(LAST).put(next.id, "id");
    await settled(transaction);
    return next;
  }

  /** Says which plan is to be opened at the next visit. */
  async turnTo(id: string): Promise<void> {
    const transaction = this.#db.transaction(LAST, "readwrite");
    transaction.objectStore(LAST).put(id, "id");
    await settled(transaction);
  }

  /** Keeps something beside the plans, under a name. */
  async remember(name: string, value: unknown): Promise<void> {
    const transaction = this.#db.transaction(LAST, "readwrite");
    transaction.objectStore(LAST).put(value, name);
    await settled(transaction);
  }

  /** What was kept under a name, whatever it is. */
  async recall(name: string): Promise<unknown> {
    return done(this.#db.transaction(LAST).objectStore(LAST).get(name));
  }

  /** Takes a plan out of the list, or brings it back. */
  async takeOut(id: string, out: boolean): Promise<void> {
    const transaction = this.#db.transaction(PLANS, "readwrite");
    const plans = transaction.objectStore(PLANS);
    const found = (await done(plans.get(id))) as Entry | undefined;
    if (found) {
      const { out: _, ...entry } = found;
      plans.put(out ? { ...entry, out: Date.now() } : entry);
    }
    await settled(transaction);
  }

  /** Plans taken out long ago go for good. */
  async tidy(): Promise<void> {
    for (const entry of await this.list()) {
      if (entry.out === undefined || Date.now() - entry.out < MONTH) continue;
      const transaction = this.#db.transaction([PLANS, LAST], "readwrite");
      transaction.objectStore(PLANS).delete(entry.id);
      transaction.objectStore(LAST).delete(historyOf(entry.id));
      await settled(transaction);
    }
  }
}
