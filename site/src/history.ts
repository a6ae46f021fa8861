// Undo and redo: the book as it was before each change. Strokes in one field
// are one change while they follow each other closely.
import type { Kept } from "./book.js";

interface Step {
  book: Kept;
  /** What was changed: a field, or a word for it. */
  what: string;
}

/** How long a pause ends a run of strokes, in ms. */
const PAUSE = 1500;
/** How many changes can be taken back. */
const DEPTH = 300;

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

  clear(): void {
    this.#past = [];
    this.#future = [];
    this.#last = 0;
  }
}
