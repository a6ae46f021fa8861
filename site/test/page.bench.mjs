// How long the page takes, printed and held to nothing: the first answer on a
// slow phone and a slow network, cold and warm and with a plan of one's own, and
// when the calculator itself runs; and a point of the 12 m demo that is dragged,
// from the pointer's event to the painted drawing.
// make bench-page builds what this needs.
import { readFileSync } from "node:fs";
import { readdir } from "node:fs/promises";
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

const server = await serve(builtMounts());
const base = `http://localhost:${server.address().port}`;
// What takes long to pack is packed before anybody waits for it.
const files = (await readdir(join(root, "build", "site"), { recursive: true })).filter((file) => /\.\w+$/.test(file));
for (const path of files) await (await fetch(`${base}/${path}`, { headers: { "Accept-Encoding": "br" } })).arrayBuffer();
const browser = await chromium.launch({ executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium", args: FLAGS });
const n = (ms) => ms.toFixed(ms < 100 ? 1 : 0).padStart(7);
const share = (sorted, p) => sorted[Math.min(sorted.length - 1, Math.ceil(sorted.length * p) - 1)];

try {
  console.log(`First answer, with ${SLOWER} times slower CPU and the network of a fast 4G (ms from navigation to the painted answer; to be at most 3000 cold, 1000 warm):`);
  for (let run = 0; run < 3; run++) {
    const context = await browser.newContext({ viewport: { width: 390, height: 844 } });
    const line = [];
    for (const visit of ["cold", "warm", "own plan"]) {
      const page = await context.newPage();
      const cdp = await context.newCDPSession(page);
      await cdp.send("Network.enable");
      await cdp.send("Network.emulateNetworkConditions", NETWORK);
      await cdp.send("Emulation.setCPUThrottlingRate", { rate: SLOWER });
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
          port1.onmessage = () => (globalThis.painted ??= performance.now());
          port2.postMessage(0);
        });
      });
      await page.waitForTimeout(3000); // what the browser does of its own in a new window
      await page.goto(base);
      await page.waitForFunction(() => globalThis.painted !== undefined, undefined, { timeout: 60_000 });
      const first = await page.evaluate(() => globalThis.painted);
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

  console.log("A ground point dragged, pointer event to painted drawing (ms; the 95th percentile to be at most 33):");
  for (const name of ["gentle", "twelve", "bench", "steepening"]) {
    const page = await browser.newPage({ viewport: { width: 1280, height: 900 } });
    await page.goto(base);
    const twelve = { format: "slopewright.plan/1", title: "twelve", units: "metric", path: { width: "1.2 m" }, ground: { method: "levels", readings: Array.from({ length: 20 }, (_, i) => ({ at: `${((12 * i) / 19).toFixed(2)} m`, level: `${((3 * i) / 19 + 0.12 * Math.sin(i)).toFixed(2)} m` })) } };
    const plan = name === "twelve" ? twelve : JSON.parse(readFileSync(join(root, "testdata", "plans", `${name}.json`), "utf8"));
    await page.evaluate((plan) => (document.querySelector("slopewright-planner").plan = plan), { ...plan, title: name });
    await page.waitForFunction((name) => document.querySelector("slopewright-planner").result?.title === name, name, { timeout: 60_000 });
    await page.locator('[data-grip^="ground-"]').first().waitFor();
    await page.waitForTimeout(500);
    for (const when of ["at once", "later"]) {
      if (when === "later") {
        // Somebody turned to the drawing: the quicker calculator is fetched and tried meanwhile.
        await page.locator("figure[part=drawing]").dispatchEvent("pointerenter");
        await page.waitForTimeout(8000);
      }
      const times = await page.evaluate(async () => {
        const root = document.querySelector("slopewright-planner").shadowRoot;
        const all = [...root.querySelectorAll('[data-grip^="ground-"]')];
        const grip = all[all.length >> 1];
        const layer = root.querySelector(".grips");
        layer.setPointerCapture = () => {};
        const box = grip.querySelector(".face").getBoundingClientRect();
        const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
        const send = (type, dy) => layer.dispatchEvent(new PointerEvent(type, { pointerId: 1, button: 0, clientX: x, clientY: y - dy, bubbles: true, composed: true }));
        const painted = () => new Promise((resolve) => requestAnimationFrame(() => { const { port1, port2 } = new MessageChannel(); port1.onmessage = resolve; port2.postMessage(0); }));
        const section = () => root.querySelector("figure svg.sw-section");
        send("pointerdown", 0);
        const times = [];
        for (let i = 0; i < 120; i++) {
          const was = section();
          const start = performance.now();
          send("pointermove", 12 + 10 * Math.sin(i / 3) + (i % 2));
          for (const stop = start + 1000; section() === was && performance.now() < stop; ) await new Promise((resolve) => setTimeout(resolve));
          await painted();
          times.push(performance.now() - start);
        }
        send("pointerup", 0);
        return times.slice(10);
      });
      times.sort((a, b) => a - b);
      console.log(`  ${name.padEnd(12)} ${when.padEnd(8)} median ${n(share(times, 0.5))}  95 % ${n(share(times, 0.95))}  most ${n(times.at(-1))}  (${times.length} moves)`);
    }
    await page.close();
  }
} finally {
  await browser.close();
  server.close();
  server.closeAllConnections();
}
