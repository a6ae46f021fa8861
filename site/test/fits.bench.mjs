// The fits of BenchmarkFits in a browser, beside what they took natively: make
// bench-fits. Printed, held to nothing. Each is asked of a worker's program as the
// page asks it: sketches of the small one, choices of the whole one.
import { readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { chromium } from "playwright-core";
import { builtMounts, serve } from "../serve.mjs";

const FLAGS = "--headless --no-sandbox --disable-gpu --no-first-run --disable-background-networking --disable-component-update --disable-sync".split(" ");
const fits = JSON.parse(readFileSync(process.argv[2], "utf8"));
const server = await serve(builtMounts());
const browser = await chromium.launch({ executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium", args: FLAGS });
try {
  const page = await browser.newPage();
  await page.goto(`http://localhost:${server.address().port}/`);
  await page.evaluate(() => {
    const workers = {};
    globalThis.ask = (whole, request) => {
      const worker = (workers[whole] ??= new Worker("slopewright-worker.js", { name: whole ? "slopewright-whole" : "slopewright" }));
      return new Promise((resolve, reject) => {
        worker.onmessage = ({ data }) => {
          if (data.kind === "ready" || data.kind === "progress") return;
          if (data.kind === "answer") {
            const head = new TextDecoder().decode(data.answer.subarray(0, 400));
            if (head.includes("slopewright.error/")) return reject(new Error(head));
          }
          if (data.kind === "answer") resolve(data.ms);
          else reject(new Error(JSON.stringify(data)));
        };
        worker.postMessage({ id: 1, lang: "en", request: new TextEncoder().encode(JSON.stringify(request)) });
      });
    };
  });
  const n = (x, digits = 1) => x.toFixed(digits).padStart(9);
  console.log("12 m, 20 readings; ms, the quickest of some runs\n" + "".padEnd(34) + "   native  browser    times  allocations       MB");
  for (const { name, request, ms, allocs, bytes } of fits) {
    const whole = request.choices === true;
    let best = Infinity;
    // A browser makes code quick that has run some times.
    const until = performance.now() + 2000;
    for (let run = 0; run === 0 || performance.now() < until; run++) best = Math.min(best, await page.evaluate(([whole, request]) => globalThis.ask(whole, request), [whole, request]));
    console.log(name.padEnd(34), n(ms), n(best), n(best / ms), String(allocs).padStart(12), n(bytes / 1e6));
  }
} finally {
  await browser.close();
  server.close();
  server.closeAllConnections();
}
