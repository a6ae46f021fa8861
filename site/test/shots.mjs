// Pictures of the page to be looked at: every section, light, dark and printed,
// on a phone, a tablet and a desktop, in both languages; and as it comes on paper. Usage: node shots.mjs [PLAN…]
// [only=PART], after make site; they lie in build/screenshots/sections.
import { mkdir } from "node:fs/promises";
import { join } from "node:path";
import { chromium } from "playwright-core";
import { builtMounts, serve } from "../serve.mjs";
import { FLAGS, planOf, shots } from "./driven.mjs";

const args = process.argv.slice(2);
const only = args.find((a) => a.startsWith("only="))?.slice(5);
const plans = args.filter((a) => !a.startsWith("only="));
const folder = join(shots, "sections");
await mkdir(folder, { recursive: true });
const server = await serve(builtMounts());
const browser = await chromium.launch({ executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium", args: FLAGS });
try {
  for (const name of plans.length > 0 ? plans : ["offer", "earth"]) {
    for (const [device, width, height, scale] of [["desktop", 1280, 900, 1], ["tablet", 768, 1024, 1], ["phone", 360, 740, 2]]) {
      for (const lang of ["en", "es"]) {
        const context = await browser.newContext({ viewport: { width, height }, deviceScaleFactor: scale, serviceWorkers: "block", locale: lang, reducedMotion: "reduce", hasTouch: device !== "desktop" });
        const page = await context.newPage();
        await page.goto(`http://localhost:${server.address().port}/`);
        await page.locator(".first").waitFor({ timeout: 60000 });
        await page.evaluate((plan) => (document.querySelector("slopewright-planner").plan = plan), await planOf(name));
        await page.waitForFunction((title) => document.querySelector("slopewright-planner").result?.title === title, (await planOf(name)).title, { timeout: 60000 });
        await page.locator("[data-do=grips]").waitFor();
        // Something to see in every section.
        if (!only || ["choices", "pins", "paper"].includes(only)) {
          await page.locator("#choices button").first().click();
          await page.locator("#pins button").first().click();
          await page.locator("[data-ask=sheet-build]").click();
          await page.frameLocator(".taken iframe").locator("main h1").waitFor({ timeout: 120000 });
          await page.locator("#choices li").first().waitFor({ timeout: 180000 });
        }
        for (const scheme of ["light", "dark"]) {
          await page.emulateMedia({ colorScheme: scheme });
          const parts = await page.evaluate(() => [...document.querySelector("slopewright-planner").shadowRoot.querySelectorAll("[part]")].map((p) => p.getAttribute("part")));
          for (const part of new Set(["page", ...parts.filter((p) => p !== "sheet")])) {
            if (only && part !== only) continue;
            const path = join(folder, `${name}-${part}-${device}-${lang}-${scheme}.png`);
            if (part === "page") await page.screenshot({ path, fullPage: true });
            else await page.locator(`[part="${part}"]`).first().screenshot({ path });
          }
        }
        if (!only) {
          await page.emulateMedia({ colorScheme: "light", media: "print" });
          await page.screenshot({ path: join(folder, `${name}-print-${device}-${lang}.png`), fullPage: true });
          await page.pdf({ path: join(folder, `${name}-print-${device}-${lang}.pdf`), format: "A4" });
        }
        await context.close();
      }
    }
  }
} finally {
  await browser.close();
  server.close();
  server.closeAllConnections();
}
