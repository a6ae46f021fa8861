// The static server: what a careful host sends, packed as the browser asks.
import assert from "node:assert/strict";
import { mkdtemp, rm, utimes, writeFile } from "node:fs/promises";
import { request } from "node:http";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { brotliDecompressSync, gunzipSync } from "node:zlib";
import { encodingFor, serve } from "../serve.mjs";

const TEXT = "steps up a slope, ".repeat(500);
let folder, server;

before(async () => {
  folder = await mkdtemp(join(tmpdir(), "served-"));
  for (const name of ["a.js", "a.wasm", "a.webmanifest", "a.d.ts", "a.csv", "a.png", "a.odd"]) await writeFile(join(folder, name), TEXT);
  await writeFile(join(folder, "tiny.js"), "1");
  server = await serve({ "/": folder });
});
after(async () => {
  server.close();
  await rm(folder, { recursive: true });
});

/** As the bytes go over the wire. */
const get = (path, headers = {}, method = "GET") =>
  new Promise((resolve, reject) => {
    request({ port: server.address().port, host: "127.0.0.1", path, method, headers }, (response) => {
      const parts = [];
      response.on("data", (part) => parts.push(part)).on("end", () => resolve({ status: response.statusCode, headers: response.headers, body: Buffer.concat(parts) }));
    }).on("error", reject).end();
  });

test("types by the ending of the name", async () => {
  for (const [name, type] of [["a.js", "text/javascript; charset=utf-8"], ["a.wasm", "application/wasm"], ["a.webmanifest", "application/manifest+json"], ["a.d.ts", "text/plain; charset=utf-8"], ["a.csv", "text/csv; charset=utf-8"], ["a.png", "image/png"], ["a.odd", "application/octet-stream"]]) {
    assert.equal((await get(`/${name}`)).headers["content-type"], type);
  }
});

test("packed as asked, with a tag of its own, and only what shrinks", async () => {
  const plain = await get("/a.wasm");
  assert.equal(plain.headers["content-encoding"], undefined);
  assert.equal(plain.headers.vary, "Accept-Encoding");
  assert.equal(String(plain.body), TEXT);
  for (const [accepts, encoding, unpack] of [["gzip, deflate, br, zstd", "br", brotliDecompressSync], ["gzip", "gzip", gunzipSync], ["br;q=0, gzip;q=0.5", "gzip", gunzipSync]]) {
    const answer = await get("/a.wasm", { "Accept-Encoding": accepts });
    assert.equal(answer.headers["content-encoding"], encoding);
    assert.equal(Number(answer.headers["content-length"]), answer.body.length);
    assert.ok(answer.body.length < TEXT.length / 10);
    assert.equal(String(unpack(answer.body)), TEXT);
    assert.notEqual(answer.headers.etag, plain.headers.etag);
    const head = await get("/a.wasm", { "Accept-Encoding": accepts }, "HEAD");
    assert.deepEqual([head.headers["content-length"], head.body.length], [answer.headers["content-length"], 0]);
    assert.equal((await get("/a.wasm", { "Accept-Encoding": accepts, "If-None-Match": answer.headers.etag })).status, 304);
  }
  for (const name of ["a.png", "a.odd", "tiny.js"]) assert.equal((await get(`/${name}`, { "Accept-Encoding": "br" })).headers["content-encoding"], undefined, name);
});

test("a changed file is packed again", async () => {
  const was = await get("/a.js", { "Accept-Encoding": "br" });
  await writeFile(join(folder, "a.js"), `${TEXT}.`);
  await utimes(join(folder, "a.js"), new Date(), new Date(Date.now() + 5000));
  const now = await get("/a.js", { "Accept-Encoding": "br", "If-None-Match": was.headers.etag });
  assert.equal(String(brotliDecompressSync(now.body)), `${TEXT}.`);
});

test("what a browser says it takes", () => {
  for (const [accepts, want] of [[undefined, undefined], ["", undefined], ["*", undefined], ["identity", undefined], ["BR", "br"], [" gzip ;q=1.0", "gzip"], ["br;q=0.000", undefined], ["gzip, br", "br"]]) assert.equal(encodingFor(accepts), want, accepts);
});

test("nothing outside the folder", async () => {
  for (const path of ["/../package.json", "/%2e%2e/package.json", "/..%2fpackage.json", "/a.js/x", "/%00", "/%"]) assert.match(String((await get(path)).status), /^40/, path);
});
