// Undo and redo: the book as it was before each change. Strokes in one field
// are one change while they follow each other closely.
import { Book, type Kept } from "./book.js";
import { readable } from "./store.js";

interface Step {
  book: Kept;
  /** What was changed: a field, or a word for it. */
  what: string;
}

/** How long a pause ends a run of strokes, in ms. */
const PAUSE = 1500;
/** How many changes can be taken back. */
const DEPTH = 300;
/** How many of them are kept between visits, and in how many characters at most. */
const KEPT = 60;
const KEPT_SIZE = 500_000;

/** What can be taken back and done again, as it is kept between visits: the nearest last. */
export interface KeptHistory {
  past: Step[];
  future: Step[];
}

/** The nearest of the steps, as many as may be kept. */
function nearest(steps: readonly Step[]): Step[] {
  let size = 0;
  const first = steps.findLastIndex((s, i) => i < steps.length - KEPT || (size += JSON.stringify(s).length) > KEPT_SIZE);
  return steps.slice(first + 1);
}

/** True for what can be turned back to. */
export function isBook(kept: unknown): kept is Kept {
  try {
    return readable(kept) && Book.restore(kept) !== undefined;
  } catch {
    return false; // of the right format and yet no book
  }
}

const isStep = (s: unknown): s is Step => typeof s === "object" && s !== null && typeof (s as Step).what === "string" && isBook((s as Step).book);
const steps = (v: unknown): Step[] => (Array.isArray(v) && v.length <= KEPT && v.every(isStep) ? v : []);

export class History {
  #past: Step[] = [];
  #future: Step[] = [];
  #last = 0;

  /** Notes that a change of something is about to be made. */
  note(what: string, now: () => Kept): void {
    const time = performance.now();
    const same = what !== "" && this.#future.length === 0 && this.#past.at(-1)?.what === what && time - this.#last < PAUSE;
    this.#last = time;
    if (same) return;
    this.#future = [];
    this.#past.push({ book: now(), what });
    if (this.#past.length > DEPTH) this.#past.shift();
  }

  get undoes(): string | undefined {
    return this.#past.at(-1)?.what;
  }

  get redoes(): string | undefined {
    return this.#future.at(-1)?.what;
  }

  undo(now: () => Kept): Step | undefined {
    return this.#turn(this.#past, this.#future, now);
  }

  redo(now: () => Kept): Step | undefined {
    return this.#turn(this.#future, this.#past, now);
  }

  #turn(from: Step[], to: Step[], now: () => Kept): Step | undefined {
    const step = from.pop();
    if (step) to.push({ book: now(), what: step.what });
    this.#last = 0;
    return step;
  }

  keep(): KeptHistory {
    return { past: nearest(this.#past), future: nearest(this.#future) };
  }

  /** Puts what was kept before what happened since. Whatever cannot be read is left out. */
  recall(kept: unknown): void {
    const { past, future } = (kept ?? {}) as Partial<KeptHistory>;
    if (this.#past.length + this.#future.length === 0) this.#future = steps(future);
    this.#past.unshift(...steps(past));
    this.#last = 0;
  }

  clear(): void {
    this.#past = [];
    this.#future = [];
    this.#last = 0;
  }
}
