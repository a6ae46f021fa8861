// Points of the drawing that are moved: the ones that carry others with them.
import assert from "node:assert/strict";
import { describe, test } from "node:test";
import { driven, planOf } from "./driven.mjs";

const d = driven();
const grip = (id) => d.page.locator(`[data-grip="${id}"]`);
const press = async (id, ...keys) => {
  await grip(id).focus();
  for (const key of keys) await d.page.keyboard.press(key);
};
/** Lets the mouse go, and waits for what is said of that. */
const letGo = async () => {
  await d.page.evaluate(() => (globalThis.heard.length = 0));
  await d.page.mouse.up();
  await d.page.waitForFunction(() => globalThis.heard.slice(globalThis.heard.findIndex((e) => e.name === "slopewright-change") + 1 || 1e9).length > 0);
  await d.page.evaluate(() => document.querySelector("slopewright-planner").updateComplete);
};
const hill = (ground, more = {}) => ({ format: "slopewright.plan/1", title: "Moved", units: "metric", ground, path: { width: "1.2 m" }, ...more });
const levels = (result) => result.ground.points.map((p) => Number((p.level + result.ground.datum.level).toFixed(4)));

describe("a level book", () => {
  const book = () => ({
    method: "rod",
    readings: [
      { at: "0 m", back: "2.105 m", bench: "10 m" },
      { at: "2 m", mid: "1.500 m" },
      { at: "4 m", fore: "0.900 m", back: "1.950 m" },
      { at: "6 m", mid: "1.200 m" },
      { at: "8 m", fore: "0.400 m" },
    ],
  });

  test("a turning point takes both its sights with it, and nothing else moves", async () => {
    await d.open();
    const before = await d.show(hill(book()));
    assert.equal(await d.page.locator('[data-grip^="ground-"]').count(), 5, "every point of the ground has its grip");
    await press("ground-2", "ArrowUp", "ArrowUp", "ArrowUp");
    const after = await d.settled();
    assert.deepEqual((await d.plan()).ground.readings[2], { at: "4 m", fore: "0.870 m", back: "1.920 m" });
    assert.deepEqual(levels(after), levels(before).with(2, Number((levels(before)[2] + 0.03).toFixed(4))));
  });

  test("the first point and the last, and along", async () => {
    await d.open();
    const before = await d.show(hill(book()));
    await press("ground-4", "Shift+ArrowDown");
    assert.deepEqual(levels(await d.settled()), levels(before).with(4, Number((levels(before)[4] - 0.1).toFixed(4))));
    await press("ground-0", "ArrowUp");
    const first = await d.settled();
    assert.deepEqual((await d.plan()).ground.readings[0], { at: "0 m", back: "2.095 m", bench: "10.01 m" });
    assert.deepEqual(levels(first).slice(1), levels(before).with(4, Number((levels(before)[4] - 0.1).toFixed(4))).slice(1));
    await press("ground-2", "ArrowRight");
    await d.settled();
    assert.equal((await d.plan()).ground.readings[2].at, "4.01 m");
  });

  test("what is under the finger moves with it before its steps are there, and lies where it is drawn once that is worked out", async () => {
    await d.open();
    await d.page.addInitScript(() => {
      globalThis.Worker = class extends Worker {
        set onmessage(heard) {
          super.onmessage = (event) => setTimeout(() => heard(event), event.data.kind === "answer" ? (globalThis.later ?? 0) : 0);
        }
      };
    });
    await d.page.goto(d.base);
    const before = await d.show(hill(book()));
    const scale = await d.page.locator("figure svg.sw-section").evaluate((s) => Number(s.dataset.scale));
    const at = (id) => grip(id).locator(".face").boundingBox().then(({ x, y, width, height }) => [x + width / 2, y + height / 2]);
    const [x, y] = await at("ground-2");
    const seen = await d.page.evaluate(async ([x, y]) => {
      const layer = document.querySelector("slopewright-planner").shadowRoot.querySelector(".grips");
      layer.setPointerCapture = () => {};
      globalThis.later = 600;
      const send = (type, dy) => layer.dispatchEvent(new PointerEvent(type, { pointerId: 1, button: 0, clientX: x, clientY: y - dy, bubbles: true }));
      send("pointerdown", 0);
      send("pointermove", 20);
      await new Promise((resolve) => setTimeout(resolve, 50));
      const box = layer.querySelector("[data-grip=ground-2] .face").getBoundingClientRect();
      const line = layer.querySelector(".follows").getBoundingClientRect();
      return { middle: box.y + box.height / 2, top: line.top, wide: line.width };
    }, [x, y]);
    assert.ok(Math.abs(seen.middle - (y - 20)) < 1, `the point is at ${seen.middle}, the finger at ${y - 20}`);
    assert.ok(seen.top < y && seen.wide > 50, "the ground on both sides goes with it");
    await d.page.evaluate(() => document.querySelector("slopewright-planner").shadowRoot.querySelector(".grips").dispatchEvent(new PointerEvent("pointerup", { pointerId: 1 })));
    const after = await d.settled();
    assert.equal(await d.page.locator(".grips [transform], .follows[d]").count(), 0);
    assert.ok(Math.abs(levels(after)[2] - levels(before)[2] - 20 / scale) < 0.011, "and there it lies");
  });

  test("by mouse, and by touch", async () => {
    await d.open("/", { width: 390, height: 844, hasTouch: true, isMobile: true });
    const before = await d.show(hill(book()));
    await d.page.getByRole("button", { name: "Move points in the drawing" }).tap();
    await grip("ground-2").scrollIntoViewIfNeeded();
    const box = await grip("ground-2").locator(".face").boundingBox();
    const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
    const cdp = await d.context.newCDPSession(d.page);
    const touch = (type, dy) => cdp.send("Input.dispatchTouchEvent", { type, touchPoints: type === "touchEnd" ? [] : [{ x, y: y - dy }] });
    const scale = await d.page.locator("figure svg.sw-section").evaluate((s) => Number(s.dataset.scale));
    const drawn = () => d.page.locator("figure").evaluate((f) => f.getBoundingClientRect().top);
    const top = await drawn();
    await touch("touchStart", 0);
    // Far enough for a finger that scrolls, and back to 8 px.
    for (const dy of [4, 8, 12, 20, 30, 40, 30, 20, 12, 8]) await touch("touchMove", dy);
    assert.ok(Math.abs((await drawn()) - top) < 1.5, "the drawing stays"); // a page scrolls by whole pixels
    await touch("touchEnd");
    const after = await d.settled();
    assert.ok(Math.abs(levels(after)[2] - levels(before)[2] - 8 / scale) < 0.02, `${levels(before)[2]} to ${levels(after)[2]}, 8 px are ${8 / scale} m`);
    assert.deepEqual(levels(after).toSpliced(2, 1), levels(before).toSpliced(2, 1));
    // Beside the points a finger scrolls, as anywhere.
    const figure = await d.page.locator("figure .paper").boundingBox();
    const from = { x: figure.x + figure.width / 2, y: Math.min(figure.y + figure.height, 844) - 30 };
    const scrolled = await d.page.evaluate(() => scrollY);
    for (const [type, dy] of [["touchStart", 0], ["touchMove", 20], ["touchMove", 40], ["touchMove", 60], ["touchEnd", 0]]) {
      await cdp.send("Input.dispatchTouchEvent", { type, touchPoints: type === "touchEnd" ? [] : [{ x: from.x, y: from.y - dy }] });
    }
    await d.page.waitForFunction((scrolled) => scrollY > scrolled + 20, scrolled);
  });
});

describe("the book while a point is dragged", () => {
  const readings = ["0 m", "0.6 m", "1.3 m", "1.9 m"].map((level, i) => ({ at: `${2 * i} m`, level }));
  const cell = () => d.page.locator('[data-field="ground.readings[1].level"]').inputValue();
  const held = () => d.page.locator("slopewright-planner .held:not(.grip)");
  /** What is in it once that is no longer what was: it goes with the steps, or shortly before. */
  const after = async (was) => {
    while ((await cell()) === was) await d.page.waitForTimeout(10);
    return cell();
  };

  test("its cell follows, and Escape writes what was there", async () => {
    await d.open();
    await d.show(hill({ method: "levels", readings }));
    const box = await grip("ground-1").locator(".face").boundingBox();
    const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
    await d.page.mouse.move(x, y);
    await d.page.mouse.down();
    await d.page.mouse.move(x, y - 9);
    const once = await after("0.6 m");
    await d.page.mouse.move(x, y - 20);
    const twice = await after(once);
    assert.ok(parseFloat(once) > 0.6 && parseFloat(twice) > parseFloat(once), `${once}, then ${twice}`);
    // As high as a wall: no steps fit, and the reading is pointed at, until the point comes down again.
    await d.page.mouse.move(x, Math.max(2, y - 400));
    await held().waitFor();
    await d.page.locator(".book .fault").first().waitFor();
    await d.page.mouse.move(x, y - 20);
    await held().waitFor({ state: "detached" });
    assert.equal(await cell(), twice);
    assert.equal(await d.page.locator(".book .fault").count(), 0);
    await d.page.keyboard.press("Escape");
    await d.page.mouse.up();
    await d.settled();
    assert.equal(await cell(), "0.6 m");
    assert.deepEqual((await d.plan()).ground.readings, readings);
  });
});

test("steps follow a finger that never rests, though each answer takes longer than a frame", async () => {
  await d.open("/plans/gentle.json"); // a page to prepare the next on
  await d.page.addInitScript(() => {
    globalThis.Worker = class extends Worker {
      set onmessage(heard) {
        super.onmessage = (event) => setTimeout(() => heard(event), event.data.kind === "answer" ? 60 : 0);
      }
    };
  });
  await d.page.goto(d.base);
  await d.show(hill({ method: "levels", readings: [["0 m", "0 m"], ["2 m", "0.5 m"], ["4 m", "1.3 m"], ["6 m", "2 m"]].map(([at, level]) => ({ at, level })) }));
  const seen = await d.page.evaluate(async () => {
    const root = document.querySelector("slopewright-planner").shadowRoot;
    const layer = root.querySelector(".grips");
    layer.setPointerCapture = () => {};
    const { x, y } = root.querySelector("[data-grip=ground-1] .face").getBoundingClientRect();
    const send = (type, dy) => layer.dispatchEvent(new PointerEvent(type, { pointerId: 1, button: 0, clientX: x + 5, clientY: y + 5 - dy, bubbles: true }));
    send("pointerdown", 0);
    const drawings = new Set();
    let grey = 0;
    let old = 0;
    const told = () => [...root.querySelectorAll(".of-before")].filter((e) => e.checkVisibility()).length;
    for (let i = 0; i < 100; i++) {
      send("pointermove", 5 + (i % 20));
      await new Promise((resolve) => setTimeout(resolve, 10));
      drawings.add(root.querySelector("figure svg.sw-section .sw-ground").getAttribute("d"));
      grey += root.querySelectorAll(".stale").length;
      const pale = (selector) => [...root.querySelectorAll(selector)].filter((e) => Number(getComputedStyle(e).opacity) < 0.9).length;
      if (i === 99) old = [pale("[data-key=money], [data-key=time]") > 0, pale(".below"), pale("#stakeout"), pale("[data-key=earth]"), told(), root.querySelector(".was").previousElementSibling.textContent];
    }
    send("pointerup", 0);
    return { drawings: drawings.size, grey, old };
  });
  assert.ok(seen.drawings > 4, `${seen.drawings} drawings of the ground in a second`);
  assert.equal(seen.grey, 0, "what follows at once is not shown as old");
  const says = "From here on as before the move: worked out when you let go.";
  assert.deepEqual(seen.old, [true, 1, 1, 0, 2, says], "what does not, is, and in words");
  await d.settled();
  assert.equal(await d.page.getByText(says).filter({ visible: true }).count(), 0);
});

test("where fits take long, the steps stay as they are under the finger, on the ground as it is, and are fitted when it rests or lets go", async () => {
  await d.open("/plans/gentle.json"); // a page to prepare the next on
  await d.page.addInitScript(() => {
    globalThis.sketches = [];
    globalThis.Worker = class extends Worker {
      set onmessage(heard) {
        super.onmessage = (event) => heard({ data: { ...event.data, ms: 500 } });
      }
      postMessage(message, ...more) {
        const request = message.request && JSON.parse(new TextDecoder().decode(message.request));
        if (request?.op === "sketch") globalThis.sketches.push({ stretch: request.stretch ?? false, risers: (request.plan.steps?.fixed ?? []).map((f) => f.risers) });
        super.postMessage(message, ...more);
      }
    };
  });
  await d.page.goto(d.base);
  const plan = hill({ method: "levels", readings: [["0 m", "0 m"], ["2 m", "0.5 m"], ["4 m", "1.3 m"], ["6 m", "2 m"]].map(([at, level]) => ({ at, level })) });
  const risers = (await d.show(plan)).layout.flights.map((f) => f.risers);
  const ground = () => d.page.locator("figure svg.sw-section .sw-ground").first().getAttribute("d");
  const steps = () => d.page.locator("figure svg.sw-section .sw-steps").first().getAttribute("d");
  const told = d.page.getByText("until you rest or let go");
  const { x, y, width, height } = await grip("ground-1").locator(".face").boundingBox();
  await d.page.mouse.move(x + width / 2, y + height / 2);
  await d.page.mouse.down();
  await d.page.mouse.move(x + width / 2, y + height / 2 - 6);
  await told.waitFor();
  const before = { ground: await ground(), steps: await steps() };
  await d.page.mouse.move(x + width / 2, y + height / 2 - 16);
  await d.page.waitForFunction((was) => document.querySelector("slopewright-planner").shadowRoot.querySelector("figure svg.sw-section .sw-ground").getAttribute("d") !== was, before.ground);
  assert.equal(await steps(), before.steps);
  const last = () => d.page.evaluate(() => globalThis.sketches.at(-1));
  assert.deepEqual(await last(), { stretch: true, risers });
  await told.waitFor({ state: "detached" });
  assert.deepEqual(await last(), { stretch: false, risers: [] }, "fitted as it lies");
  await d.page.mouse.move(x + width / 2, y + height / 2 - 20);
  await told.waitFor();
  assert.equal((await last()).stretch, true, "and stay again once it goes on");
  await letGo();
  await d.settled();
  assert.equal(await told.count(), 0);
  assert.equal((await d.plan()).steps?.fixed, undefined, "they are fitted");
  assert.deepEqual(await d.page.evaluate(() => globalThis.sketches[0]), { stretch: false, risers: [] }, "until it was known how long that takes");
});

test("another plan is opened: what is shown is of the one before, and nothing of it can be moved in the new one", async () => {
  await d.open();
  await d.settled();
  await d.page.locator('[data-grip^="ground-"]').first().waitFor({ state: "attached" });
  const plan = await planOf("bench");
  const [grips, stale] = await d.page.evaluate(async (plan) => {
    const planner = document.querySelector("slopewright-planner");
    planner.plan = plan;
    await planner.updateComplete;
    return [planner.shadowRoot.querySelectorAll("[data-grip]").length, planner.shadowRoot.querySelectorAll(".live.stale").length];
  }, plan);
  assert.equal(grips, 0);
  assert.ok(stale > 0);
  await d.settled();
  await d.page.locator('[data-grip^="ground-"]').first().waitFor({ state: "attached" });
});

describe("past what fits", () => {
  // A low hill, and a point of it that is dragged until no steps fit.
  const readings = [["0 m", "0 m"], ["1.5 m", "0.35 m"], ["3.2 m", "0.6 m"], ["4.1 m", "1.1 m"], ["6 m", "1.75 m"], ["7.5 m", "2.6 m"]].map(([at, level]) => ({ at, level }));
  const middle = async (id) => {
    const { x, y, width, height } = await grip(id).locator(".face").boundingBox();
    return [x + width / 2, y + height / 2];
  };
  const first = () => d.page.locator("slopewright-planner .first").innerText();
  const drawn = () => d.page.locator("figure svg.sw-section").evaluate((s) => s.outerHTML);

  test("the drawing stays under the finger, all is as it was answered last, and the point goes on from where it was left", async () => {
    await d.open("/", { height: 1400 });
    await d.show(hill({ method: "levels", readings }));
    const before = { first: await first(), drawn: await drawn() };
    const top = () => d.page.locator("figure").evaluate((f) => f.getBoundingClientRect().top);
    const [x, y] = await middle("ground-3");
    const scale = await d.page.locator("figure svg.sw-section").evaluate((s) => Number(s.dataset.scale));
    const from = await top();
    const lines = await d.page.locator(".first").evaluate((f) => f.offsetHeight);
    await d.page.mouse.move(x, y);
    await d.page.mouse.down();
    for (let i = 1; i <= 14; i++) {
      await d.page.mouse.move(x, y - i * 8);
      await d.page.waitForTimeout(60);
    }
    await d.page.locator("slopewright-planner .held:not(.grip)").waitFor();
    assert.ok(Math.abs((await top()) - from) < 1, "what is wrong does not push the drawing away");
    assert.ok(Math.abs((await middle("ground-3"))[1] - (y - 112)) < 1.5, "the point is under the finger");
    assert.deepEqual({ first: await first(), drawn: await drawn() }, before, "as it was before it was taken up, not on the way");
    const [strip, paper] = [await d.page.locator("figure .unfit").boundingBox(), await d.page.locator("figure .paper").boundingBox()];
    assert.ok(strip.y >= paper.y + paper.height - 1, "what is wrong stands below the drawing, and not on its figures");
    assert.equal(await d.page.locator(".stale .unfit").count(), 0, "and is not grey");
    const heard = (says) => d.page.waitForFunction((says) => document.querySelector("slopewright-planner").shadowRoot.querySelector("[role=status]").textContent.includes(says), says);
    await heard("to put right.");
    await d.page.mouse.move(x, y - 8);
    await heard("risers"); // put right, though it is still held
    // A headline that takes another line is seen in full, and does not push the drawing away.
    await d.page.mouse.move(x, y + 16);
    await d.page.waitForFunction((was) => document.querySelector("slopewright-planner").shadowRoot.querySelector(".first").scrollHeight > was, lines);
    assert.ok(await d.page.locator(".first").evaluate((f) => f.scrollHeight <= f.clientHeight), "nothing of it is cut off");
    assert.ok(Math.abs((await top()) - from) < 1, "the drawing stays");
    // And is what is announced, once the finger rests.
    await d.page.waitForFunction(() => {
      const [seen, heard] = [".first", "[role=status]"].map((part) => document.querySelector("slopewright-planner").shadowRoot.querySelector(part).textContent.trim().replace(/\s+/g, " "));
      return seen === heard;
    });
    await d.page.mouse.move(x, y - 112);
    await d.page.locator("slopewright-planner .held:not(.grip)").waitFor();
    await letGo();
    assert.deepEqual({ first: await first(), drawn: await drawn() }, before, "headline and drawing are of the same hill");
    assert.equal(await d.page.locator('[data-grip^="ground-"]').count(), 6, "the others can be taken, too");
    assert.equal(await d.page.evaluate(() => document.querySelector("slopewright-planner").shadowRoot.activeElement?.dataset.grip), "ground-3", "the focus stays on it");
    // It stands where it was left, and is taken up from there.
    const [, left] = await middle("ground-3");
    assert.ok(Math.abs(left - (y - 112)) < 1.5, `left at ${y - 112}, drawn at ${left}`);
    const high = (await d.plan()).ground.readings[3].level;
    assert.ok(Math.abs(parseFloat(high) - 1.1 - 112 / scale) < 0.011, high);
    await d.page.mouse.move(x, left);
    await d.page.mouse.down();
    await d.page.mouse.move(x, left + 60);
    await d.page.mouse.move(x, left + 112);
    // Back where it began, and seen to be.
    await d.page.waitForFunction(() => document.querySelector("slopewright-planner").shadowRoot.querySelector('[data-field="ground.readings[3].level"]').value === "1.1 m");
    await letGo();
    await d.settled();
    assert.deepEqual({ first: await first(), drawn: await drawn() }, before);
    await d.page.keyboard.press("Control+z");
    await d.page.waitForFunction((high) => document.querySelector("slopewright-planner").plan.ground.readings[3].level === high, high);
  });
});

test("far past what fits, the point stays within the drawing and the drawing where it is; out and back again is nothing to take back", async () => {
  await d.open("/", { width: 360, height: 740 });
  await d.show(hill({ method: "levels", readings: [["0 m", "0 m"], ["2 m", "0.5 m"], ["4 m", "0.9 m"], ["6 m", "2.1 m"]].map(([at, level]) => ({ at, level })) }, { steps: { tread: { min: "330 mm" } } }));
  const rest = d.page.getByRole("button", { name: "Move points in the drawing" });
  if (await rest.count()) await rest.click();
  const middle = async (id) => {
    const { x, y, width, height } = await grip(id).locator(".face").boundingBox();
    return [x + width / 2, y + height / 2];
  };
  await grip("ground-1").scrollIntoViewIfNeeded();
  await d.page.evaluate(() => scrollBy(0, -150));
  const undo = () => d.page.getByRole("button", { name: "Undo", exact: true }).isDisabled();
  const drag = async (id, ...ways) => {
    const [x, y] = await middle(id);
    await d.page.mouse.move(x, y);
    await d.page.mouse.down();
    for (const [dx, dy] of ways) await d.page.mouse.move(x + dx, y + dy);
  };
  const before = await undo();
  await drag("ground-1", [0, -30], [0, -8], [0, 0]);
  await letGo();
  await d.settled();
  assert.equal(await undo(), before, "nothing was changed");
  // A wish that is closed away is at fault: its group opens, and the drawing does not move.
  const top = () => d.page.locator("figure").evaluate((f) => f.getBoundingClientRect().top);
  await drag("foot", [60, 0], [120, 0], [155, 0]);
  await d.page.locator("slopewright-planner .held:not(.grip)").waitFor();
  const from = await top();
  await letGo();
  assert.ok(Math.abs((await top()) - from) < 1.5, `from ${from} to ${await top()}`);
  await d.page.keyboard.press("Control+z");
  await d.settled();
  await d.page.locator("figure .paper").evaluate((p) => scrollBy(0, p.getBoundingClientRect().bottom - innerHeight - 60)); // the list of what is wrong is out of sight
  await drag("ground-1", [0, -100], [0, -500]);
  await d.page.locator("slopewright-planner .held:not(.grip)").waitFor();
  const told = d.page.locator(".unfit > span");
  assert.match(await told.innerText(), /^No steps here: \S/);
  const seen = await told.boundingBox();
  assert.ok(seen.y > 0 && seen.y + seen.height <= 740.5, `told from ${seen.y}, ${seen.height} high`);
  await letGo();
  const box = await d.page.locator("figure .paper").boundingBox();
  const [, y] = await middle("ground-1");
  assert.ok(y > box.y && y < box.y + 20, `${y} in a drawing from ${box.y}`);
});

describe("neighbours", () => {
  const drag = async (id, dx) => {
    const box = await grip(id).locator(".face").boundingBox();
    const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
    await d.page.mouse.move(x, y);
    await d.page.mouse.down();
    for (let i = 1; i <= 6; i++) await d.page.mouse.move(x + (dx * i) / 6, y);
    await letGo(); // a wall may have no steps that fit it
  };
  const at = async () => (await d.plan()).ground.readings.map((r) => r.at);

  for (const [name, ground, first, past] of [
    ["levels", { method: "levels", readings: [{ at: "0 m", level: "0 m" }, { at: "2 m", level: "0.6 m" }, { at: "4 m", level: "1.3 m" }] }, ["0 m", "3.99 m", "4 m"], ["0 m", "0.01 m", "4 m"]],
    ["a string from the head", { method: "string", from: "head", readings: [{ at: "0 m", drop: "0.2 m" }, { at: "2 m", drop: "0.8 m" }, { at: "4 m", drop: "1.5 m" }] }, ["0 m", "0.01 m", "4 m"], ["0 m", "3.99 m", "4 m"]],
  ]) {
    test(`${name}: a point that is moved past its neighbour stops before it`, async () => {
      await d.open();
      await d.show(hill(ground));
      await drag("ground-1", 700);
      assert.deepEqual(await at(), first);
      await drag("ground-1", -700);
      assert.deepEqual(await at(), past);
      await drag("ground-1", 2);
      await d.settled();
      assert.notDeepEqual(await at(), past, "from there it can be moved back");
    });
  }

  test("the top of a string has nowhere to go, and a first point not past the foot", async () => {
    await d.open();
    await d.show(hill({ method: "string", from: "head", readings: [{ at: "0 m", drop: "0.2 m" }, { at: "2 m", drop: "0.8 m" }, { at: "4 m", drop: "1.5 m" }] }));
    await press("ground-0", "Shift+ArrowRight");
    await d.settled();
    assert.equal(parseFloat((await at())[0]), 0);
    await d.show(hill({ method: "levels", readings: [{ at: "0 m", level: "0 m" }, { at: "2 m", level: "0.6 m" }, { at: "4 m", level: "1.3 m" }] }, { path: { width: "1.2 m", foot: { at: "0.3 m" } } }));
    await press("ground-0", ...Array.from({ length: 6 }, () => "Shift+ArrowRight"));
    await d.settled();
    assert.equal(parseFloat((await at())[0]), 0.3);
  });

  test("a tape up the slope: no piece is turned back", async () => {
    await d.open();
    await d.show(hill({ method: "slope", readings: [{ length: "2 m", angle: "14°" }, { length: "2 m", angle: "16°" }, { length: "2 m", angle: "12°" }] }));
    await drag("ground-1", 900);
    assert.deepEqual((await d.plan()).ground.readings.map((r) => parseFloat(r.length) > 0), [true, true, true]);
  });

  test("a handle stays on its side while another point is moved, until it would hide a word", async () => {
    await d.open("/", { width: 360, height: 740 });
    await d.show(await planOf("gentle"));
    const rest = d.page.getByRole("button", { name: "Move points in the drawing" });
    if (await rest.count()) await rest.click();
    const below = () => grip("foot").locator(".lead").evaluate((lead) => { const { y } = lead.getPointAtLength(0); return lead.getPointAtLength(99).y > y; });
    const sides = [];
    for (let i = 0; i < 3; i++) {
      await press("head", "Shift+ArrowUp");
      await d.settled();
      sides.push(await below()); // the first time it may have to give way to a word
    }
    assert.ok(sides.every((side) => side === sides[0]), String(sides));
  });

  test("handles stand clear of the words of the drawing", async () => {
    for (const [plan, width] of [["gentle", 1280], ["bench"], ["offer"], ["offer", 390], ["steepening"]]) {
      if (width) await d.open("/", { width });
      await d.show(await planOf(plan));
      const hidden = await d.page.evaluate(() => {
        const root = document.querySelector("slopewright-planner").shadowRoot;
        const words = [...root.querySelectorAll("figure .sw-section text")].map((t) => [t.textContent, t.getBoundingClientRect()]);
        return [...root.querySelectorAll(".grip:not(.ground) .face")].flatMap((face) => {
          const f = face.getBoundingClientRect();
          return words.filter(([, b]) => f.left < b.right && f.right > b.left && f.top < b.bottom && f.bottom > b.top).map(([text]) => `${face.parentElement.dataset.grip} on ${text}`);
        });
      });
      assert.deepEqual(hidden, [], plan);
    }
  });
});

test("half built, the head is where the path ends, not where what is left to build would", async () => {
  await d.open();
  const built = [{ riser: 1, at: "0 m", level: "0.12 m" }, { riser: 2, at: "0.5 m", level: "0.25 m" }, { riser: 3, at: "1.02 m", level: "0.37 m" }];
  await d.show({ ...(await planOf("gentle")), built });
  await press("head", "ArrowLeft");
  await d.settled();
  assert.equal((await d.plan()).path.head.at, "9.59 m");
});

describe("where a flight meets a landing", () => {
  const two = { steps: { fixed: [{ risers: 5, tread: "350 mm", landing: "1.2 m" }, { risers: 6, tread: "350 mm" }] } };
  const ground = { method: "levels", readings: [{ at: "0 m", level: "0 m" }, { at: "4.35 m", level: "1.6 m" }] };

  test("moved up, a riser goes from the flight above to the one below, and the path stays as long", async () => {
    await d.open();
    const before = await d.show(hill(ground, two));
    await press("step-0", "ArrowUp");
    await d.page.waitForFunction(() => document.querySelector("slopewright-planner").plan.steps.fixed[0].risers === 6);
    const after = await d.settled();
    assert.deepEqual(after.layout.flights.map((f) => f.risers), [6, 5]);
    assert.ok(Math.abs(after.layout.run - before.layout.run) < 1e-9);
    assert.equal(await d.page.evaluate(() => document.querySelector("slopewright-planner").shadowRoot.activeElement?.dataset.grip), "step-0", "the focus stays on it");
    await d.page.keyboard.press("ArrowDown");
    await d.settled();
    assert.deepEqual((await d.plan()).steps.fixed.map((f) => f.risers), [5, 6]);
  });

  test("in a plan in feet it is written in inches", async () => {
    await d.open();
    const before = await d.show({ ...hill(ground, two), units: "imperial" });
    // Read aloud as the marks are written.
    const { riser, text } = before.stakeout.find((m) => m.riser === before.layout.flights[1].first);
    const aloud = (mark) => mark.replace(/^1 ft/, "1 foot").replace(" ft", " feet").replace(/ 0 in$/, "").replace(/ in$/, " inches");
    assert.equal(await grip("step-1").getAttribute("aria-label"), `Riser ${riser}: ${aloud(text.station)} along, ${aloud(text.level)} up`);
    await press("step-1", "Shift+ArrowLeft");
    const after = await d.settled();
    const { fixed } = (await d.plan()).steps;
    assert.deepEqual(fixed.map((f) => / in$/.test(f.tread)), [true, true]);
    assert.match(fixed[0].landing, / in$/);
    assert.equal(after.layout.run, before.layout.run);
    assert.ok(after.layout.landings[0].end < before.layout.landings[0].end);
  });

  test("a layout of one's own that does not fit is not what is drawn, and that is said beside the way back", async () => {
    await d.open();
    await d.show(hill(ground, two));
    await press("step-0", "Shift+ArrowRight");
    const own = d.page.locator(".own");
    await own.waitFor();
    await d.settled();
    assert.match(await own.innerText(), /^These steps are laid as the plan has them/);
    await d.group("A layout of your own");
    await d.field("steps.fixed[0].risers").fill("90");
    await d.page.locator("slopewright-planner .held:not(.grip)").waitFor();
    assert.match(await own.innerText(), /^The drawing is of before: your own layout/);
    await own.getByRole("button", { name: "Fit the steps again" }).click();
    await d.settled();
    assert.equal(await own.count(), 0);
  });

  test("no flight is left without a riser, and no landing without room", async () => {
    await d.open();
    await d.show(hill(ground, two));
    await press("step-1", ...Array.from({ length: 12 }, () => "ArrowUp"));
    await d.page.waitForTimeout(300);
    for (const flight of (await d.plan()).steps.fixed) assert.ok(flight.risers >= 1);
    await d.open();
    await d.show(hill(ground, two));
    await press("step-0", ...Array.from({ length: 14 }, () => "Shift+ArrowRight"));
    await d.page.waitForTimeout(300);
    const [first] = (await d.plan()).steps.fixed;
    assert.ok(typeof first.landing === "string" || first.landing >= 0.05, JSON.stringify(first));
  });

  test("a flight of one riser between two landings goes from one to the other", async () => {
    await d.open();
    const steps = { fixed: [{ risers: 4, tread: "350 mm", landing: "1.2 m" }, { risers: 1, landing: "1.3 m" }, { risers: 4, tread: "350 mm" }] };
    const before = await d.show(hill({ method: "levels", readings: [{ at: "0 m", level: "0 m" }, { at: "4.6 m", level: "1.3 m" }] }, { steps }));
    await press("step-2", "Shift+ArrowRight");
    await d.page.waitForFunction(() => typeof document.querySelector("slopewright-planner").plan.steps.fixed[0].landing === "number");
    const after = await d.settled();
    const depth = (r) => r.layout.landings.map((l) => Number(l.depth.toFixed(4)));
    assert.deepEqual(depth(after), [Number((depth(before)[0] + 0.1).toFixed(4)), Number((depth(before)[1] - 0.1).toFixed(4))]);
  });
});

// What is drawn of one is made into the next by what differs in their texts, where no more than numbers come and go.
test("a drawing made of another is the same as one drawn afresh", async () => {
  const plan = hill({ method: "levels", readings: [0, 0.9, 1.3, 2.4, 3].map((level, i) => ({ at: `${3 * i} m`, level: `${level} m` })) });
  const drawn = () => d.page.locator("figure svg.sw-section").evaluate((s) => s.outerHTML);
  await d.open();
  await d.show(plan);
  const first = await drawn();
  const kept = await d.page.locator("figure svg.sw-section").evaluateHandle((s) => ({ first: s, at: s.querySelector("path") }));
  const numbers = new Set();
  for (const [id, ...keys] of [["ground-2", "ArrowUp"], ["ground-2", "Shift+ArrowUp", "Shift+ArrowUp"], ["ground-1", "Shift+ArrowDown", "ArrowRight"], ["ground-3", "Shift+ArrowUp"]]) {
    await press(id, ...keys);
    await d.settled();
    numbers.add(await d.page.locator("figure svg.sw-section text").count());
  }
  assert.ok(numbers.size > 1, "some came and went");
  await d.page.mouse.click(1, 1); // no handle has the focus
  const made = await drawn();
  assert.notEqual(made, first);
  assert.ok(await d.page.locator("figure svg.sw-section").evaluate((s, { first, at }) => s === first && s.contains(at), kept), "the elements are the same");
  const last = await d.plan();
  await d.open();
  await d.show(last);
  assert.equal(made, await drawn());
});
