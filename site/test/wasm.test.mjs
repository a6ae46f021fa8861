// The WebAssembly build of package wasm gives the very bytes that the native
// build of it gives. Both are built by make: build/wasm, build/native.
import assert from "node:assert/strict";
import { spawnSync } from "node:child_process";
import { readFile, readdir } from "node:fs/promises";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import { before, test } from "node:test";
import { fileURLToPath } from "node:url";

const root = join(dirname(fileURLToPath(import.meta.url)), "..", "..");
const plans = join(root, "testdata", "plans");
const DRAWINGS = ["section", "plan", "view", "step", "across", "cutplan"].map((name) => ({ name }));
let call;
let callWhole;
/** What hands the words of a language over, by what calls. */
const words = new Map();

before(async () => {
  createRequire(import.meta.url)(join(root, "build", "wasm", "wasm_exec.js"));
  const already = new Set(Object.getOwnPropertyNames(globalThis));
  call = await boot("slopewright.wasm", already);
  callWhole = await boot("slopewright-whole.wasm", already);
});

async function boot(file, already) {
  const go = new globalThis.Go();
  const { instance } = await WebAssembly.instantiate(await readFile(join(root, "build", "wasm", file)), go.importObject);
  void go.run(instance);
  const added = Object.getOwnPropertyNames(globalThis).filter((name) => !already.has(name));
  assert.deepEqual(added, ["slopewrightCall", "slopewrightWords"], "two functions, and no other global");
  const { slopewrightCall, slopewrightWords } = globalThis;
  delete globalThis.slopewrightWords;
  words.set(slopewrightCall, slopewrightWords);
  return slopewrightCall;
}

const encode = (v) => (typeof v === "string" ? Buffer.from(v) : Buffer.from(JSON.stringify(v)));

function native(request, [program, ...given] = [join(root, "build", "native", "slopewright")]) {
  const run = spawnSync(program, given, { input: request, maxBuffer: 1 << 26 });
  assert.equal(run.status, 0, String(run.stderr));
  return run.stdout;
}

function same(request, by = call) {
  const bytes = encode(request);
  const fromWasm = Buffer.from(by(new Uint8Array(bytes)));
  const fromNative = native(bytes);
  if (!fromWasm.equals(fromNative)) {
    let i = 0;
    while (fromWasm[i] === fromNative[i]) i++;
    assert.fail(`differs at byte ${i}:\n wasm   …${fromWasm.subarray(Math.max(0, i - 80), i + 60)}\n native …${fromNative.subarray(Math.max(0, i - 80), i + 60)}`);
  }
  return JSON.parse(fromWasm.toString());
}

const demos = [];
for (const name of await readdir(plans)) {
  if (!name.endsWith(".json")) continue;
  const text = await readFile(join(plans, name), "utf8");
  const plan = JSON.parse(text);
  if (plan.format === "slopewright.plan/1") demos.push({ name, text, plan });
}

// Whole numbers of 32 bits, and no fused multiply and add; and a machine that has it, where one
// can be had.
for (const [arch, ...under] of [["386"], ["arm64", "qemu-aarch64"]]) {
  const here = process.arch === "x64" && process.platform === "linux" && !(under[0] && spawnSync(under[0], ["--version"]).error);
  test(`a build for ${arch} gives the very bytes too`, { skip: here ? false : "only where this machine runs it" }, (t) => {
    const program = join(root, "build", "native", `slopewright-${arch}`);
    const made = spawnSync("go", ["build", "-o", program, "./wasm"], { cwd: root, env: { ...process.env, GOARCH: arch, CGO_ENABLED: "0" }, encoding: "utf8" });
    assert.equal(made.status, 0, made.stderr);
    const run = [...under, program];
    // A shell is handed what the kernel does not take, and says so.
    const tried = spawnSync(run[0], run.slice(1), { input: "{}", encoding: "utf8" });
    if (tried.error || (tried.stdout === "" && /^\S+: (line )?\d+: /.test(tried.stderr))) return t.skip(`this machine runs no programs for ${arch}`);
    for (const { name, plan } of demos) {
      const request = encode({ format: "slopewright.request/1", plan, drawings: DRAWINGS, sheets: [{ kind: "build" }, { kind: "quote" }] });
      assert.ok(native(request, run).equals(native(request)), name);
    }
  });
}

test("a row of sketches while a point is moved: the same bytes as each by itself from a native build", () => {
  const { plan } = demos.find(({ name }) => name === "gentle.json");
  for (let move = 0; move < 24; move++) {
    const readings = plan.ground.readings.map((reading, i) => (i === 4 ? { ...reading, drop: `${(0.96 + 0.08 * Math.sin(move / 3)).toFixed(3)} m` } : reading));
    const request = { format: "slopewright.request/1", op: "sketch", plan: { ...plan, ground: { ...plan.ground, readings } }, drawings: [{ name: "section" }] };
    const answer = same(request, move % 8 < 6 ? call : callWhole);
    assert.equal(answer.format, "slopewright.sketch/1", JSON.stringify(answer.faults));
  }
});

test("there are demos to compare", () => assert.ok(demos.length >= 3, String(demos.length)));

for (const { name, text, plan } of demos) {
  test(`${name}: the same bytes, bare and with its drawing, in either units`, () => {
    assert.equal(same(text).format, "slopewright.result/1");
    for (const units of ["imperial", "metric"]) {
      const answer = same({ format: "slopewright.request/1", op: "plan", plan: { ...plan, units }, drawings: [{ name: "section", width: 643 }] });
      assert.equal(answer.format, "slopewright.result/1", JSON.stringify(answer.faults));
      assert.equal(answer.units, units);
      assert.match(answer.drawings.section, /^<svg[^]*<\/svg>\s*$/);
    }
  });
}

for (const { name, plan } of demos) {
  test(`${name}: the same bytes from the whole program, with all that only it does`, () => {
    const answer = same({ format: "slopewright.request/1", plan, drawings: DRAWINGS, choices: true, tables: ["takeoff", "pieces", "cutplan", "bill", "prices"], price_list: "item,price,per\npin,2.95,each\n", compare: plan }, callWhole);
    assert.equal(answer.format, "slopewright.result/1", JSON.stringify(answer.faults));
    assert.deepEqual(Object.keys(answer.drawings).sort(), DRAWINGS.map((d) => d.name).sort());
    assert.ok(answer.choices.length > 0);
    assert.equal(Object.keys(answer.tables).length, 5);
    assert.equal(answer.comparison.lines.length >= answer.bill.lines.length, true);
  });
}

test("the small program refuses by name what only the whole one does", () => {
  const answer = JSON.parse(Buffer.from(call(new Uint8Array(encode({ format: "slopewright.request/1", plan: demos[0].plan, choices: true, tables: ["bill"], price_list: "item,price,per", compare: demos[0].plan })))).toString());
  assert.equal(answer.format, "slopewright.error/1");
  assert.deepEqual(answer.faults.map((f) => f.field), ["choices", "tables", "price_list", "compare"]);
});

test("about and errors: the same bytes", () => {
  assert.equal(same({ format: "slopewright.request/1", op: "about" }).format, "slopewright.about/1");
  for (const bad of ["", "{", "[]", "null", '{"format":"slopewright.plan/1"}', '{"format":"slopewright.plan/9"}', '{"format":"slopewright.plan/1","ground":{"method":"string","readings":[{"at":"7 fft","drop":-1e999}]}}', `${"[".repeat(5000)}`]) {
    const answer = same(bad);
    assert.equal(answer.format, "slopewright.error/1", bad);
    assert.ok(answer.faults.length > 0);
  }
});

test("what is not one Uint8Array comes back as an Error", () => {
  for (const args of [[], ["{}"], [null], [{}], [new Uint8Array(1), 1]]) assert.ok(call(...args) instanceof Error, String(args));
});

test("in Spanish, once the words are handed over", async () => {
  const spanish = await readFile(join(root, "internal", "lang", "es.txt"));
  for (const by of [call, callWhole]) {
    const before = JSON.parse(Buffer.from(by(new Uint8Array(encode({ format: "slopewright.request/1", lang: "es", op: "about" })))).toString());
    assert.equal(before.faults?.[0].field, "lang", "without them it is refused");
    const give = words.get(by);
    assert.ok(give("riser") instanceof Error && give(new Uint8Array(encode("riser"))) instanceof Error, "what is no catalogue");
    assert.equal(give(new Uint8Array(spanish)), undefined);
  }
  const drawings = [{ name: "section" }];
  for (const { plan } of demos) {
    const answer = same({ format: "slopewright.request/1", lang: "es", plan, drawings });
    assert.match(answer.answer[0].says, /contrahuella/);
    assert.match(answer.drawings.section, /Terreno/);
    const sketch = same({ format: "slopewright.request/1", lang: "es", op: "sketch", plan, drawings });
    assert.match(sketch.answer[0].says, /contrahuella/);
  }
  const { plan } = demos[0];
  same({ format: "slopewright.request/1", lang: "es", op: "about" });
  same({ format: "slopewright.request/1", lang: "es", plan: { ...plan, soil: { class: "moss" } } });
  same({ format: "slopewright.request/1", lang: "es", plan, sheets: [{ kind: "build" }, { kind: "quote" }], tables: ["bill", "cutplan"] }, callWhole);
  // English is what it was.
  assert.match(same({ format: "slopewright.request/1", plan }).answer[0].says, /riser/);
});
