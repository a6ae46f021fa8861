// The page in Spanish, driven as a person would: nothing is left in English, and
// all works as it does in English. make builds what this needs.
import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, test } from "node:test";
import { driven, native, picture, planOf, root } from "./driven.mjs";

const { english, page: englishPage } = await import(join(root, "build", "test", "words.mjs"));
const { words: spanish, page: spanishPage } = await import(join(root, "build", "test", "words.es.mjs"));

const d = driven();
const { field, headline } = d;
const SPANISH = { locale: "es-MX" };
/** Colours are the same in every language. */
const PLAIN = { colours: false };
const planner = () => d.page.locator("slopewright-planner");
const cell = (line, key) => field(`ground.readings[${line}].${key}`);
const button = (name) => d.page.getByRole("button", { name, exact: true });

/** Waits until the page shows what the native build says, in Spanish, of the plan as it stands. */
const settled = () => d.settled("es");

/** Every text of a catalogue that is not made of parts. */
const flat = (value) => (typeof value === "string" ? [value] : typeof value === "object" ? Object.values(value).flatMap(flat) : []);
const SPANISH_TEXTS = new Set([...flat(spanish), ...flat(spanishPage)]);
const ENGLISH_TEXTS = new Set([...flat(english), ...flat(englishPage)].filter((t) => /\p{L}{3,}/u.test(t) && !SPANISH_TEXTS.has(t)));
/** Words that are no Spanish ones. */
const ENGLISH = /\b(?:the|of|and|with|from|is|are|to|at|for|by|it|its|that|which|what|not|each|this|these|will|be|was|were|than|when|where|your|you|has|have|left|off|up|down|out)\b/i;
/** Names of documents and standards are as they are published; codes are what a document has. */
const ASIDE = "code, #findings small, #cautions small, span.source, datalist option";

/** Authors, titles and standards as they are published: Roads and Pavements, IS 7272. */
const TITLE = /\b[A-Z]{2,}\b|\b[A-Z][\w’'-]*(?: (?:of|and|for|the|at|by) (?:the )?[A-Z][\w’'-]*)+/g;

/** What the page shows, says to those who hear it, and offers as an example, in all its trees; [text, where]. */
async function texts() {
  return d.page.evaluate((aside) => {
    const found = [];
    const where = (e) => (e.closest("[part]")?.getAttribute("part") ?? e.localName) + " " + e.localName + (e.className && typeof e.className === "string" ? `.${e.className}` : "");
    const walk = (node, lang) => {
      if (node.nodeType === Node.TEXT_NODE) {
        const text = node.textContent.replace(/\s+/g, " ").trim();
        if (text) found.push([text, where(node.parentElement), lang]);
        return;
      }
      if (node.nodeType !== Node.ELEMENT_NODE && node.nodeType !== Node.DOCUMENT_FRAGMENT_NODE) return;
      if (node.nodeType === Node.ELEMENT_NODE) {
        if (node.matches("script, style") || node.matches(aside)) return;
        lang = node.getAttribute("lang") || lang;
        for (const name of ["aria-label", "aria-roledescription", "title", "placeholder", "alt"]) {
          const said = node.getAttribute(name);
          if (said) found.push([said, `${where(node)} ${name}`, lang]);
        }
        if (node.shadowRoot) walk(node.shadowRoot, lang);
        if (node.localName === "iframe") walk(node.contentDocument.body, node.contentDocument.documentElement.lang || lang);
      }
      for (const child of node.childNodes) walk(child, lang);
    };
    walk(document.documentElement, "");
    return found;
  }, ASIDE);
}

/** Nothing on the page is in English. */
async function allSpanish(state) {
  const wrong = [];
  for (const [text, where, lang] of await texts()) {
    if (lang === "en" && text === "English") continue; // the name of the language, in itself
    if (ENGLISH_TEXTS.has(text) || ENGLISH.test(text.replace(/«[^»]*»|"[^"]*"/g, "").replace(TITLE, ""))) wrong.push(`${where}: ${text}`);
  }
  assert.deepEqual([...new Set(wrong)], [], state);
}

describe("in Spanish", () => {
  test("who reads English loads none of it; who reads Spanish finds the page, the demo and the answer in it", async () => {
    const asked = [];
    await d.open("/");
    d.page.on("request", (r) => asked.push(r.url()));
    await d.page.reload();
    await headline().waitFor();
    assert.deepEqual(asked.filter((u) => /slopewright-es|\/es\//.test(u)), []);
    assert.equal(await d.page.evaluate(() => document.documentElement.lang), "en");

    await d.open("/", SPANISH);
    const want = await settled();
    assert.equal(await d.page.evaluate(() => document.documentElement.lang), "es");
    assert.equal(await d.page.title(), spanishPage.name);
    assert.equal(await field("title").inputValue(), spanishPage.gentle);
    assert.equal(await d.page.locator("link[rel=manifest]").getAttribute("href"), "manifest.es.webmanifest");
    assert.equal((await d.page.evaluate(async () => (await (await fetch("manifest.es.webmanifest")).json()).lang)), "es");
    assert.equal(await d.page.locator("#stakeout tbody tr").count(), want.layout.risers);
    assert.equal(await cell(1, "drop").inputValue(), "0,41 m");
    assert.equal((await d.plan()).ground.readings[1].drop, "0.41 m", "as it stands in the document");
    await allSpanish("first visit");
    await d.accessible("first visit, Spanish", PLAIN);
  });

  test("nothing is left in English, in any state", async () => {
    await d.open("/", SPANISH);
    await settled();
    await d.unfold();
    await allSpanish("all groups open");
    await d.accessible("all groups open, Spanish", PLAIN);
    for (const method of ["total", "rod", "slope", "levels", "string"]) {
      await d.page.locator(`.methods label:has(input[value=${method}])`).click();
      await d.page.waitForTimeout(300);
      await allSpanish(`method ${method}`);
    }
    for (const units of ["imperial", "metric"]) {
      await d.page.locator(`.switch label:has(input[value=${units}])`).click();
      await settled();
      await allSpanish(units);
    }
    for (const panel of ["plans", "share"]) {
      await d.page.locator(`[data-panel=${panel}]`).click();
      await d.page.locator(`#h-${panel}`).waitFor();
      await allSpanish(panel);
      await d.accessible(`${panel}, Spanish`, PLAIN);
    }
    await button(spanish.choices.ask).click();
    await d.page.locator("#choices li").first().waitFor({ timeout: 90000 });
    await allSpanish("choices");
    await button(spanish.pins.pin).click();
    await field("path.width").fill("1,4 m");
    await settled();
    await allSpanish("a plan beside");
    for (const ask of ["sheet-build", "sheet-quote", "drawing-section", "drawing-plan", "drawing-step", "drawing-cutplan", "drawing-haul"]) {
      await d.page.locator(`[data-ask=${ask}]`).click();
      await d.page.locator(`.taken[aria-label="${spanish.paper[ask.split("-")[0]][ask.split("-")[1]]}"]`).waitFor({ timeout: 60000 });
      await d.page.waitForTimeout(300);
      await allSpanish(ask);
    }
    await d.page.locator("[data-do=paste-list]").click();
    await d.page.locator(".pricelist textarea").fill("item;price;per\n;4x;m3\n");
    await d.page.locator("[data-do=take-list]").click();
    await d.page.locator("#wrong-list b", { hasText: /^línea 2, / }).first().waitFor();
    await allSpanish("a price list with faults");
    await d.accessible("paper, Spanish", PLAIN);
  });

  test("what is wrong is said in Spanish, beside the cell and in the list, and so is what was there before it", async () => {
    await d.open("/");
    await d.settled();
    await d.page.evaluate(() => (document.querySelector("slopewright-planner").plan = "plans/es/gentle.json"));
    await d.page.waitForFunction((title) => document.querySelector("slopewright-planner").result.title === title, spanishPage.gentle);
    const before = native({ format: "slopewright.request/1", lang: "es", plan: await d.plan() });
    await cell(3, "drop").fill("7 fft");
    await field("path.width").fill("-1 m");
    await d.page.locator(".held li").nth(1).waitFor();
    await button("Español").click();
    await headline().getByText(before.answer[0].says.split(". ")[0]).waitFor();
    assert.deepEqual(await d.page.locator(".sentences li").allTextContents(), before.answer.slice(1).map((s) => s.says));
    const { faults } = native({ format: "slopewright.request/1", lang: "es", plan: await d.plan() });
    const text = await d.page.locator(".book").innerText();
    for (const f of faults) assert.ok(text.includes(f.problem.replace(/\.$/, "")), f.problem);
    assert.match(await d.page.locator(".held").innerText(), /^Hay 2 cosas que corregir/);
    await allSpanish("faults");
    await d.accessible("faults, Spanish", PLAIN);
    await button(spanish.plans.blank).click();
    await d.page.getByText(spanish.invite.first).waitFor();
    await cell(0, "at").fill("0 m");
    await d.page.locator(".wanting").waitFor();
    await allSpanish("blank");
    await d.page.locator("[data-panel=plans]").click();
    await d.page.locator(".panel input[type=file]").setInputFiles({ name: "x.json", mimeType: "application/json", buffer: Buffer.from("{") });
    await d.page.locator(".trouble").waitFor();
    await allSpanish("a broken file");
    await d.page.goto(`${d.base}/#plan=!!`);
    await d.page.getByText(spanish.share.fault.broken).waitFor();
    await allSpanish("a broken link");
  });

  test("from a blank book, typed as Spanish is typed", async () => {
    await d.open("/", SPANISH);
    await settled();
    await button(spanish.plans.blank).click();
    await d.page.locator(".switch label", { hasText: spanish.book.foot }).click();
    await cell(0, "at").click();
    // A comma before decimals, also where by itself it might part the thousands; a point does too.
    for (const [at, drop] of [["0 m", "1,9 m"], ["1,25 m", "1.5 m"], ["2,500 m", "1,1 metros"], ["4 m", "0,4 m"]]) {
      await d.page.keyboard.type(at);
      await d.page.keyboard.press("Tab");
      await d.page.keyboard.type(drop);
      await d.page.keyboard.press("Enter");
    }
    await d.page.getByLabel(spanish.book.width).fill("1,2 m");
    const want = await settled();
    const plan = await d.plan();
    assert.deepEqual(plan.ground.readings, [{ at: "0 m", drop: "1,9 m" }, { at: "1,25 m", drop: "1.5 m" }, { at: "2.500 m", drop: "1,1 metros" }, { at: "4 m", drop: "0,4 m" }], "as typed, where the calculator reads it");
    assert.ok(Math.abs(want.ground.points[2].station - 2.5) < 1e-9);
    assert.equal(await cell(2, "at").inputValue(), "2,500 m");
    assert.equal(await cell(1, "drop").inputValue(), "1,5 m", "shown with a comma once it is written");
    // Counts, money and rates.
    for (const title of [spanish.wish.titles.crew, spanish.wish.titles.prices, spanish.wish.titles.timber]) await d.group(title);
    await field("crew.hours_per_day").click();
    await d.page.keyboard.type("7,05");
    assert.equal(await field("crew.hours_per_day").inputValue(), "7,05");
    await field("stock[0].section").fill("100x200");
    await field("stock[0].length").fill("2,4 m");
    await field("stock[0].price").fill("31,90");
    await field("prices.items[0].item").fill("base-gravel");
    await field("prices.items[0].price").fill("48,5");
    await field("prices.items[0].per").fill("m3");
    await field("prices.tax").fill("12,5 %");
    const bill = await settled();
    const written = await d.plan();
    assert.equal(written.crew.hours_per_day, 7.05);
    assert.deepEqual(written.stock, [{ section: "100x200", length: "2,4 m", price: "31.90" }]);
    assert.equal(written.prices.items[0].price, "48.5");
    assert.equal(await field("stock[0].price").inputValue(), "31,90");
    assert.ok(bill.bill.lines.length > 1);
    await allSpanish("typed");
    // Codes as words, with or without their accents.
    await d.group(spanish.more.crew);
    await field("crew.days").click();
    await d.page.keyboard.type("sab, dom");
    await d.group(spanish.wish.titles.fixed);
    await field("steps.fixed[0].kind").fill("cajón");
    await field("steps.fixed[0].risers").fill("9");
    await field("steps.fixed[0].tread").fill("0,5 m");
    await field("path.width").focus();
    await settled();
    assert.deepEqual([(await d.plan()).crew.days, (await d.plan()).steps.fixed], [["sat", "sun"], [{ kind: "box", risers: 9, tread: "0,5 m" }]]);
    assert.equal(await field("crew.days").inputValue(), "sáb, dom");
    await button(spanish.choices.fit).first().click();
    // A column of a spreadsheet, with its own commas.
    await cell(0, "at").focus();
    await d.page.evaluate(() => {
      const data = new DataTransfer();
      data.setData("text/plain", "Distancia\tBajada\n0 m\t1,95 m\n1,250 m\t1,5 m\n");
      document.querySelector("slopewright-planner").shadowRoot.activeElement.dispatchEvent(new ClipboardEvent("paste", { clipboardData: data, bubbles: true, composed: true, cancelable: true }));
    });
    await settled();
    const readings = async () => (await d.plan()).ground.readings.slice(0, 2);
    const pasted = [{ at: "0 m", drop: "1,95 m" }, { at: "1.250 m", drop: "1,5 m" }];
    assert.deepEqual(await readings(), pasted);
    // Readings without a unit are one thing to say, each is marked, and all are given one at once, which can be taken back.
    await cell(0, "drop").fill("1,95");
    await cell(1, "drop").fill("1,5");
    await field("path.width").focus();
    await d.page.locator("#fault-bare", { hasText: spanish.held.bare(2) }).waitFor();
    await d.page.locator(".held li button", { hasText: spanish.held.bare(2) }).click();
    assert.equal(await d.page.locator(".readings [aria-invalid=true][aria-describedby=fault-bare]").count(), 2);
    assert.equal(await d.page.locator(".readings .says, .held li").count(), 1, "it is not said of each");
    await d.page.keyboard.press("Shift+Tab");
    await button("m").click();
    await settled();
    assert.deepEqual(await readings(), pasted);
    await button(spanish.history.undo).click();
    await d.page.locator("#fault-bare").waitFor();
    await button(spanish.history.redo).click();
    await settled();
  });

  test("the language is switched and kept, and nothing written changes", async () => {
    await d.open("/");
    await d.settled();
    await button("Español").click();
    await d.page.waitForFunction((title) => document.querySelector("slopewright-planner").plan.title === title, spanishPage.gentle);
    await settled();
    assert.equal(await field("title").inputValue(), spanishPage.gentle, "the demo that nobody touched is the other language's");
    await d.page.locator("figure svg.sw-section title", { hasText: spanishPage.gentle }).waitFor({ state: "attached" });
    await allSpanish("switched");
    await button(spanish.pins.pin).click();
    await d.page.locator(".beside").waitFor();
    await button("English").click();
    await d.settled();
    await d.page.waitForFunction((says) => document.querySelector("slopewright-planner").shadowRoot.querySelector(".beside tbody td + td")?.textContent === says, english.pins.same);
    await button("Español").click();
    await settled();
    await d.page.reload();
    await settled();
    assert.equal(await button("Español").getAttribute("aria-pressed"), "true");
    await button("English").click();
    await d.settled();
    assert.equal(await d.page.title(), englishPage.name);
    await d.page.waitForFunction((title) => document.querySelector("slopewright-planner").plan.title === title, englishPage.gentle);
    // A plan of one's own stays as it is, whatever is spoken and shown.
    await d.show(await planOf("bench"));
    await field("path.width").fill("3 ft 6 in");
    await d.settled();
    const mine = await d.plan();
    for (const name of ["Español", "English", "Español"]) {
      await button(name).click();
      await (name === "English" ? d.settled() : settled());
      assert.deepEqual(await d.plan(), mine);
    }
    assert.equal(await field("ground.readings[0].back").inputValue(), mine.ground.readings[0].back.replace(".", ","), "decimals as they are written in Spanish, of feet too");
    await d.page.locator(".switch label:has(input[value=metric])").click();
    await settled();
    assert.deepEqual(await d.plan(), { ...mine, units: "metric", sizes: "imperial" }, "whose sizes are the usual ones is still said");
    await button("English").click();
    await d.settled();
    await d.page.locator(".switch label:has(input[value=imperial])").click();
    await d.settled();
    assert.deepEqual(await d.plan(), mine);
  });

  test("an element speaks its own language, or that of what is around it; two on one page", async () => {
    await d.open("/");
    await d.page.route(`${d.base}/host`, (route) =>
      route.fulfill({
        contentType: "text/html",
        headers: { "Content-Security-Policy": "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; worker-src 'self'; connect-src 'self'; img-src 'self' data:" },
        body: '<!doctype html><html lang="en"><title>Host</title><main><section lang="es-AR"><slopewright-planner id="a" plan="/plans/gentle.json"></slopewright-planner></section><slopewright-planner id="b" plan="/plans/gentle.json"></slopewright-planner><slopewright-planner id="c" lang="fr" plan="/plans/total.json"></slopewright-planner></main><script type="module" src="/slopewright-planner.js"></script></html>',
      }),
    );
    await d.page.goto(`${d.base}/host`);
    const heading = (id, words) => d.page.locator(`#${id} #h-stakeout`, { hasText: words.result.stakeout }).waitFor();
    await heading("a", spanish);
    await heading("b", english);
    await heading("c", english);
    assert.deepEqual(await d.page.evaluate(() => ["a", "b", "c"].map((id) => document.getElementById(id).shadowRoot.querySelector(".sheet").lang)), ["es", "en", "en"]);
    await d.page.evaluate(() => (document.querySelector("section").lang = "en"));
    await heading("a", english);
    await d.page.evaluate(() => (document.getElementById("b").lang = "es-MX"));
    await heading("b", spanish);
    await d.page.evaluate(() => (document.documentElement.lang = "es"));
    await d.page.evaluate(() => document.getElementById("b").removeAttribute("lang"));
    await heading("b", spanish);
    await heading("a", english);
    await heading("c", english);
  });

  test("what is still to be announced when the language changes is not said in the old one", async () => {
    await d.open("/");
    await d.settled();
    await d.page.route("**/slopewright-es.js*", async (route) => {
      await new Promise((resolve) => setTimeout(resolve, 1200)); // longer than an announcement waits
      await route.continue();
    });
    const heard = await d.page.evaluate(async () => {
      const planner = document.querySelector("slopewright-planner");
      const status = planner.shadowRoot.querySelector("[role=status]");
      const heard = [];
      new MutationObserver(() => heard.push(status.textContent)).observe(status, { childList: true, characterData: true, subtree: true });
      planner.shadowRoot.querySelector("#pins button").click();
      planner.lang = "es";
      await new Promise((resolve) => setTimeout(resolve, 4000));
      return heard.filter(Boolean);
    });
    assert.ok(heard.length > 0);
    assert.deepEqual(heard.filter((says) => says.includes(english.pins.pinned)), []);
  });

  test("where its words cannot be had the page goes on in English, and says them once they can", async () => {
    await d.open("/", SPANISH);
    await settled();
    await d.page.route("**/slopewright-es.*", (route) => route.fulfill({ status: 503, body: "" }));
    await d.page.reload();
    await headline().waitFor();
    await d.page.locator("#h-stakeout", { hasText: english.result.stakeout }).waitFor();
    d.complaints.length = 0; // the browser tells of what could not be fetched
    await d.page.unroute("**/slopewright-es.*");
    await d.page.evaluate(() => dispatchEvent(new Event("online")));
    await d.page.locator("#h-stakeout", { hasText: spanish.result.stakeout }).waitFor();
    await settled();
  });

  test("on the hill, without a network", async () => {
    await d.open("/", { ...SPANISH, serviceWorkers: "allow" });
    await settled();
    const aside = () =>
      d.page.evaluate(async () => {
        for (const name of await caches.keys()) {
          const cache = await caches.open(name);
          if ((await cache.match("slopewright-es.js")) && (await cache.match("slopewright-es.txt")) && (await cache.match("slopewright-whole.wasm")) && (await cache.match("plans/es/bench.json"))) return true;
        }
        return false;
      });
    for (const late = Date.now() + 30000; !(await aside()); await d.page.waitForTimeout(100)) assert.ok(Date.now() < late, "Spanish is put aside");
    await field("title").fill("Ladera");
    await settled();
    await d.context.setOffline(true);
    await d.page.reload();
    await settled();
    await field("path.width").fill("1,3 m");
    await settled();
    await button(spanishPage.bench).click();
    await d.page.waitForFunction((title) => document.querySelector("slopewright-planner").plan.title === title, spanishPage.bench);
    await settled();
    await d.page.locator("[data-ask=drawing-plan]").click();
    await d.page.locator(".taken figure svg").waitFor({ timeout: 30000 });
    await allSpanish("offline");
    await d.context.setOffline(false);
  });

  test("it fits, from a phone to a desk, light and dark", async () => {
    for (const [width, colorScheme] of [[360, "light"], [360, "dark"], [768, "light"], [1280, "light"], [1280, "dark"]]) {
      await d.open("/", { ...SPANISH, width, colorScheme });
      await settled();
      await d.unfold();
      await d.page.locator("[data-panel=plans]").click();
      const over = await d.page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
      assert.ok(over <= 0, `${width} px: ${over} px too wide`);
      const cut = await planner().evaluate((el) =>
        [...el.shadowRoot.querySelectorAll("button, .methods span, .ways span, h2, summary")].filter((e) => e.clientWidth > 0 && e.scrollWidth > e.clientWidth + 1).map((e) => e.textContent.trim()),
      );
      assert.deepEqual(cut, [], `${width} px: cut off`);
      const small = await planner().evaluate((el) =>
        [...el.shadowRoot.querySelectorAll("button, select, summary, .ways label, .methods label, input[type=text]")].map((e) => [e.getBoundingClientRect(), e.textContent.trim() || e.getAttribute("aria-label")]).filter(([r]) => r.width > 0 && (r.height < 43.5 || r.width < 43.5)).map(([r, t]) => `${t}: ${r.width} by ${r.height}`),
      );
      assert.deepEqual(small, [], `${width} px: too small to tap`);
      await d.accessible(`${width} px ${colorScheme}, Spanish`, { colours: width === 360 });
      await picture(d.page, `es-${width}-${colorScheme}`, { fullPage: true });
    }
  });
});
