// Boots the calculator (Go compiled to WebAssembly), in a worker or, where no
// worker can be had, on the page itself.

import type { Words } from "./words.js";

declare const __WASM_BYTES__: number;
declare const __WHOLE_BYTES__: number;
declare const __BUILD__: string;

export type Call = (request: Uint8Array) => Uint8Array | Error;

export interface Calculator {
  call: Call;
  /** Readies the calculator to answer in a language; false where its words cannot be had. */
  learn(language: string): Promise<boolean>;
}

/** Why the calculator does not run; the page has the words. */
export interface Why {
  what: keyof Words["engine"]["why"];
  /** A file, or what the browser says of it. */
  detail: string;
}

export class Stopped extends Error {
  constructor(readonly what: Why["what"], readonly detail = "") {
    super(`${what} ${detail}`);
  }
}

export const why = (err: unknown): Why => (err instanceof Stopped ? { what: err.what, detail: err.detail } : { what: "other", detail: err instanceof Error ? err.message : String(err) });

declare global {
  var slopewrightCall: Call | undefined;
  /** Takes the words of the one language that the calculator does not have in itself. */
  var slopewrightWords: ((words: Uint8Array) => undefined | Error) | undefined;
  var Go: new () => { env: Record<string, string>; importObject: WebAssembly.Imports; run(instance: WebAssembly.Instance): Promise<void> };
}

/** Compiles the binary while it streams in; from an ArrayBuffer where the host serves it under a wrong type. */
async function load(url: URL, coming: Promise<Response>, size: number, imports: WebAssembly.Imports, progress: ((part: number) => void) | undefined): Promise<WebAssembly.Instance> {
  const response = await coming;
  if (!response.ok) throw new Stopped("answered", `${url.pathname} ${response.status}`);
  const type = response.headers.get("Content-Type") ?? "";
  if (type.split(";")[0]!.trim() === "application/wasm") {
    if (progress) void count(response.clone(), size, progress); // a second reader of what comes takes time of its own
    return (await WebAssembly.instantiateStreaming(response, imports)).instance;
  }
  const copy = response.clone();
  const [bytes] = await Promise.all([response.arrayBuffer(), progress && count(copy, size, progress)]);
  return (await WebAssembly.instantiate(bytes, imports)).instance;
}

/** Reports how much of the binary has come, at most once a twentieth of it. */
async function count(response: Response, size: number, progress: (part: number) => void): Promise<void> {
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
        progress(Math.min(1, got / size));
      }
    }
  } catch {
    // The copy only feeds the progress bar; the load itself reports what went wrong.
  }
}

/**
 * @param base the folder of the calculator's files
 * @param whole the whole calculator rather than the small one
 * @param script runs Go's script, which is a classic one
 * @param progress told how much has come; undefined where it is here already
 * @param stopped told when the calculator has crashed
 */
export async function calculator(base: URL, whole: boolean, script: (url: URL) => void | Promise<void>, progress: ((part: number) => void) | undefined, stopped: (why: Why) => void): Promise<Calculator> {
  const file = new URL(`${whole ? "slopewright-whole" : "slopewright"}.wasm?${__BUILD__}`, base);
  const coming = fetch(file); // on its way while the script is
  coming.catch(() => undefined); // told where it is waited for
  await script(new URL(`wasm_exec.js?${__BUILD__}`, base));
  const go = new Go();
  // What it holds between two answers is little: to clear up less often costs 20 MB
  // and saves a tenth of the time.
  go.env = { GOGC: "400" };
  const instance = await load(file, coming, whole ? __WHOLE_BYTES__ : __WASM_BYTES__, go.importObject, progress);
  const running = go.run(instance);
  // The program never returns of itself: when it does, it has crashed and its trace is in the console.
  void running.then(
    () => stopped({ what: "crashed", detail: "" }),
    (err: unknown) => stopped({ what: "other", detail: String(err) }),
  );
  const { slopewrightCall: call, slopewrightWords: words } = globalThis;
  globalThis.slopewrightCall = globalThis.slopewrightWords = undefined;
  if (!call) throw new Stopped("mute");
  const learned = new Map<string, Promise<boolean>>([["en", Promise.resolve(true)]]);
  const fetched = async (language: string) => {
    try {
      const response = await fetch(new URL(`slopewright-${language}.txt?${__BUILD__}`, base));
      return words !== undefined && response.ok && words(new Uint8Array(await response.arrayBuffer())) === undefined;
    } catch {
      return false; // no network, and not put aside
    }
  };
  const learn = (language: string) => {
    let found = learned.get(language);
    if (!found) learned.set(language, (found = fetched(language)));
    return found;
  };
  return { call, learn };
}
