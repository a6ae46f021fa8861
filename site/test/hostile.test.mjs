// What a stranger may hand over: files, attributes, properties, what was kept.
// It is refused with a sentence, or the calculator says what is wrong with it,
// and the page lives on. Links and prices have their own tests beside.
import assert from "node:assert/strict";
import { describe, test } from "node:test";
import { gzipSync } from "node:zlib";
import { driven, planOf } from "./driven.mjs";

const d = driven();
const deep = (n, inner) => "[".repeat(n) + inner + "]".repeat(n);
const plan = (fields) => `{"format":"slopewright.plan/1",${fields}"path":{"width":"1 m"},"ground":{"method":"total","rise":"1 m","run":"3 m"}}`;

const REFUSED = {
  "no JSON": ["<script>alert(1)</script>", "not JSON"],
  "packed": [gzipSync(Buffer.alloc(50_000_000)), "not JSON"],
  "another document": ['{"format":"slopewright.result/1"}', "not a Slopewright plan"],
  "a format with more in it": ['{"format":["slopewright.plan/1"],"x":1}', /not a Slopewright plan|put right/],
  "nested without end": [deep(300_000, ""), /not JSON|not a Slopewright plan/],
  "a plan nested without end": [plan(`"notes":${deep(100_000, "1")},`), /not JSON|more than any plan has/],
  "nested objects": [plan(`"soil":${'{"a":'.repeat(5000)}1${"}".repeat(5000)},`), "more than any plan has"],
  "a table without end": [plan(`"stock":${JSON.stringify(Array.from({ length: 60_000 }, () => ({ section: "6x6" })))},`), /more than any plan has|too large/],
  "too large": [Buffer.alloc(2_100_000, 0x20), "too large"],
  "binary": [Buffer.from([0, 255, 254, 1, 2, 3]), "not JSON"],
};
const FAULTED = {
  "prototype names": plan('"__proto__":{"polluted":1},"constructor":{"prototype":{"polluted":1}},"toString":"x",'),
  "gigantic numbers": plan('"crew":{"people":1e308,"hours_per_day":-1e308},"soil":{"haul":9e999},'),
  "digits": plan(`"title":"${"9".repeat(100_000)}","soil":{"haul":"${"9".repeat(10_000)} m"},`),
  "script in every text": plan('"title":"<img src=x onerror=alert(1)>","soil":{"class":"<svg onload=alert(1)>"},"steps":{"rules":"javascript:alert(1)"},'),
  "odd kinds": plan('"stock":"all","prices":[1],"steps":7,"built":{"0":{}},"soil":[],'),
};

describe("files", () => {
  test("refused, or told what is wrong, and the page lives", async () => {
    await d.open();
    const want = await d.settled();
    const give = async (text) => {
      const button = d.page.locator("[data-panel=plans]");
      if ((await button.getAttribute("aria-expanded")) !== "true") await button.click();
      await d.page.locator(".panel input[type=file]").setInputFiles({ name: "a<b>.json", mimeType: "application/json", buffer: Buffer.from(text) });
    };
    for (const [name, [text, says]] of Object.entries(REFUSED)) {
      await give(text);
      await d.page.locator(".trouble, .held", { hasText: says }).first().waitFor({ timeout: 20000 }).catch((err) => assert.fail(`${name}: ${err}`));
      assert.equal(await d.page.locator("slopewright-planner").evaluate((el) => el.plan.title), want.title, `${name}: what was open stays open`);
    }
    for (const [name, text] of Object.entries(FAULTED)) {
      await give(text);
      await d.page.locator(".held li").first().waitFor({ timeout: 20000 }).catch((err) => assert.fail(`${name}: ${err}`));
      assert.equal(await d.page.evaluate(() => ({}).polluted), undefined, name);
      assert.equal(await d.page.locator("slopewright-planner img, slopewright-planner script").count(), 0, name);
      await d.show(await planOf("gentle"));
    }
  });
});

describe("attributes and properties", () => {
  test("whatever they hold, the page lives and nothing runs", async () => {
    await d.open();
    await d.settled();
    const evil = ['"><img src=x onerror=alert(1)>', "javascript:alert(1)", "__proto__", "constructor", "0", " ", "x".repeat(100_000), "../../../../etc/passwd", "data:text/html,<script>alert(1)</script>"];
    for (const name of ["units", "rules", "currency", "sections", "quote", "lang", "keep", "share", "readonly"]) {
      for (const value of evil) {
        await d.page.evaluate(([name, value]) => {
          const el = document.createElement("slopewright-planner");
          el.setAttribute(name, value);
          el.setAttribute("plan", "plans/gentle.json");
          document.querySelector("slopewright-planner").replaceWith(el);
        }, [name, value]);
        await d.page.waitForFunction(() => document.querySelector("slopewright-planner").shadowRoot?.querySelector(".first, .held, .trouble, .notice"), undefined, { timeout: 20000 }).catch((err) => assert.fail(`${name}="${value.slice(0, 40)}": ${err}`));
        assert.equal(await d.page.locator("slopewright-planner img, slopewright-planner script, slopewright-planner a[href^=javascript]").count(), 0, name);
      }
    }
    for (const value of ["plans/none.json", "//[", "data:application/json,{}", "javascript:alert(1)", "{", "[]", "null", plan(`"notes":${deep(3000, "1")},`)]) {
      await d.page.evaluate((value) => {
        const el = document.createElement("slopewright-planner");
        el.setAttribute("plan", value);
        document.querySelector("slopewright-planner").replaceWith(el);
      }, value);
      await d.page.locator(".trouble").waitFor({ timeout: 20000 }).catch((err) => assert.fail(`plan="${value.slice(0, 40)}": ${err}`));
    }
    for (const value of ["null", "7", "[]", "new Map()", "Object.create(null)", "({ format: { toString() { throw new Error('no') } } })", "(() => { const a = { format: 'slopewright.plan/1' }; a.a = a; return a; })()"]) {
      const thrown = await d.page.evaluate(`(() => { try { document.querySelector("slopewright-planner").plan = (${value}); } catch (err) { return String(err); } })()`);
      assert.equal(thrown, undefined, value);
    }
    await d.show(await planOf("gentle"));
    d.complaints = d.complaints.filter((c) => !/404|Failed to load|Fetch API cannot load|Refused to connect|violates the following|policy: connect-src/.test(c)); // the browser's own words on what was asked for
  });
});
