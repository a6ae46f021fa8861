/// <reference lib="webworker" />
// The page's service worker: what a visit needs is put aside at the first one,
// all of one build, and later visits are served from it, on the hill too. A new
// build waits until the person takes it.

declare const __CACHE__: string;
declare const __KEPT__: readonly string[];

const worker = self as unknown as ServiceWorkerGlobalScope;
const NAME = "slopewright-page-";
const CACHE = NAME + __CACHE__;
/** For sheets, choices and drawings; put aside when the page has nothing else to do. */
const WHOLE = "slopewright-whole.wasm";

// Past what the browser has from an earlier build.
const fresh = (file: string) => new Request(new URL(file, worker.registration.scope), { cache: "no-cache" });

worker.addEventListener("install", (event) => {
  event.waitUntil(caches.open(CACHE).then((cache) => cache.addAll(__KEPT__.map(fresh))));
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
  if (event.data === "whole") {
    event.waitUntil(
      caches.open(CACHE).then(async (cache) => {
        if (!(await cache.match(new URL(WHOLE, worker.registration.scope)))) await cache.add(fresh(WHOLE));
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
