// The calculator on the page itself, where no worker can be had: slower to the
// hand, and what it is at cannot be stopped, but the same answers.
import { calculator, Stopped, why, type Calculator } from "./calculator.js";
import type { FromWorker, ToWorker } from "./engine.js";

declare const __BUILD__: string;

function script(url: URL): Promise<void> {
  return new Promise((resolve, reject) => {
    const element = document.createElement("script");
    element.src = url.href;
    element.onload = () => resolve();
    element.onerror = () => reject(new Stopped("unloaded", url.pathname));
    document.head.append(element);
    element.remove();
  });
}

/** Speaks as the worker does. */
export class InPage {
  onmessage: ((event: { data: FromWorker }) => void) | undefined;
  #ended = false;
  #ready: Promise<Calculator>;

  constructor(base: URL, whole: boolean) {
    this.#ready = calculator(base, whole, script, (part) => this.#say({ kind: "progress", part }), (why) => this.#say({ kind: "stopped", why }));
    this.#ready.then(
      () => this.#say({ kind: "ready", build: __BUILD__ }),
      (err: unknown) => this.#say({ kind: "stopped", why: why(err) }),
    );
  }

  #say(data: FromWorker): void {
    if (!this.#ended) this.onmessage?.({ data });
  }

  async postMessage({ id, request, lang }: ToWorker): Promise<void> {
    const calculator = await this.#ready.catch(() => undefined);
    if (calculator && !(await calculator.learn(lang))) return this.#say({ kind: "wordless", id });
    await new Promise((resolve) => setTimeout(resolve)); // what was typed is painted first
    if (!calculator || this.#ended) return;
    const start = performance.now();
    try {
      const answer = calculator.call(request);
      if (!(answer instanceof Uint8Array)) throw answer ?? new Stopped("silent");
      this.#say({ kind: "answer", id, answer, ms: performance.now() - start });
    } catch (err) {
      this.#say({ kind: "stopped", why: why(err) });
    }
  }

  terminate(): void {
    this.#ended = true;
  }
}
