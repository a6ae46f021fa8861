/// <reference lib="webworker" />
// The worker: boots the calculator (Go compiled to WebAssembly) and passes
// bytes to it and back. It knows nothing of what the bytes say.
//
// A classic worker, because Go's wasm_exec.js is a classic script. It must come
// from the page's own origin, and be served with the same
// `script-src 'self' 'wasm-unsafe-eval'` as the page if with any policy at all.
import type { FromWorker, ToWorker } from "./engine.js";

declare const __WASM_BYTES__: number;
declare const __WHOLE_BYTES__: number;
declare const __BUILD__: string;

declare global {
  var slopewrightCall: ((request: Uint8Array) => Uint8Array | Error) | undefined;
  var Go: new () => { importObject: WebAssembly.Imports; run(instance: WebAssembly.Instance): Promise<void> };
}

const scope = self as unknown as DedicatedWorkerGlobalScope;
const say = (message: FromWorker, transfer: Transferable[] = []) => scope.postMessage(message, transfer);

// The page asks for the whole calculator by the worker's address.
const whole = new URL(scope.location.href).searchParams.has("whole");
const size = whole ? __WHOLE_BYTES__ : __WASM_BYTES__;

/** Compiles the binary while it streams in; from an ArrayBuffer where the host serves it under a wrong type. */
async function load(imports: WebAssembly.Imports): Promise<WebAssembly.Instance> {
  const url = new URL(`${whole ? "slopewright-whole" : "slopewright"}.wasm?${__BUILD__}`, scope.location.href);
  const response = await fetch(url);
  if (!response.ok) throw new Error(`${url.pathname} answered ${response.status}`);
  const type = response.headers.get("Content-Type") ?? "";
  if (type.split(";")[0]!.trim() === "application/wasm") {
    void count(response.clone());
    return (await WebAssembly.instantiateStreaming(response, imports)).instance;
  }
  const copy = response.clone();
  const [bytes] = await Promise.all([response.arrayBuffer(), count(copy)]);
  return (await WebAssembly.instantiate(bytes, imports)).instance;
}

/** Reports how much of the binary has come, at most once a twentieth of it. */
async function count(response: Response): Promise<void> {
  const reader = response.body?.getReader();
  if (!reader) return;
  let got = 0;
  let said = 0;
  try {
    for (;;) {
      const { done, value } = await reader.read();
      if (done) return;
      got += value.length;
      if (got - said >= size / 20) {
        said = got;
        say({ kind: "progress", part: Math.min(1, got / size) });
      }
    }
  } catch {
    // The copy only feeds the progress bar; the load itself reports what went wrong.
  }
}

const ready = (async () => {
  scope.importScripts(`wasm_exec.js?${__BUILD__}`);
  const go = new Go();
  const instance = await load(go.importObject);
  const stopped = go.run(instance);
  // The program never returns of itself: when it does, it has crashed and its trace is in the console.
  void stopped.then(
    () => say({ kind: "stopped", why: "the calculator stopped; its last words are in the browser's console" }),
    (err: unknown) => say({ kind: "stopped", why: String(err) }),
  );
  const call = globalThis.slopewrightCall;
  if (!call) throw new Error("the calculator started without its one function");
  say({ kind: "ready", build: __BUILD__ });
  return call;
})();
ready.catch((err: unknown) => say({ kind: "stopped", why: err instanceof Error ? err.message : String(err) }));

scope.addEventListener("message", async (event: MessageEvent<ToWorker>) => {
  const { id, request } = event.data;
  const call = await ready.catch(() => undefined);
  if (!call) return; // said already
  const start = performance.now();
  try {
    const answer = call(request);
    if (!(answer instanceof Uint8Array)) throw answer ?? new Error("the calculator gave no answer");
    say({ kind: "answer", id, answer, ms: performance.now() - start }, [answer.buffer as ArrayBuffer]);
  } catch (err) {
    say({ kind: "stopped", why: err instanceof Error ? err.message : String(err) });
  }
});
