// Answers that are shown before the calculator is there: the one made with the
// page, and the last one of the device. Only what this build answers to the very
// plan, in the very language, is shown; the calculator takes over at a change.
import assert from "node:assert/strict";
import { describe, test } from "node:test";
import { driven, native } from "./driven.mjs";

const d = driven();
const prefixed = { name: "section", prefix: "sw1" };

/** Keeps the calculator away from the page until it is let in. */
async function without(page) {
  let letIn;
  const gate = new Promise((resolve) => (letIn = resolve));
  await page.route("**/slopewright.wasm*", async (route) => {
    await gate;
    await route.continue();
  });
  return letIn;
}

const element = (f) => d.page.locator("slopewright-planner").evaluate(f);

/** What the page shows without the calculator, and what the calculator says of the plan, drawn as wide. */
async function shown(lang) {
  await d.page.locator("slopewright-planner .sentences li").first().waitFor();
  const { plan, result } = await element((el) => ({ plan: el.plan, result: el.result }));
  const width = Number(/ width="([\d.]+)"/.exec(result.drawings.section)[1]);
  assert.deepEqual(result, native({ format: "slopewright.request/1", lang, plan, drawings: [{ ...prefixed, width }] }), "to the last figure what is answered");
  const page = await element((el) => {
    const root = el.shadowRoot;
    const drawn = root.querySelector("figure svg.sw-section");
    return {
      says: [...root.querySelectorAll(".first, .sentences li")].map((e) => e.textContent),
      stale: root.querySelector(".live.stale") !== null,
      words: [...drawn.querySelectorAll("text")].map((t) => t.textContent),
      high: drawn.getBoundingClientRect().height,
    };
  });
  assert.deepEqual(page.says, result.answer.map((s) => s.says));
  assert.equal(page.stale, false);
  assert.ok(page.high > 100 && page.words.length > 5, "the section is drawn");
  return result;
}

/** Waits for the page to be as far as it comes without the calculator; it shows no answer. */
async function nothingShown() {
  await d.field("path.width").waitFor();
  await d.page.locator("progress").first().waitFor();
  await d.page.waitForTimeout(1200);
  assert.equal(await element((el) => el.result), undefined);
  assert.equal(await d.headline().count(), 0);
}

/** A visit in which a plan of one's own was worked out and kept. */
async function kept() {
  await d.open();
  await d.settled();
  await d.field("path.width").fill("1.35 m");
  const want = await d.settled();
  await d.page.waitForTimeout(300); // what plans can name, which is asked after it
  await element((el) => el.kept());
  return want;
}

/** Puts something else in the place of the last answer that was kept. */
const tamper = (change) =>
  d.page.evaluate(`(async () => {
    const db = await new Promise((resolve) => (indexedDB.open("slopewright:book").onsuccess = (e) => resolve(e.target.result)));
    const store = db.transaction("last", "readwrite").objectStore("last");
    const get = (name) => new Promise((resolve) => (store.get(name).onsuccess = (e) => resolve(e.target.result)));
    const answer = (await get("as it was")) ?? (await get("answer"));
    store.put(answer, "as it was");
    store.put((${change})(structuredClone(answer)), "answer");
    await new Promise((resolve) => (store.transaction.oncomplete = resolve));
    db.close();
  })()`);

describe("a first visit", () => {
  for (const lang of ["en", "es"]) {
    for (const [width, height] of [[390, 844], [1280, 900]]) {
      test(`shows the demo hill solved before the calculator is there: ${lang}, ${width} px`, async () => {
        await d.open("/plans/gentle.json", { locale: lang, width, height });
        const letIn = await without(d.page);
        await d.page.goto(d.base);
        await shown(lang);
        assert.equal((await d.page.evaluate(() => globalThis.heard)).filter((e) => e.name === "slopewright-result").length, 1);
        letIn();
        await element((el) => el.ready());
        await d.settled(lang);
        // Drawn as wide as it is shown, once that can be.
        await d.page.waitForFunction(() => {
          const drawn = document.querySelector("slopewright-planner").shadowRoot.querySelector("figure svg.sw-section");
          return Math.abs(drawn.getBoundingClientRect().width - drawn.viewBox.baseVal.width) < 4;
        });
      });
    }
  }

  test("what is typed before the calculator is there is kept, and answered when it is", async () => {
    await d.open("/plans/gentle.json");
    const letIn = await without(d.page);
    await d.page.goto(d.base);
    await shown("en");
    await d.field("path.width").fill("1.55 m");
    await d.page.locator(".live.stale").first().waitFor(); // what is shown is of another plan, and says so
    await d.page.waitForTimeout(4500); // it is not begun anew for a second request
    await d.field("title").fill("Written early");
    letIn();
    await d.settled();
    assert.equal((await d.plan()).path.width, "1.55 m");
    assert.equal((await d.plan()).title, "Written early");
    await d.page.reload();
    await d.settled();
    assert.equal((await d.plan()).title, "Written early");
  });

  test("an answer of another build, of another plan, broken or missing is not shown", async () => {
    await d.open("/plans/gentle.json");
    await without(d.page);
    for (const change of [(a) => ({ ...a, build: "another" }), (a) => ({ ...a, mark: a.mark.replace(/\d$/, (n) => 9 - n) }), (a) => ({ ...a, width: a.width + 1 }), (a) => ({ ...a, answer: [] }), () => "{", undefined]) {
      await d.page.unroute("**/answers/**");
      await d.page.route("**/answers/**", async (route) => {
        if (!change) return route.fulfill({ status: 404, body: "" });
        const made = change(await (await route.fetch()).json());
        await route.fulfill({ contentType: "application/json", body: typeof made === "string" ? made : JSON.stringify(made) });
      });
      await d.page.goto(d.base);
      await nothingShown();
    }
    d.complaints = d.complaints.filter((c) => !/404|preload/.test(c));
  });
});

describe("a later visit", () => {
  test("shows the last answer of the plan that is open before the calculator is there", async () => {
    const want = await kept();
    const letIn = await without(d.page);
    await d.page.reload();
    const result = await shown("en");
    assert.deepEqual(result.answer, want.answer);
    // What can be chosen is known too, and the rest of the page follows.
    assert.ok((await d.field("soil.class").locator("option").count()) > 5);
    await d.page.locator("#stakeout tbody tr").first().waitFor();
    assert.equal(await d.page.locator(".trouble").count(), 0);
    await d.field("path.width").fill("1.45 m");
    await d.page.locator(".live.stale").first().waitFor();
    letIn();
    await d.settled();
  });

  test("not in another language, nor of a plan that another tab changed", async () => {
    await kept();
    await without(d.page);
    await d.page.evaluate(() => localStorage.setItem("slopewright:language", "es"));
    await d.page.reload();
    await nothingShown();
    await d.page.evaluate(() => localStorage.removeItem("slopewright:language"));
    await d.page.evaluate(async () => {
      const db = await new Promise((resolve) => (indexedDB.open("slopewright:book").onsuccess = (e) => resolve(e.target.result)));
      const store = db.transaction("plans", "readwrite").objectStore("plans");
      const [entry] = await new Promise((resolve) => (store.getAll().onsuccess = (e) => resolve(e.target.result)));
      entry.kept.plan.path.width = "1.4 m";
      store.put(entry);
      await new Promise((resolve) => (store.transaction.oncomplete = resolve));
      db.close();
    });
    await d.page.reload();
    await nothingShown();
  });

  test("not of another build, nor damaged, nor something else", async () => {
    await kept();
    await without(d.page);
    const changes = [
      (a) => ({ ...a, build: "another" }),
      (a) => {
        a.answer[a.answer.length >> 1] ^= 1;
        return a;
      },
      (a) => ({ ...a, request: a.request.replace("1.35", "1.45") }),
      (a) => ({ ...a, answer: "x" }),
      () => null,
      () => [{}],
      () => "x".repeat(100000),
    ];
    for (const change of changes) {
      await tamper(change);
      await d.page.reload();
      await nothingShown();
    }
    await tamper((a) => a);
    await d.page.reload();
    await shown("en");
  });

  test("what is undone and done again before the calculator is there is answered when it is", async () => {
    await kept();
    await d.page.locator("h2").first().click();
    await d.page.waitForTimeout(1600); // a change of its own
    await d.field("path.width").fill("1.45 m");
    await d.settled();
    await d.page.getByRole("button", { name: "Undo" }).click();
    await d.settled();
    await element((el) => el.kept());
    const letIn = await without(d.page);
    // A page that is slow to come to rest: what it asks at leisure comes after what is asked in earnest.
    await d.page.addInitScript(() => (window.requestIdleCallback = (then) => setTimeout(then, 400)));
    await d.page.reload();
    await shown("en");
    await d.page.getByRole("button", { name: "Redo" }).click(); // once what can be done again is known
    await d.page.waitForTimeout(200); // asked by now
    await d.page.getByRole("button", { name: "Undo" }).click(); // the plan whose answer was kept
    await d.page.waitForTimeout(200);
    await d.page.getByRole("button", { name: "Redo" }).click();
    await d.page.waitForTimeout(1000);
    letIn();
    await d.settled();
    assert.equal((await d.plan()).path.width, "1.45 m");
  });
});
