// What a person reads: no text lies on another or is cut off, from a phone to a
// desk; what is wrong is said of the fields as they are called on the page; files
// are named, and a blank book begun, in what the page is shown in.
import assert from "node:assert/strict";
import { describe, test } from "node:test";
import { driven, planOf } from "./driven.mjs";

const d = driven();

/** Texts that lie on each other, are cut off or stand out of the page, each with where it is. */
const wrong = () =>
  d.page.evaluate(() => {
    const found = [];
    const texts = [];
    /** The nearest around an element that hides what does not fit into it; what scrolls hides nothing. */
    const hiding = (el) => {
      for (let at = el; at instanceof Element; at = at.parentElement ?? at.getRootNode().host) {
        const { overflowX, overflowY } = getComputedStyle(at);
        if (/auto|scroll/.test(overflowX + overflowY)) return { scrolls: true };
        // What is shortened after so many lines ends in a mark that says so.
        if (/hidden|clip/.test(overflowX + overflowY)) return { box: at.getBoundingClientRect(), short: /\d/.test(getComputedStyle(at).webkitLineClamp) };
      }
      return {};
    };
    const look = (root) => {
      for (const el of root.querySelectorAll("*")) {
        if (el.shadowRoot) look(el.shadowRoot);
        // Drawings are laid out by the calculator; what stays in view lies over what is under it; what is for those who hear the page is not seen.
        if (el.closest("svg, .peek, .unseen, .aside-bar, select, datalist, script, style, template") || !el.checkVisibility({ visibilityProperty: true, opacityProperty: true })) continue;
        // A figure stands whole in its field; of what somebody wrote at length a mark says that it goes on.
        if (el.matches("input[type=text]") && el.scrollWidth > el.clientWidth + 1 && (/^[-±]?\d.{0,10}$/.test(el.value) || getComputedStyle(el).textOverflow !== "ellipsis")) found.push(`cut off: ${el.value} in ${el.dataset.field ?? el.id}`);
        for (const node of el.childNodes) {
          if (node.nodeType !== Node.TEXT_NODE || node.nodeValue.trim() === "") continue;
          const range = document.createRange();
          range.selectNodeContents(node);
          const { box, scrolls, short } = hiding(el);
          const text = node.nodeValue.trim().replace(/\s+/g, " ").slice(0, 40);
          for (const r of range.getClientRects()) {
            if (r.width < 1 || r.height < 1 || (short && r.top > box.bottom - 4)) continue;
            if (!scrolls && (r.right > innerWidth + 1 || r.left < -1)) found.push(`out of the page: ${text}`);
            if (box && (r.right > box.right + 1 || r.left < box.left - 1 || r.bottom > box.bottom + 3 || r.top < box.top - 3)) found.push(`cut off: ${text}`);
            texts.push({ node, text, r });
          }
        }
      }
    };
    look(document);
    texts.sort((a, b) => a.r.top - b.r.top);
    for (const [i, a] of texts.entries()) {
      for (let j = i + 1; j < texts.length && texts[j].r.top < a.r.bottom - 3; j++) {
        const b = texts[j];
        if (a.node === b.node) continue;
        const [wide, high] = [Math.min(a.r.right, b.r.right) - Math.max(a.r.left, b.r.left), Math.min(a.r.bottom, b.r.bottom) - Math.max(a.r.top, b.r.top)];
        // Lines stand in boxes higher than their letters.
        if (wide > 2 && high > Math.min(a.r.height, b.r.height) * 0.4) found.push(`on each other: ${a.text} / ${b.text}`);
      }
    }
    return [...new Set(found)];
  });

describe("no text lies on another, is cut off or stands out of the page", () => {
  for (const lang of ["en", "es"]) {
    for (const width of [360, 768, 1280]) {
      test(`${lang}, ${width} px`, async () => {
        await d.open("/", { locale: lang, width, height: 900 });
        for (const name of ["gentle", "offer"]) {
          const plan = await planOf(name);
          await d.page.evaluate((plan) => (document.querySelector("slopewright-planner").plan = plan), plan);
          await d.page.waitForFunction((title) => document.querySelector("slopewright-planner").result?.title === title, plan.title, { timeout: 60000 });
          await d.page.locator("#paper").waitFor();
          await d.page.evaluate(() => document.querySelector("slopewright-planner").updateComplete);
          assert.deepEqual(await wrong(), [], name);
        }
        await d.unfold();
        await d.page.locator('[data-field="crew.people"]').waitFor();
        assert.deepEqual(await wrong(), [], "every group open");
        await d.page.locator("[data-panel=plans]").click();
        await d.page.locator("#h-plans").waitFor();
        await d.field("path.width").fill("wide");
        await d.page.locator(".held").waitFor();
        await d.page.waitForTimeout(1000); // what is wrong is held back while it is written
        assert.deepEqual(await wrong(), [], "something to put right, and the plans");
      });
    }
  }
});

describe("as it is called on the page", () => {
  const list = () => d.page.locator(".held li").allInnerTexts();

  for (const [lang, want] of [["en", [/^Width of the steps: .*no unit.*1\.2 ft/, /^Row 2, drop: /, /^Treads, at least: /, /^Air under the stringers: /]], ["es", [/^Ancho de los escalones: .*unidad.*1\.2 m/, /^Fila 2, bajada: /, /^Huellas, mínimo: /, /^Aire bajo las zancas: /]]]) {
    test(`what is wrong, ${lang}`, async () => {
      await d.open("/", { locale: lang });
      await d.settled(lang);
      const plan = { ...(await planOf("gentle")), title: "Wrong" };
      plan.path = { ...plan.path, width: "1.2" };
      plan.ground.readings[1].drop = "low";
      plan.steps = { ...plan.steps, tread: { min: "x" } };
      plan.build = { ...plan.build, framed: { gap: "q" } };
      await d.page.evaluate((plan) => (document.querySelector("slopewright-planner").plan = plan), plan);
      await d.page.locator(".held li").nth(3).waitFor();
      const said = await list();
      for (const pattern of want) assert.ok(said.some((s) => pattern.test(s)), `${pattern} in ${JSON.stringify(said)}`);
      for (const s of said) assert.doesNotMatch(s, /\w\.\w+\[|^[a-z]+[._][a-z]/, "no name of the document");
    });
  }

  test("files, in the language of the page", async () => {
    await d.open("/", { locale: "es" });
    await d.settled("es");
    await d.field("title").fill("");
    await d.settled("es");
    for (const [button, name] of [["Costos", "sendero-costos.csv"], ["Todo el resultado", "sendero-resultado.json"]]) {
      const [download] = await Promise.all([d.page.waitForEvent("download", { timeout: 60000 }), d.page.locator("#paper").getByRole("button", { name: button, exact: true }).click()]);
      assert.equal(download.suggestedFilename(), name);
    }
  });

  test("a blank book is in what the switch shows", async () => {
    for (const [units, locale] of [["imperial", "es"], ["metric", "en-US"]]) {
      await d.open("/", { locale });
      await d.settled(locale.slice(0, 2));
      await d.page.locator(`input[name=units][value=${units}]`).check({ force: true });
      await d.page.locator("slopewright-planner .acts button").nth(1).click();
      await d.page.waitForFunction(() => document.querySelector("slopewright-planner").plan.title === undefined);
      const plan = await d.plan();
      assert.deepEqual([plan.units, plan.sizes], [units, undefined]);
      assert.equal(await d.page.locator(`input[name=units][value=${units}]`).isChecked(), true);
    }
    // Where nothing was ever open: as people measure in the place.
    for (const [locale, units] of [["en-US", "imperial"], ["es-MX", "metric"]]) {
      await d.open("/plans/gentle.json", { locale });
      await d.page.route("**/plans/**", (route) => route.fulfill({ status: 404, body: "" }));
      await d.page.goto(d.base);
      await d.page.locator(".trouble").waitFor();
      assert.equal((await d.plan()).units, units);
    }
    d.complaints = d.complaints.filter((c) => !/404|preload/.test(c));
  });
});
