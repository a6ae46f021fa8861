/// <reference lib="webworker" />
// The worker: boots the calculator and passes bytes to it and back. It knows
// nothing of what the bytes say.
//
// A classic worker, because Go's wasm_exec.js is a classic script. It must be
// served with the same `script-src 'self' 'wasm-unsafe-eval'` as the page if
// with any policy at all.
import { calculator, Stopped, why } from "./calculator.js";
import type { FromWorker, ToWorker } from "./engine.js";

declare const __BUILD__: string;

declare global {
  /** Where this script was loaded from by one of another address, which stands in for it. */
  var slopewrightFrom: string | undefined;
}

const scope = self as unknown as DedicatedWorkerGlobalScope;
const say = (message: FromWorker, transfer: Transferable[] = []) => scope.postMessage(message, transfer);

const here = new URL(globalThis.slopewrightFrom ?? scope.location.href);
const ready = calculator(
  here,
  // The page asks for the whole calculator by the worker's name: from a service
  // worker's cache comes an address without what the page asked for after a "?".
  scope.name.startsWith("slopewright-whole"),
  (url) => scope.importScripts(url.href),
  scope.name.endsWith("-kept") ? undefined : (part) => say({ kind: "progress", part }),
  (why) => say({ kind: "stopped", why }),
);
ready.then(
  () => say({ kind: "ready", build: __BUILD__ }),
  (err: unknown) => say({ kind: "stopped", why: why(err) }),
);

scope.addEventListener("message", async (event: MessageEvent<ToWorker>) => {
  const { id, request, lang } = event.data;
  const calculator = await ready.catch(() => undefined);
  if (!calculator) return; // said already
  if (!(await calculator.learn(lang))) return say({ kind: "wordless", id });
  const start = performance.now();
  try {
    const answer = calculator.call(request);
    if (!(answer instanceof Uint8Array)) throw answer ?? new Stopped("silent");
    say({ kind: "answer", id, answer, ms: performance.now() - start }, [answer.buffer as ArrayBuffer]);
  } catch (err) {
    say({ kind: "stopped", why: why(err) });
  }
});
