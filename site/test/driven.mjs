// What the tests in a browser share: the server, a fresh page that listens for
// whatever goes wrong on it, and what the native build answers.
// make builds what they need: build/site, build/landscaper, build/native.
import assert from "node:assert/strict";
import { spawnSync } from "node:child_process";
import { readFile } from "node:fs/promises";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import { after, afterEach, before, beforeEach } from "node:test";
import { fileURLToPath } from "node:url";
import { chromium } from "playwright-core";
import { builtMounts, serve } from "../serve.mjs";

export const root = join(dirname(fileURLToPath(import.meta.url)), "..", "..");
export const shots = join(root, "build", "screenshots");
export const FLAGS = "--headless --no-sandbox --disable-gpu --disable-quic --no-first-run --disable-background-networking --disable-component-update --disable-sync".split(" ");
const axe = await readFile(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

/** A plan of the tests' own, as a document. */
export const planOf = async (name) => JSON.parse(await readFile(join(root, "testdata", "plans", `${name}.json`), "utf8"));

/** What the native build answers to a document. */
export function native(document) {
  const run = spawnSync(join(root, "build", "native", "slopewright"), { input: JSON.stringify(document), maxBuffer: 1 << 26 });
  assert.equal(run.status, 0, String(run.stderr));
  return JSON.parse(run.stdout);
}

/** A page on a fresh profile, that tells whatever goes wrong on it. */
export async function fresh(browser, complain, { width = 1280, height = 900, ...more } = {}) {
  const context = await browser.newContext({ viewport: { width, height }, serviceWorkers: "block", ...more });
  const page = await context.newPage();
  page.setDefaultTimeout(15000);
  page.on("console", (m) => {
    if (m.text().includes("blocked by Playwright")) return; // what a test asked for
    if (m.type() === "error" || m.type() === "warning") complain(m.text());
  });
  page.on("pageerror", (err) => complain(String(err)));
  await page.addInitScript(() => {
    addEventListener("securitypolicyviolation", (e) => console.error(`policy: ${e.violatedDirective} ${e.blockedURI}`));
    globalThis.heard = [];
    for (const name of ["slopewright-change", "slopewright-result", "slopewright-error"]) addEventListener(name, (e) => globalThis.heard.push({ name, ...e.detail }));
  });
  return { context, page };
}

/** Nothing that axe finds: with how far colours stand out, which is most of its work; without; or "only" that. */
export async function accessible(page, where, { colours = true } = {}) {
  await page.evaluate(axe);
  const rule = "color-contrast";
  const which = colours === "only" ? { runOnly: { type: "rule", values: [rule] } } : { rules: { [rule]: { enabled: colours } } };
  const { violations } = await page.evaluate((which) => globalThis.axe.run(document, { resultTypes: ["violations"], ...which }), which);
  assert.deepEqual(
    violations.map((v) => `${v.id}: ${v.help}: ${v.nodes.map((n) => n.target.join(" ")).join("; ")}`),
    [],
    `axe, ${where}`,
  );
}

/** A picture for who wants to look at it: PICTURES=1. Tests hold nothing against it. */
export async function picture(of, name, options = {}) {
  if (process.env.PICTURES) await of.screenshot({ path: join(shots, `${name}.png`), ...options });
}

/** Opens every group of wishes at once; that each opens when it is pressed is for other tests. */
export async function unfold(page, of = "slopewright-planner") {
  await page.waitForFunction((of) => {
    const closed = [...document.querySelector(of).shadowRoot.querySelectorAll("details:not([open]) > summary")];
    for (const summary of closed) summary.click();
    return closed.length === 0; // what was opened may hold more
  }, of);
}

/** Sets up a browser for the tests of a file; what is open now is in what it gives. */
export function driven() {
  const d = {
    server: undefined,
    browser: undefined,
    base: "",
    context: undefined,
    page: undefined,
    complaints: [],

    /** Opens a page on a fresh profile. */
    async open(path = "/", options = {}, at = d.base) {
      await d.context?.close();
      Object.assign(d, await fresh(d.browser, (what) => d.complaints.push(what), options));
      await d.page.goto(at + path);
      return d.page;
    },

    field: (name) => d.page.locator(`[data-field="${name}"]`),
    headline: () => d.page.locator("slopewright-planner .first"),
    plan: () => d.page.locator("slopewright-planner").evaluate((el) => el.plan),

    /** Opens a plan and waits for what follows from it. */
    async show(plan, lang = "en") {
      await d.page.waitForFunction(() => customElements.get("slopewright-planner"));
      await d.page.evaluate((plan) => (document.querySelector("slopewright-planner").plan = plan), plan);
      return d.settled(lang);
    },

    /** Waits until the page shows what the native build says, in a language, of the plan as it stands. */
    async settled(lang = "en") {
      await d.headline().waitFor();
      const want = native({ format: "slopewright.request/1", lang, plan: await d.plan() });
      assert.equal(want.format, "slopewright.result/1", JSON.stringify(want.faults));
      await d.page.waitForFunction(
        (says) => {
          const root = document.querySelector("slopewright-planner").shadowRoot;
          return !root.querySelector(".live.stale") && [...root.querySelectorAll(".first, .sentences li")].map((e) => e.textContent).join("\n") === says;
        },
        want.answer.map((s) => s.says).join("\n"),
      );
      return want;
    },

    /** Opens one of the groups of wishes, as a person does. */
    async group(title) {
      const summary = d.page.locator("summary", { hasText: title });
      if (!(await summary.evaluate((s) => s.parentElement.open))) await summary.click();
    },

    /** Opens every group of wishes at once. */
    async unfold() {
      await unfold(d.page);
    },

    accessible: (where, of) => accessible(d.page, where, of),
  };
  before(async () => {
    d.server = await serve(builtMounts());
    d.base = `http://localhost:${d.server.address().port}`;
    d.browser = await chromium.launch({ executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium", args: FLAGS });
  });
  after(async () => {
    await d.browser?.close();
    d.server?.close();
    d.server?.closeAllConnections();
  });
  beforeEach(() => {
    d.complaints = [];
  });
  afterEach(async () => {
    await d.context?.close();
    d.context = undefined;
    assert.deepEqual(d.complaints, [], "nothing on the console, no policy violated");
  });
  return d;
}
