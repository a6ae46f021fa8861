// For everyone: the keyboard alone from a blank page to the printed sheet, a
// finger on a small phone, a page at twice its size, a browser's own colours, no
// motion; and axe at every state.
import assert from "node:assert/strict";
import { join } from "node:path";
import { describe, test } from "node:test";
import { driven, picture, planOf } from "./driven.mjs";

const d = driven();

/** What has the focus, by what it is called, and where it lies on the page. */
const focused = () =>
  d.page.evaluate(() => {
    const el = document.activeElement?.shadowRoot?.activeElement ?? document.activeElement;
    if (!el || el === document.body) return null;
    const box = (el.closest("label") ?? el).getBoundingClientRect();
    const style = [el, el.nextElementSibling, el.parentElement].some((e) => e && getComputedStyle(e).outlineStyle !== "none");
    return {
      name: (el.dataset.field ?? el.dataset.grip ?? el.dataset.ask ?? el.dataset.panel ?? el.getAttribute("aria-label") ?? el.textContent).trim().replace(/\s+/g, " "),
      shows: style || el.classList.contains("grip"),
      top: box.top + scrollY,
      left: box.left,
    };
  });

/** Tabs on until something has the focus; gives all that had it on the way. */
async function tabTo(name, key = "Tab") {
  const way = [];
  for (let i = 0; i < 150; i++) {
    await d.page.keyboard.press(key);
    const at = await focused();
    if (!at) continue; // through the browser's own
    assert.ok(at.shows, `${at.name} shows its focus`);
    way.push(at);
    if (at.name === name || (name instanceof RegExp && name.test(at.name))) return way;
  }
  assert.fail(`${name} was not reached; saw ${way.map((w) => w.name).join(", ")}`);
}
const type = (text) => d.page.keyboard.type(text);
const press = async (...keys) => {
  for (const key of keys) await d.page.keyboard.press(key);
};

describe("the keyboard alone", () => {
  test("from a blank page to the printed sheet, everything in the order it is read", async () => {
    await d.open();
    await d.settled();
    await tabTo("Blank book");
    await press("Enter");
    await d.page.getByText("A blank page.").waitFor();
    await tabTo("title", "Shift+Tab");
    await type("By keys");
    const order = [...(await tabTo("ground.method"))];
    order.push(...(await tabTo("ground.readings[0].at")));
    // Tab along a row; Enter goes to the start of the next.
    for (const [at, drop] of [["0 m", "0.10 m"], ["2 m", "0.55 m"], ["4 m", "1.05 m"], ["6 m", "1.60 m"]]) {
      await type(at);
      await press("Tab");
      await type(drop);
      await press("Enter");
    }
    assert.equal((await focused()).name, "ground.readings[4].at");
    order.push(...(await tabTo("path.width")));
    await type("1.2 m");
    order.push(...(await tabTo("soil.class")));
    await press("ArrowDown");
    await d.settled();
    // A group of wishes opened and left again by keys.
    order.push(...(await tabTo(/^What matters most/)));
    await press("Enter");
    await d.page.locator('[data-field="steps.prefer"]').waitFor(); // a group is drawn when it is opened
    order.push(...(await tabTo("steps.prefer")));
    await press("ArrowDown");
    await d.page.waitForFunction(() => document.querySelector("slopewright-planner").plan.steps.prefer);
    await d.settled();
    // The drawing's points are one stop; the keys go from one to the next.
    order.push(...(await tabTo(/^ground-/)));
    await press("PageDown", "ArrowUp");
    await d.settled();
    assert.match((await focused()).name, /^ground-/);
    order.push(...(await tabTo("sheet-build")));
    await press("Enter");
    await d.page.frameLocator(".taken iframe").locator("main h1").waitFor({ timeout: 90000 });
    await d.page.locator(".taken iframe").evaluate((f) => (f.contentWindow.print = () => (globalThis.printed = f.contentDocument.title)));
    await tabTo("Print");
    await press("Enter");
    assert.match(await d.page.evaluate(() => globalThis.printed), /By keys/);
    // In the order of the page: down the book, then down the answer beside it.
    const first = (name) => order.findIndex((o) => (name instanceof RegExp ? name.test(o.name) : o.name === name));
    const wanted = ["ground.method", "ground.readings[0].at", "path.width", "soil.class", /^What matters most/, "steps.prefer", /^Limits of your own/, /^Prices/, /^ground-/, /^Show what there is/, "Keep this one beside", "sheet-build"];
    const places = wanted.map(first);
    assert.ok(places.every((p) => p >= 0), JSON.stringify(wanted.map(String).filter((_, i) => places[i] < 0)));
    assert.deepEqual(places, [...places].sort((a, b) => a - b), "the focus goes as the page is read");
    const half = (at) => at.left < 510; // where the book ends
    const column = order.filter((o) => !/^ground-|^steps\./.test(o.name) && first("path.width") < order.indexOf(o));
    for (const side of [true, false]) {
      const tops = column.filter((o) => half(o) === side).map((o) => Math.round(o.top));
      for (let i = 1; i < tops.length; i++) assert.ok(tops[i] > tops[i - 1] - 60, `down the page: ${column.filter((o) => half(o) === side)[i].name}`);
    }
  });

  test("panels: the focus goes in, Esc and Close lead back", async () => {
    await d.open();
    await d.settled();
    for (const panel of ["plans", "share"]) {
      await tabTo(panel);
      await press("Enter");
      await d.page.locator(`#h-${panel}`).waitFor();
      await d.page.waitForFunction((panel) => document.querySelector("slopewright-planner").shadowRoot.activeElement?.id === `h-${panel}`, panel);
      await press("Escape");
      await d.page.waitForFunction((panel) => document.querySelector("slopewright-planner").shadowRoot.activeElement?.dataset.panel === panel, panel);
      assert.equal(await d.page.locator(`#h-${panel}`).count(), 0);
    }
  });
});

/** Every state of the page, by how a person gets there. */
const STATES = {
  "a plan that is solved": async () => {},
  "a blank page": async () => {
    await d.page.getByRole("button", { name: "Blank book" }).click();
    await d.page.getByText("A blank page.").waitFor();
  },
  "something to put right": async () => {
    await d.field("path.width").fill("wide");
    await d.page.locator(".held").waitFor();
  },
  "the plans": async () => {
    await d.field("title").fill("Kept");
    await d.page.locator("[data-panel=plans]").click();
    await d.page.locator(".kept li").first().waitFor();
    await d.page.getByRole("button", { name: "Copy this plan" }).click();
    await d.page.locator(".kept li").nth(1).waitFor();
    await d.page.getByRole("button", { name: /^Take out Kept$/ }).click();
    await d.page.locator(".kept .out").waitFor();
  },
  "the link": async () => {
    await d.page.locator("[data-panel=share]").click();
    await d.page.locator("#link").waitFor();
  },
  "every group open, a price list being pasted": async () => {
    await d.page.evaluate(() => {
      for (const details of document.querySelector("slopewright-planner").shadowRoot.querySelectorAll("details")) details.open = true;
    });
    await d.page.locator("[data-do=paste-list]").click();
    await d.page.locator(".pricelist textarea").fill("item,price,per\nx,y,z\n");
    await d.page.locator("[data-do=take-list]").click();
    await d.page.locator("#wrong-list li").first().waitFor({ timeout: 60000 });
  },
  "choices, one of them picked": async () => {
    await d.page.getByRole("button", { name: "Show what there is to choose" }).click();
    await d.page.locator(".plot .point").first().waitFor({ timeout: 120000 });
    await d.page.locator(".plot .point").first().click();
  },
  "two plans beside, the points at rest": async () => {
    for (let i = 0; i < 2; i++) await d.page.getByRole("button", { name: "Keep this one beside" }).click();
    await d.page.locator(".beside thead th").nth(2).waitFor();
    const [shown, wide] = await d.page.locator("#pins .frame").evaluate((f) => [f.clientWidth, f.scrollWidth]);
    assert.ok(wide <= shown, `${wide} px of plans beside each other in ${shown}`);
    const off = d.page.getByRole("button", { name: "Leave the points where they are" });
    if (await off.count()) await off.click();
  },
  "a sheet": async () => {
    await d.page.locator("[data-ask=sheet-build]").click();
    await d.page.frameLocator(".taken iframe").locator("main h1").waitFor({ timeout: 90000 });
    const { top, bottom } = await d.page.locator("div.taken").evaluate((t) => t.getBoundingClientRect());
    assert.ok(top >= 0 && bottom <= 741, `the sheet lies from ${top} to ${bottom} of 740: it is shown to who asked for it`);
  },
  "a drawing": async () => {
    await d.page.locator("[data-ask=drawing-plan]").click();
    await d.page.locator(".taken figure svg").waitFor({ timeout: 90000 });
  },
  "something to know": async () => {
    await d.page.evaluate(() => (location.hash = "#plan=!!!"));
    await d.page.locator(".notice").waitFor();
  },
  "to be read only": async () => {
    await d.page.evaluate(() => document.querySelector("slopewright-planner").setAttribute("readonly", ""));
    await d.page.waitForTimeout(100);
  },
};

/** What is too small to tap, lies outside the page, or makes it wider than the screen. */
const misfits = () =>
  d.page.evaluate(() => {
    const root = document.querySelector("slopewright-planner").shadowRoot;
    const bad = [];
    if (document.documentElement.scrollWidth > innerWidth) bad.push(`the page is ${document.documentElement.scrollWidth} wide`);
    for (const el of [...root.querySelectorAll("button, input, select, summary, textarea, a[href], .file, [role=button]"), ...document.querySelectorAll("button, a[href]")]) {
      if (!el.checkVisibility({ visibilityProperty: true }) || el.closest("[hidden]")) continue;
      const target = (el.type === "radio" || el.type === "checkbox") && el.closest("label") ? el.closest("label") : el.type === "file" ? el.parentElement : el;
      const { width, height } = (target.querySelector?.(":scope > .reach") ?? target).getBoundingClientRect();
      if (width < 43.5 || height < 43.5) bad.push(`${el.outerHTML.slice(0, 110)} is ${width.toFixed(1)} × ${height.toFixed(1)}`);
    }
    return bad;
  });

describe("every state", () => {
  for (const [name, reach] of Object.entries(STATES)) {
    test(`${name}: a finger at 360 px, axe in light and dark, and nothing wider than the page`, async () => {
      await d.open("/", { width: 360, height: 740 });
      await d.show(await planOf("gentle"));
      await reach();
      assert.deepEqual(await misfits(), [], "at 360 px");
      await d.accessible(`${name}, light`);
      await d.page.emulateMedia({ colorScheme: "dark" });
      await d.accessible(`${name}, dark`, { colours: "only" });
      await d.page.emulateMedia({ colorScheme: "light" });
      for (const width of [320, 640]) {
        // 1280 px at four times and at twice the size.
        await d.page.setViewportSize({ width, height: 400 });
        const wide = await d.page.evaluate(() => document.documentElement.scrollWidth);
        assert.ok(wide <= width, `${wide} px wide on ${width}`);
      }
      d.complaints = d.complaints.filter((c) => !/404/.test(c));
    });
  }

  test("while the calculator is fetched, and where it cannot be had", async () => {
    await d.open("/plans/gentle.json");
    let free;
    const held = new Promise((resolve) => (free = resolve));
    await d.page.route("**/slopewright.wasm*", async (route) => {
      await held;
      await route.fulfill({ status: 503, body: "" });
    });
    await d.page.goto(d.base);
    await d.page.locator(".aside-bar progress").waitFor();
    await d.accessible("while it is fetched, the hill solved already");
    await d.page.route("**/answers/**", (route) => route.fulfill({ status: 404, body: "" }));
    await d.page.goto(d.base);
    await d.page.locator(".rough").waitFor();
    await d.accessible("while it is fetched");
    free();
    await d.page.locator(".trouble").waitFor();
    await d.accessible("where it cannot be had");
    d.complaints = d.complaints.filter((c) => !/503|404|preload/.test(c)); // the browser's own line on what was asked for
  });
});

describe("scrolled away from the answer", () => {
  for (const [width, height, locale] of [[1280, 900, "en"], [360, 740, "es"]]) {
    test(`${width} × ${height}: it stays in view in a bar that cuts nothing off and hides no focus, and is one tap away`, async () => {
      await d.open("/", { width, height, locale });
      const want = await d.show(await planOf("offer"), locale);
      const bar = d.page.locator(".peek");
      if (width > 1000) assert.equal(await bar.isVisible(), false, "where the headline is in view, there is none");
      await d.field("ground.readings[9].mid").focus();
      for (;;) {
        await d.page.keyboard.press("Tab");
        const at = await d.page.evaluate(() => {
          const root = document.querySelector("slopewright-planner").shadowRoot;
          const [at, bar] = [root.activeElement, root.querySelector(".peek")];
          if (!at?.closest(".written")) return null;
          return { bottom: at.getBoundingClientRect().bottom, top: bar.checkVisibility() ? bar.getBoundingClientRect().top : innerHeight, name: at.dataset.field ?? at.textContent };
        });
        if (!at) break; // past the book
        assert.ok(at.bottom <= at.top + 1, `${at.name} ends at ${at.bottom}, the bar begins at ${at.top}`);
      }
      await d.page.locator(".written summary").last().focus();
      await bar.waitFor();
      const seen = await bar.evaluate((b) => ({ says: b.textContent, whole: b.firstElementChild.scrollHeight <= b.firstElementChild.clientHeight, end: b.getBoundingClientRect().bottom }));
      assert.ok(seen.says.length > 40 && want.answer[0].says.startsWith(seen.says) && seen.whole && seen.end <= height + 1, JSON.stringify(seen));
      await bar.click();
      const box = await d.page.locator(".first").boundingBox();
      assert.ok(box.y >= 0 && box.y + box.height <= height, JSON.stringify(box));
      if (width > 1000) await bar.waitFor({ state: "hidden" });
      assert.ok(await d.page.locator(".first").evaluate((f) => f.getRootNode().activeElement === f), "the focus is not lost with the bar");
    });
  }
});

describe("feet, inches and sixteenths on a phone", () => {
  const [long, up] = ["12 ft 11 15/16 in", "3 ft 11 13/16 in"];
  for (const [method, readings] of Object.entries({
    string: [{ at: "0 ft", drop: "6 ft 7 1/2 in" }, { at: long, drop: up, crossfall: "1/2 in per ft" }],
    levels: [{ at: "0 ft", level: "0 ft" }, { at: long, level: up, crossfall: "1/2 in per ft" }],
    slope: [{ length: long, angle: "12.5°" }, { length: long, angle: "14.5°" }],
    rod: [{ at: "0 ft", back: "6 ft 11 13/16 in", bench: "100 ft 7 3/16 in" }, { at: long, mid: "5 ft 7 13/16 in" }, { at: "25 ft 11 15/16 in", fore: "0 ft 7 13/16 in" }],
  })) {
    test(`${method}: what is written and every mark can be read in full`, async () => {
      await d.open("/", { width: 360, height: 740 });
      for (const width of [360, 768, 1280]) {
        await d.page.setViewportSize({ width, height: 740 });
        await d.show({ format: "slopewright.plan/1", title: `Sixteenths at ${width} px`, units: "imperial", ground: { method, ...(method === "string" ? { from: "foot" } : {}), readings }, path: { width: "4 ft" } });
        await d.page.locator("#stakeout").waitFor();
        const cut = await d.page.evaluate(() => {
          const root = document.querySelector("slopewright-planner").shadowRoot;
          const inputs = [...root.querySelectorAll(".readings td input")].filter((i) => i.scrollWidth > i.clientWidth).map((i) => i.value);
          return [...inputs, ...[...root.querySelectorAll("#stakeout .frame")].filter((f) => f.scrollWidth > f.clientWidth).map((f) => `${f.scrollWidth} px of marks`)];
        });
        assert.deepEqual(cut, [], `at ${width} px`);
      }
    });
  }
});

test("on a phone no table has to be pushed sideways", async () => {
  for (const locale of ["en", "es"]) {
    await d.open("/", { width: 360, height: 740, locale });
    for (const plan of ["offer", "earth", "gentle", "steepening"]) {
      await d.show(await planOf(plan), locale);
      await d.page.locator("#stakeout").waitFor();
      const wide = await d.page.evaluate(() => [...document.querySelector("slopewright-planner").shadowRoot.querySelectorAll(".frame")].filter((f) => f.scrollWidth > f.clientWidth).map((f) => f.getAttribute("aria-label")));
      assert.deepEqual(wide, [], `${plan}, ${locale}`);
    }
  }
});

describe("as the browser is set", () => {
  test("its own colours: points, marks and what is chosen can still be told", async () => {
    await d.open("/", { forcedColors: "active" });
    await d.show(await planOf("gentle"));
    await d.accessible("its own colours");
    const seen = await d.page.evaluate(() => {
      const root = document.querySelector("slopewright-planner").shadowRoot;
      const paper = getComputedStyle(root.querySelector(".sheet")).backgroundColor;
      const lines = [".grip.ground .face", ".grip.end .face", "figure svg .sw-ground"].map((where) => [where, getComputedStyle(root.querySelector(where))]);
      return lines.map(([where, s]) => [where, s.stroke !== "none" && s.stroke !== paper]);
    });
    for (const [where, ok] of seen) assert.ok(ok, `${where} has a line of its own`);
    const colour = (name) => d.page.getByRole("button", { name, exact: true }).evaluate((b) => getComputedStyle(b).color);
    assert.notEqual(await colour("Undo"), await colour("Plans"), "what cannot be pressed is grey");
    // Which method is chosen is told by more than a background, which the browser takes away.
    const chosen = await d.page.evaluate(() => {
      const root = document.querySelector("slopewright-planner").shadowRoot;
      const look = (input) => {
        const s = getComputedStyle(input.nextElementSibling);
        return [s.borderTopColor, s.borderTopStyle, s.borderTopWidth, s.outlineStyle, s.backgroundColor, s.color].join(" ");
      };
      const all = [...root.querySelectorAll(".methods input")];
      return [look(all.find((i) => i.checked)), look(all.find((i) => !i.checked))];
    });
    assert.notEqual(chosen[0], chosen[1]);
    await d.page.locator("[data-ask=sheet-field]").click();
    await d.page.locator("#paper [aria-pressed=true]").waitFor({ timeout: 60000 });
    const back = (name) => d.page.getByRole("button", { name, exact: true }).evaluate((b) => getComputedStyle(b).backgroundColor);
    assert.notEqual(await back("Field sheet"), await back("Build sheet"), "so is which sheet is shown");
    await picture(d.page, "forced-1280", { fullPage: true });
  });

  test("on paper: nothing to press, and a total once, under all that it is of", async () => {
    await d.open();
    await d.settled();
    await d.page.locator("#bill tfoot").waitFor();
    await d.page.emulateMedia({ media: "print" });
    const seen = await d.page.evaluate(() => {
      const root = document.querySelector("slopewright-planner").shadowRoot;
      return {
        pressed: [...root.querySelectorAll("button")].filter((b) => b.checkVisibility()).map((b) => b.textContent),
        order: [".first", "#stakeout", "#bill", ".book", "p.end"].map((part) => root.querySelector(part).getBoundingClientRect().top),
        feet: [...root.querySelectorAll("tfoot")].map((f) => getComputedStyle(f).display),
        drawing: getComputedStyle(root.querySelector("figure")).float,
        rows: Math.max(...[...root.querySelectorAll(".readings tbody tr")].map((r) => r.getBoundingClientRect().height)),
        marked: [...root.querySelectorAll(".sentences li")].every((li) => getComputedStyle(li).listStyleType !== "none" && li.offsetLeft >= 20),
      };
    });
    assert.deepEqual(seen.pressed, []);
    assert.deepEqual(seen.order, seen.order.toSorted((a, b) => a - b), "what is carried to the hill comes before what it follows from");
    assert.equal(seen.drawing, "left", "where it goes to the next page the text goes on before it");
    assert.ok(seen.rows < 32 && seen.marked, JSON.stringify(seen));
    assert.ok(seen.feet.length > 0 && seen.feet.every((display) => display === "table-row-group"), seen.feet.join()); // a browser repeats a footer on every page
  });

  test("no motion", async () => {
    await d.open("/", { reducedMotion: "reduce", width: 390, height: 844 });
    await d.settled();
    await d.field("path.width").fill("1.35 m");
    await d.settled();
    await d.page.locator("[data-panel=plans]").click();
    await d.page.locator(".peek").click();
    const moving = await d.page.evaluate(() => {
      const root = document.querySelector("slopewright-planner").shadowRoot;
      const slow = [...root.querySelectorAll("*")].filter((e) => {
        const s = getComputedStyle(e);
        return [s.transitionDuration, s.animationDuration].some((v) => v.split(",").some((t) => parseFloat(t) > 0.001)) || s.scrollBehavior === "smooth";
      });
      return [root.getAnimations().filter((a) => a.playState === "running").length, slow.slice(0, 5).map((e) => e.outerHTML.slice(0, 80))];
    });
    assert.deepEqual(moving, [0, []]);
  });
});
