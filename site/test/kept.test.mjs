// What is kept between visits beside the plans: what can be taken back, and the
// plans beside.
import assert from "node:assert/strict";
import { describe, test } from "node:test";
import { driven, planOf } from "./driven.mjs";

const d = driven();
const button = (name) => d.page.getByRole("button", { name, exact: true });
const asleep = () => d.page.locator("slopewright-planner").evaluate((el) => el.kept());

describe("after a reload", () => {
  test("what was changed can be taken back, and done again", async () => {
    await d.open();
    await d.settled();
    for (const width of ["1.30 m", "1.40 m", "1.50 m"]) {
      await d.field("path.width").fill(width);
      await d.settled();
      await d.page.locator("h2").first().click();
      await d.page.waitForTimeout(1600); // each a change of its own
    }
    await button("Undo").click();
    assert.equal((await d.plan()).path.width, "1.40 m");
    await d.settled();
    await asleep();
    await d.page.reload();
    await d.settled();
    await button("Undo").click();
    assert.equal((await d.plan()).path.width, "1.30 m");
    await button("Redo").click();
    await button("Redo").click();
    assert.equal((await d.plan()).path.width, "1.50 m");
    await d.settled();
  });

  test("each plan has its own; closed at once, hardly anything is lost", async () => {
    await d.open();
    await d.settled();
    await d.field("title").fill("First");
    await d.settled();
    await button("Blank book").click();
    await d.page.getByText("A blank page.").waitFor();
    assert.equal(await button("Undo").getAttribute("aria-disabled"), "true");
    await d.field("title").fill("Second");
    await d.page.reload(); // the page is left in the middle of it
    await d.page.waitForFunction(() => document.querySelector("slopewright-planner").plan.title === "Second");
    await d.page.locator("[data-panel=plans]").click();
    await d.page.getByRole("button", { name: /^First/ }).click();
    await d.page.waitForFunction(() => document.querySelector("slopewright-planner").plan.title === "First");
    await button("Undo").click();
    assert.notEqual((await d.plan()).title, "First");
  });

  test("plans beside stay beside, until they are put away", async () => {
    await d.open();
    await d.show(await planOf("gentle"));
    await button("Keep this one beside").click();
    await d.page.locator(".beside").waitFor();
    await asleep();
    await d.page.reload();
    await d.headline().waitFor();
    await d.page.locator(".beside thead th").nth(1).waitFor();
    await d.field("path.width").fill("1.60 m");
    await d.settled();
    await d.page.getByRole("button", { name: "Go back to it, 1" }).click();
    await d.settled();
    assert.equal((await d.plan()).path.width, (await planOf("gentle")).path.width);
    await d.page.getByRole("button", { name: "Put away, 1" }).click();
    await asleep();
    await d.page.reload();
    await d.headline().waitFor();
    assert.equal(await d.page.locator(".beside").count(), 0);
  });

  test("a stroke is kept though the tab is killed right after it", async () => {
    await d.open();
    await d.settled();
    await d.field("path.width").fill("1.30 m");
    await d.settled();
    await asleep();
    // Written, and the page's thread never comes back: no database gets to write.
    const tab = await d.browser.newBrowserCDPSession();
    const before = (await tab.send("SystemInfo.getProcessInfo")).processInfo.filter((p) => p.type === "renderer");
    const dead = d.page.waitForEvent("crash");
    d.page
      .evaluate(() => {
        const input = document.querySelector("slopewright-planner").shadowRoot.querySelector('[data-field="path.width"]');
        input.value = "1.37 m";
        input.dispatchEvent(new InputEvent("input", { bubbles: true, composed: true }));
        for (;;);
      })
      .catch(() => undefined);
    await new Promise((resolve) => setTimeout(resolve, 300));
    const busy = (await tab.send("SystemInfo.getProcessInfo")).processInfo.map((p) => ({ ...p, took: p.cpuTime - (before.find((b) => b.id === p.id)?.cpuTime ?? Infinity) })).sort((a, b) => b.took - a.took)[0];
    assert.equal(busy.type, "renderer");
    process.kill(busy.id, "SIGKILL");
    await dead;
    const kept = () => d.page.evaluate(() => localStorage.getItem("slopewright:book"));
    const again = await d.context.newPage();
    await d.page.close();
    d.page = again;
    await again.goto(d.base);
    await d.settled();
    assert.equal((await d.plan()).path.width, "1.37 m");
    assert.equal(await kept(), "{}", "it is in the database now");
    await d.page.locator("[data-panel=plans]").click();
    await d.page.locator(".kept li").first().waitFor();
    assert.equal(await d.page.locator(".kept li").count(), 1, "and still one plan");
  });

  test("what was damaged is left out, and the page lives", async () => {
    await d.open();
    await d.settled();
    await d.field("path.width").fill("1.30 m");
    await d.settled();
    await asleep();
    await d.page.evaluate(async () => {
      const db = await new Promise((resolve) => (indexedDB.open("slopewright:book").onsuccess = (e) => resolve(e.target.result)));
      const store = db.transaction("last", "readwrite").objectStore("last");
      const keys = await new Promise((resolve) => (store.getAllKeys().onsuccess = (e) => resolve(e.target.result)));
      for (const key of keys) if (key !== "id") store.put([{ title: 1, answer: "x" }, { past: "x" }, null, { title: "t", answer: [], book: { format: "slopewright.book/1", plan: {}, pages: { rod: null } } }], key);
      await new Promise((resolve) => (store.transaction.oncomplete = resolve));
      db.close();
    });
    await d.page.reload();
    await d.settled();
    assert.equal(await button("Undo").getAttribute("aria-disabled"), "true");
    assert.equal(await d.page.locator(".beside").count(), 0);
  });
});

describe("a database that is slow to open", () => {
  /** From the next page on it opens when it is let. */
  const slow = () =>
    d.page.addInitScript(() => {
      const open = indexedDB.open.bind(indexedDB);
      indexedDB.open = (...of) => {
        const request = open(...of);
        let told;
        Object.defineProperty(request, "onsuccess", { set: (then) => (told = then) });
        request.addEventListener("success", async (event) => {
          await new Promise((resolve) => (globalThis.letOpen = resolve));
          told?.(event);
        });
        return request;
      };
    });
  const letOpen = async () => {
    await d.page.waitForFunction(() => globalThis.letOpen);
    await d.page.evaluate(() => globalThis.letOpen());
  };

  test("holds up nobody who has nothing there, and what they write meanwhile is kept", async () => {
    await d.open();
    await slow();
    await d.page.reload();
    await d.settled();
    await d.field("path.width").fill("1.35 m");
    await d.settled();
    await letOpen();
    await asleep();
    await d.page.reload();
    await letOpen();
    await d.settled();
    assert.equal((await d.plan()).path.width, "1.35 m");
  });

  test("is waited for where a plan was kept; where that is not known the plan takes the demo's place when it is read", async () => {
    await d.open();
    await d.settled();
    await d.field("path.width").fill("1.35 m");
    await d.settled();
    await asleep();
    await slow();
    await d.page.reload();
    await d.page.waitForTimeout(1000);
    assert.equal(await d.headline().count(), 0, "no other plan is shown first");
    await letOpen();
    await d.settled();
    assert.equal((await d.plan()).path.width, "1.35 m");
    await d.page.evaluate(() => localStorage.clear());
    await d.page.reload();
    await d.settled();
    assert.notEqual((await d.plan()).path.width, "1.35 m");
    await letOpen();
    await d.page.waitForFunction(() => document.querySelector("slopewright-planner").plan.path.width === "1.35 m");
    await d.settled();
  });
});
