/// <reference lib="webworker" />
// The page's service worker: what a visit needs is put aside at the first one,
// all of one build, and later visits are served from it, on the hill too. A new
// build waits until the person takes it.

declare const __CACHE__: string;
declare const __BUILD__: string;
declare const __KEPT__: readonly string[];
/** What a visit in another language needs besides, by the language. */
declare const __MORE__: Readonly<Record<string, readonly string[]>>;

const worker = self as unknown as ServiceWorkerGlobalScope;
const NAME = "slopewright-page-";
const CACHE = NAME + __CACHE__;
/** For sheets, choices and drawings; put aside when the page has nothing else to do. */
const WHOLE = "slopewright-whole.wasm";
/** What the page asks for with its build behind a "?". */
const STAMPED = /^(slopewright-(worker|es)\.js|slopewright-es\.txt|wasm_exec\.js|.*\.wasm)$/;

const at = (file: string) => new URL(file, worker.registration.scope);

/** Puts a file aside: what the page has fetched already is only asked after, but nothing is taken that an earlier build left. */
async function put(cache: Cache, file: string): Promise<void> {
  const response = await fetch(at(STAMPED.test(file) ? `${file}?${__BUILD__}` : file), { cache: "no-cache" });
  if (!response.ok) throw new Error(`${file} answered ${response.status}`);
  await cache.put(at(file), response);
}

worker.addEventListener("install", (event) => {
  event.waitUntil(
    (async () => {
      const cache = await caches.open(CACHE);
      // Languages that were put aside for an earlier build are wanted of this one too.
      const more = [];
      for (const files of Object.values(__MORE__)) if (files[0] && (await caches.match(at(files[0]), { ignoreSearch: true }))) more.push(...files);
      await Promise.all([...__KEPT__, ...more].map((file) => put(cache, file)));
    })(),
  );
});

worker.addEventListener("activate", (event) => {
  event.waitUntil(
    (async () => {
      for (const name of await caches.keys()) if (name.startsWith(NAME) && name !== CACHE) await caches.delete(name);
      await worker.clients.claim();
    })(),
  );
});

worker.addEventListener("message", (event) => {
  if (event.data === "use") void worker.skipWaiting();
  const files = event.data === "whole" ? [WHOLE] : Object.hasOwn(__MORE__, event.data) ? __MORE__[event.data as string]! : [];
  if (files.length > 0) {
    event.waitUntil(
      caches.open(CACHE).then(async (cache) => {
        for (const file of files) if (!(await cache.match(at(file)))) await put(cache, file);
      }).catch(() => undefined), // another time
    );
  }
});

worker.addEventListener("fetch", (event) => {
  const { request } = event;
  if (request.method !== "GET" || !request.url.startsWith(worker.registration.scope)) return;
  event.respondWith(
    (async () => {
      const cache = await caches.open(CACHE);
      const page = request.mode === "navigate" && /\/(index\.html)?$/.test(new URL(request.url).pathname);
      const found = await cache.match(request, { ignoreSearch: true }); // the search names the build, and so does the cache
      return found ?? (page && request.url.split(/[?#]/)[0]!.replace(/index\.html$/, "") === worker.registration.scope ? await cache.match(worker.registration.scope) : undefined) ?? fetch(request);
    })(),
  );
});
