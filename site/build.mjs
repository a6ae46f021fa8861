// Builds the page and the landscaper's example into ../build, from the sources
// here and the calculator that `make wasm` puts in ../build/wasm.
import { createHash } from "node:crypto";
import { cp, mkdir, readFile, readdir, rm, stat } from "node:fs/promises";
import { execFileSync } from "node:child_process";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";
import { planFields } from "./fields.mjs";

const here = dirname(fileURLToPath(import.meta.url));
const root = dirname(here);
const out = join(root, "build", "site");
const wasm = join(root, "build", "wasm");

await rm(out, { recursive: true, force: true });
await mkdir(out, { recursive: true });

// One stamp on the module, the worker and the binary: they only work together,
// and a host or cache that mixes two builds is found out by it.
const stamp = createHash("sha256");
for (const name of (await readdir(join(here, "src"))).sort()) stamp.update(await readFile(join(here, "src", name)));
for (const name of ["slopewright.wasm", "slopewright-whole.wasm", "wasm_exec.js"]) stamp.update(await readFile(join(wasm, name)));
const define = {
  __BUILD__: JSON.stringify(stamp.digest("hex").slice(0, 12)),
  __WASM_BYTES__: String((await stat(join(wasm, "slopewright.wasm"))).size),
  __FIELDS__: JSON.stringify(await planFields()),
  __WHOLE_BYTES__: String((await stat(join(wasm, "slopewright-whole.wasm"))).size),
};

const common = { bundle: true, minify: true, target: "es2022", define, legalComments: "eof", logLevel: "warning", tsconfig: join(here, "tsconfig.json") };
await build({ ...common, entryPoints: [join(here, "src/slopewright-planner.ts")], format: "esm", outfile: join(out, "slopewright-planner.js") });
await build({ ...common, entryPoints: [join(here, "src/worker.ts")], format: "iife", outfile: join(out, "slopewright-worker.js") });
for (const name of ["slopewright.wasm", "slopewright-whole.wasm", "wasm_exec.js"]) await cp(join(wasm, name), join(out, name));
await cp(join(here, "page"), out, { recursive: true });
await mkdir(join(out, "plans"));
for (const name of await readdir(join(root, "testdata", "plans"))) {
  const file = join(root, "testdata", "plans", name);
  if (name.endsWith(".json") && JSON.parse(await readFile(file, "utf8")).format === "slopewright.plan/1") await cp(file, join(out, "plans", name));
}

// What a visit needs, put aside by the service worker under a name made of what is in it.
const kept = ["index.html", "page.css", "page.js", "manifest.webmanifest", "icon.svg", "slopewright-planner.js", "slopewright-worker.js", "slopewright.wasm", "wasm_exec.js", ...(await readdir(join(out, "plans"))).map((name) => `plans/${name}`)];
const contents = createHash("sha256").update(await readFile(join(out, "slopewright-whole.wasm"))).update(await readFile(join(here, "src/offline.ts")));
for (const name of kept) contents.update(name).update(await readFile(join(out, name)));
await build({ ...common, define: { __CACHE__: JSON.stringify(contents.digest("hex").slice(0, 12)), __KEPT__: JSON.stringify(["./", ...kept.slice(1)]) }, entryPoints: [join(here, "src/offline.ts")], format: "iife", outfile: join(out, "sw.js") });
execFileSync(process.execPath, [join(here, "types.mjs"), join(out, "slopewright-planner.d.ts")]);

// The landscaper's page, with its own copy of the planner, as a stranger's site would have it.
const landscaper = join(root, "build", "landscaper");
await rm(landscaper, { recursive: true, force: true });
await cp(join(root, "examples", "landscaper"), landscaper, { recursive: true });
for (const name of ["slopewright-planner.js", "slopewright-worker.js", "slopewright.wasm", "slopewright-whole.wasm", "wasm_exec.js"]) {
  await mkdir(join(landscaper, "slopewright"), { recursive: true });
  await cp(join(out, name), join(landscaper, "slopewright", name));
}

// What the tests import.
for (const name of ["book", "tape"]) await build({ ...common, minify: false, entryPoints: [join(here, `src/${name}.ts`)], format: "esm", outfile: join(root, "build", "test", `${name}.mjs`) });
