// How long the page takes, printed and held to nothing: the first answer on a
// slow phone and a slow network, cold and warm and with a plan of one's own, and
// when the calculator itself runs; and a point of a hill that is dragged, from
// the pointer's event to the painted drawing. Beside each stands what the browser
// takes here by itself: for an empty page, and for a line that moves.
// make bench-page builds what this needs; the name of a hill after it drags that one alone.
import { readFileSync } from "node:fs";
import { mkdtemp, readdir, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { chromium } from "playwright-core";
import { builtMounts, serve } from "../serve.mjs";

const root = join(dirname(fileURLToPath(import.meta.url)), "..", "..");
const FLAGS = "--headless --no-sandbox --disable-gpu --no-first-run --disable-background-networking --disable-component-update --disable-sync".split(" ");

// The browser's own profile of a fast 4G network: 9 Mbit/s down, 1.5 up, nine
// tenths of each; 60 ms of latency 2.75 times over, as a request sees it.
const NETWORK = { offline: false, downloadThroughput: (9e6 / 8) * 0.9, uploadThroughput: (1.5e6 / 8) * 0.9, latency: 60 * 2.75 };
const SLOWER = 4;

const empty = await mkdtemp(join(tmpdir(), "empty-"));
await writeFile(join(empty, "index.html"), '<!doctype html><meta charset="utf-8"><title>Empty</title><p>An answer.</p>');
const server = await serve({ ...builtMounts(), "/empty/": empty });
const base = `http://localhost:${server.address().port}`;
// What takes long to pack is packed before anybody waits for it.
const files = (await readdir(join(root, "build", "site"), { recursive: true })).filter((file) => /\.\w+$/.test(file));
for (const path of files) await (await fetch(`${base}/${path}`, { headers: { "Accept-Encoding": "br" } })).arrayBuffer();
const browser = await chromium.launch({ executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium", args: FLAGS });
const n = (ms) => ms.toFixed(ms < 100 ? 1 : 0).padStart(7);
const share = (sorted, p) => sorted[Math.min(sorted.length - 1, Math.ceil(sorted.length * p) - 1)];

/** A new window of a slow phone on a slow network, or on one that takes no time. */
async function slowPage(context, network = NETWORK) {
  const page = await context.newPage();
  const cdp = await context.newCDPSession(page);
  if (network) {
    await cdp.send("Network.enable");
    await cdp.send("Network.emulateNetworkConditions", network);
  }
  await cdp.send("Emulation.setCPUThrottlingRate", { rate: SLOWER });
  return page;
}

/** Goes there, and says when the page says that it is painted. */
async function painted(page, url) {
  await page.waitForTimeout(3000); // what the browser does of its own in a new window
  // To ask the page would have it run what asks, which takes tens of ms of such a phone.
  const told = page.waitForEvent("console", { predicate: (message) => message.text() === "painted", timeout: 60_000 });
  await page.goto(url, { waitUntil: "commit" });
  await told;
  return page.evaluate(() => globalThis.painted);
}

const only = process.argv[2]; // the hill to drag

try {
  if (!only) console.log(`First answer, with ${SLOWER} times slower CPU and the network of a fast 4G (ms from navigation to the painted answer; to be at most 3000 cold, 1000 warm):`);
  for (let run = 0; run < 3 && !only; run++) {
    const context = await browser.newContext({ viewport: { width: 390, height: 844 } });
    const line = [];
    const bare = await slowPage(context, null); // a warm visit does not wait for the network either
    await bare.addInitScript(() => addEventListener("DOMContentLoaded", () => requestAnimationFrame(() => {
      const { port1, port2 } = new MessageChannel();
      port1.onmessage = () => {
        globalThis.painted = performance.now();
        console.log("painted");
      };
      port2.postMessage(0);
    })));
    line.push(`an empty page ${n(await painted(bare, `${base}/empty/`))}`);
    await bare.close();
    for (const visit of ["cold", "warm", "own plan"]) {
      const page = await slowPage(context);
      await page.addInitScript(() => {
        const frame = () => new Promise((resolve) => requestAnimationFrame(resolve));
        addEventListener("slopewright-result", async ({ target }) => {
          void target.ready().then(() => (globalThis.runs ??= performance.now()));
          await target.updateComplete;
          // Every sentence of the answer, and the section, laid out on the page.
          const seen = () => {
            const all = [...target.shadowRoot.querySelectorAll(".first, .sentences li, figure svg.sw-section")];
            return all.length === target.result.answer.length + 1 && all.every((e) => e.getClientRects().length > 0);
          };
          while (!seen()) await frame();
          await frame();
          const { port1, port2 } = new MessageChannel();
          port1.onmessage = () => {
            globalThis.painted ??= performance.now();
            console.log("painted");
          };
          port2.postMessage(0);
        });
      });
      const first = await painted(page, base);
      await page.waitForFunction(() => globalThis.runs !== undefined, undefined, { timeout: 60_000 });
      line.push(`${visit} ${n(first)} (calculator ${n(await page.evaluate(() => globalThis.runs))})`);
      await page.waitForTimeout(4000); // what is put aside for the next visit
      if (visit === "warm") {
        await page.locator('[data-field="path.width"]').fill("1.35 m");
        await page.waitForTimeout(4000);
      }
      await page.close();
    }
    console.log(`  ${line.join("  ")}`);
    await context.close();
  }

  console.log("A ground point dragged, from the pointer's event, in ms: 95th percentile, and the median behind it. The drawing is to be painted after at most 33.");
  const PARTS = { sent: "request sent", calculator: "calculator", page: "its answer to painted", steps: "steps painted" };
  const twelve = { format: "slopewright.plan/1", units: "metric", path: { width: "1.2 m" }, ground: { method: "levels", readings: Array.from({ length: 20 }, (_, i) => ({ at: `${((12 * i) / 19).toFixed(2)} m`, level: `${((3 * i) / 19 + 0.12 * Math.sin(i)).toFixed(2)} m` })) } };
  const demo = (name) => JSON.parse(readFileSync(join(root, "testdata", "plans", `${name}.json`), "utf8"));
  // The 12 m hill with all that is left open: both kinds of flight and both ends, whatever is made least.
  const open = (prefer) => ({
    ...twelve,
    path: { ...twelve.path, foot: { slack: "0.01 m" }, head: { slack: "0.01 m" } },
    steps: { kinds: ["box", "framed"], prefer },
    stock: [["100x200", "2.4 m", "31.90"], ["100x200", "3 m", "41.50"], ["2x12", "3.6 m", "29.80"], ["2x12", "4.8 m", "41.20"], ["2x6", "3.6 m", "12.40"]].map(([section, length, price]) => ({ section, length, price })),
  });
  const dragged = [["gentle", demo("gentle")], ["twelve", twelve], ["bench", demo("bench")], ["steepening", demo("steepening")], ...["digging", "hours", "cost", "walking"].map((prefer) => [`open, ${prefer}`, open(prefer)])];
  for (const [name, plan] of dragged.filter(([name]) => !only || name.startsWith(only))) {
    const page = await browser.newPage({ viewport: { width: 1280, height: 900 } });
    await page.addInitScript(() => {
      // When the last request went to a worker, when the last answer came, and what waits for it to be drawn.
      globalThis.Worker = class extends Worker {
        constructor(...given) {
          super(...given);
          this.addEventListener("message", ({ data }) => {
            globalThis.came = performance.now();
            if (data.kind === "answer") globalThis.asked = this.posted?.[data.id];
          });
        }
        postMessage(...given) {
          // Heard after the page has: by then it has drawn what came.
          if (!this.heard) this.addEventListener("message", (this.heard = () => globalThis.drawn?.()));
          globalThis.went = performance.now();
          (this.posted ??= {})[given[0].id] = globalThis.went;
          super.postMessage(...given);
        }
      };
    });
    await page.goto(base);
    await page.evaluate((plan) => (document.querySelector("slopewright-planner").plan = plan), { ...plan, title: name });
    await page.waitForFunction((name) => document.querySelector("slopewright-planner").result?.title === name, name, { timeout: 60_000 });
    await page.locator('[data-grip^="ground-"]').first().waitFor();
    await page.waitForTimeout(1500);
    const alone = await page.evaluate(async () => {
      const line = document.querySelector("slopewright-planner").shadowRoot.querySelector("figure .sw-ground");
      const frame = () => new Promise((resolve) => requestAnimationFrame(resolve));
      const times = [];
      for (let i = 0; i < 100; i++) {
        await frame();
        const start = performance.now();
        line.setAttribute("transform", `translate(0 ${i % 9})`);
        await frame();
        times.push(await new Promise((resolve) => {
          const { port1, port2 } = new MessageChannel();
          port1.onmessage = () => resolve(performance.now() - start);
          port2.postMessage(0);
        }));
      }
      line.removeAttribute("transform");
      return times;
    });
    alone.sort((a, b) => a - b);
    console.log(`  ${name.padEnd(13)} a line that moves by itself painted ${n(share(alone, 0.95)).trim()} (${n(share(alone, 0.5)).trim()})`);
    for (const when of ["at once", "later"]) {
      if (when === "later") {
        // Somebody turned to the drawing: the calculator gets practice meanwhile.
        await page.locator("figure[part=drawing]").dispatchEvent("pointerenter");
        await page.waitForTimeout(4000);
      }
      const moves = await page.evaluate(async () => {
        const root = document.querySelector("slopewright-planner").shadowRoot;
        const all = [...root.querySelectorAll('[data-grip^="ground-"]')];
        const grip = all[all.length >> 1];
        const layer = root.querySelector(".grips");
        layer.setPointerCapture = () => {};
        const box = grip.querySelector(".face").getBoundingClientRect();
        const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
        const send = (type, dy) => layer.dispatchEvent(new PointerEvent(type, { pointerId: 1, button: 0, clientX: x, clientY: y - dy, bubbles: true, composed: true }));
        const frame = () => new Promise((resolve) => requestAnimationFrame(resolve));
        /** Once what stands now is painted: in the frame that runs, or in the next. */
        const painted = () => new Promise((resolve) => {
          const { port1, port2 } = new MessageChannel();
          port1.onmessage = () => resolve(performance.now());
          port2.postMessage(0);
        });
        send("pointerdown", 0);
        const moves = [];
        const seen = new Set(); // moves of less than a reading's last place are one
        for (let i = 0; i < 120; i++) {
          await frame(); // a browser sends a move at the beginning of a frame
          const start = performance.now();
          send("pointermove", 12 + 10 * Math.sin(i / 3) + (i % 2));
          const sent = globalThis.went - start;
          await new Promise((resolve) => (globalThis.drawn = resolve));
          const calculator = globalThis.came - globalThis.went;
          await frame();
          const steps = await painted();
          moves.push({ sent, calculator, page: steps - globalThis.came, steps: steps - start });
          seen.add(root.querySelector("figure .sw-ground").getAttribute("d"));
        }
        if (seen.size < 20) throw new Error("the ground does not follow the pointer");
        send("pointerup", 0);
        return moves.slice(10);
      });
      const told = Object.entries(PARTS).map(([part, label]) => {
        const times = moves.map((m) => m[part]).sort((a, b) => a - b);
        return `${label} ${n(share(times, 0.95)).trim()} (${n(share(times, 0.5)).trim()})`;
      });
      console.log(`  ${name.padEnd(13)} ${when.padEnd(8)} ${told.join("; ")}`);
    }
    // A finger that never rests: a move at every frame, whether the one before is drawn or not.
    const { waits, drawings, moves } = await page.evaluate(async () => {
      const root = document.querySelector("slopewright-planner").shadowRoot;
      const all = [...root.querySelectorAll('[data-grip^="ground-"]')];
      const layer = root.querySelector(".grips");
      layer.setPointerCapture = () => {};
      const { x, y, width, height } = all[all.length >> 1].querySelector(".face").getBoundingClientRect();
      const send = (type, dy) => layer.dispatchEvent(new PointerEvent(type, { pointerId: 1, button: 0, clientX: x + width / 2, clientY: y + height / 2 - dy, bubbles: true, composed: true }));
      const frame = () => new Promise((resolve) => requestAnimationFrame(resolve));
      const painted = () => new Promise((resolve) => {
        const { port1, port2 } = new MessageChannel();
        port1.onmessage = () => resolve(performance.now());
        port2.postMessage(0);
      });
      let changed = false;
      new MutationObserver(() => (changed = true)).observe(root.querySelector("svg.sw-section"), { subtree: true, attributes: true, childList: true, characterData: true });
      const [starts, drawn] = [[], []];
      globalThis.drawn = async () => {
        const of = globalThis.asked; // the request that was answered was posted then
        for (let k = 0; k < 20; k++) await undefined; // the page's own promises
        if (!changed) return;
        changed = false;
        await frame();
        drawn.push({ of, at: await painted() });
      };
      send("pointerdown", 0);
      for (let i = 0; i < 200; i++) {
        await frame();
        starts.push(performance.now());
        send("pointermove", 12 + 10 * Math.sin(i / 3) + (i % 2));
      }
      await new Promise((resolve) => setTimeout(resolve, 300));
      send("pointerup", 0);
      // From a move to the painted drawing of it, or of one after it.
      return { waits: starts.slice(10).map((t) => (drawn.find((d) => d.of >= t)?.at ?? Infinity) - t), drawings: drawn.length, moves: starts.length };
    });
    waits.sort((a, b) => a - b);
    console.log(`  ${name.padEnd(13)} in a row steps painted ${n(share(waits, 0.95)).trim()} (${n(share(waits, 0.5)).trim()}); ${drawings} drawings of ${moves} moves`);
    await page.close();
  }
} finally {
  await rm(empty, { recursive: true });
  await browser.close();
  server.close();
  server.closeAllConnections();
}
