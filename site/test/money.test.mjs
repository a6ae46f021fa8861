// Price lists, bills, and plans side by side, driven as a person would.
import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, test } from "node:test";
import { driven, native, planOf, root } from "./driven.mjs";

const d = driven();
const button = (name) => d.page.getByRole("button", { name, exact: true });
const paste = async (text) => {
  if ((await d.page.locator("[data-do=paste-list]").getAttribute("aria-expanded")) !== "true") await d.page.locator("[data-do=paste-list]").click();
  // At once, as a paste comes: the browser's own writing of many lines takes it minutes.
  await d.page.locator(".pricelist textarea").evaluate((el, text) => {
    el.value = text;
    el.dispatchEvent(new InputEvent("input", { bubbles: true }));
  }, text);
  await d.page.locator("[data-do=take-list]").click();
};
const prices = async () => (await d.plan()).prices?.items ?? [];

describe("price lists", () => {
  test("a file of a yard's prices is taken, as the native build reads it; undone in one", async () => {
    await d.open();
    await d.show({ ...(await planOf("gentle")), prices: { currency: "USD", items: [{ item: "base-gravel", price: "1.00", per: "m3" }, { item: "sod", price: "3.00", per: "m2" }] } });
    await d.group("Prices");
    const list = await readFile(join(root, "testdata", "plans", "yard.csv"));
    await d.page.locator(".pricelist input[type=file]").setInputFiles({ name: "yard.csv", mimeType: "text/csv", buffer: list });
    await d.page.getByText("20 prices taken, 1 in the place of one that was there.").first().waitFor();
    const want = native({ format: "slopewright.request/1", op: "prices", price_list: String(list) }).items;
    assert.deepEqual(await prices(), [want[0], { item: "sod", price: "3.00", per: "m2" }, ...want.slice(1)]);
    const result = await d.settled();
    assert.match(await d.page.locator("#bill tfoot").innerText(), new RegExp(result.bill.total.replace(".", "\\.")));
    await button("Undo").click();
    await d.settled();
    assert.equal((await prices()).length, 2);
  });

  test("pasted, with a comma for a point; what is wrong stands beside it by its lines, and nothing is taken or lost", async () => {
    await d.open("/", { width: 390, height: 844 });
    await d.show(await planOf("gentle"));
    await d.group("Prices");
    const before = await prices();
    const bad = "item;price;per\nbase-gravel;4x;m3\n;3;each\npin;3,10;each\n";
    await paste(bad);
    await d.page.locator("#wrong-list li").first().waitFor();
    assert.deepEqual(await d.page.locator("#wrong-list li b").allInnerTexts(), ["line 2, price", "line 3, item"]);
    assert.equal(await d.page.locator(".pricelist textarea").inputValue(), bad);
    assert.deepEqual(await prices(), before);
    await d.accessible("a price list with faults");
    await paste("item;price;per\nbase-gravel;42,50;m3\npin;3,10;each\n");
    await d.page.getByText("2 prices taken").first().waitFor();
    assert.equal(await d.page.locator("slopewright-planner").evaluate((el) => el.shadowRoot.activeElement?.dataset.do), "paste-list", "the button that was pressed is gone");
    assert.equal((await prices()).find((p) => p.item === "pin").price, "3.10");
    await d.settled();
    await d.accessible("a price list taken");
  });

  test("a list of timber goes to the timber; one of a length that is there takes its place", async () => {
    await d.open();
    const plan = await planOf("gentle");
    delete plan.stock;
    await d.show(plan);
    await d.group("Prices");
    await paste("section,length,price,available\n100x200,3 m,41.50,\n100x200,2.4 m,33.20,40\n");
    await d.page.getByText("2 lengths of timber taken").first().waitFor();
    await paste('section\tlength\tprice\n100x200\t3 m\t39,90\n');
    await d.page.getByText("1 in the place of one that was there").first().waitFor();
    assert.deepEqual((await d.plan()).stock, [{ section: "100x200", length: "3 m", price: "39.90" }, { section: "100x200", length: "2.4 m", price: "33.20", available: 40 }]);
    await paste("section,length,cost\n100x200,3 m,1\n");
    await d.page.locator("#wrong-list li", { hasText: "is not a column" }).first().waitFor();
    // One list may have both, as the calculator writes it.
    await paste("item,section,length,price,per\nboard,100x200,3 m,38.00,each\npin,,,2.95,each\n");
    await d.page.getByText("One price taken").first().waitFor();
    await d.page.getByText("One length of timber taken, 1 in the place of one that was there.").first().waitFor();
    assert.equal((await d.plan()).stock[0].price, "38.00");
    assert.equal((await prices()).find((p) => p.item === "pin").price, "2.95");
    await d.settled();
  });

  test("hostile lists: a sentence, and the page lives", async () => {
    await d.open();
    await d.show(await planOf("gentle"));
    await d.group("Prices");
    const before = await prices();
    for (const [name, text] of Object.entries({
      prototype: "item,price,per\n__proto__,1,constructor\n",
      gigantic: "item,price,per\nbase-gravel,1e999,m3\n",
      digits: `item,price,per\nbase-gravel,${"9".repeat(5000)},m3\n`,
      columns: `${Array.from({ length: 3000 }, (_, i) => `c${i}`).join(",")}\n`,
      quote: 'item,price,per\n"base-gravel,1,m3\n',
      lines: `item,price,per\n${"base-gravel,1,m3\n".repeat(3000)}`,
      binary: "\u0000\u0001PK\u0003\u0004",
    })) {
      await paste(text);
      await d.page.locator("#wrong-list").waitFor({ timeout: 15000 }).catch((err) => assert.fail(`${name}: ${err}`));
      assert.deepEqual(await prices(), before, name);
      assert.equal(await d.page.locator("slopewright-planner img, slopewright-planner script").count(), 0, name);
      assert.ok((await d.page.locator("#wrong-list li").count()) <= 13, name);
    }
    await d.page.locator(".pricelist input[type=file]").setInputFiles({ name: "huge.csv", mimeType: "text/csv", buffer: Buffer.alloc(2_000_000, 0x2c) });
    await d.page.getByText("This list is too large").first().waitFor();
    // An item may be called anything: it is shown as it is written.
    await paste("item,price,per\n<img src=x onerror=alert(1)>,1,each\n");
    await d.page.getByText("One price taken").first().waitFor();
    assert.equal(await d.page.locator("slopewright-planner img").count(), 0);
    await d.settled();
  });
});

describe("the bill", () => {
  test("deliveries, labour, mark-ups, tax and what has no price", async () => {
    await d.open();
    const want = await d.show(await planOf("offer"));
    const rows = await d.page.locator("#bill tfoot tr").evaluateAll((all) => all.map((r) => [...r.children].map((c) => c.textContent)));
    assert.deepEqual(rows, [["Goods", want.bill.goods], ["Delivery", want.bill.deliveries], ["Mark-up", want.bill.markups], ["Labour", want.bill.labour], ["Before tax", want.bill.subtotal], [`Tax, on ${want.bill.taxed}`, want.bill.tax], ["Total", want.bill.total]]);
    const bodies = await d.page.locator("#bill tbody tr").allInnerTexts();
    assert.equal(bodies.length, want.bill.lines.length);
    assert.ok(!bodies.some((b) => /^.*\n *needed/m.test(b)), "a mark-up is not needed");
    const plan = await planOf("offer");
    plan.prices.items = plan.prices.items.filter((p) => p.item !== "light");
    const open = await d.show(plan);
    assert.deepEqual(open.bill.unpriced, ["light"]);
    await d.page.getByText("Without a price, and not in the total: light.").waitFor();
    assert.match(await d.page.locator("#bill tfoot").innerText(), /Total of what has a price/);
    await d.show(await planOf("earth"));
    assert.equal(await d.page.locator("#bill tfoot").count(), 0, "where nothing has a price there is no total");
    await button("Keep this one beside").click();
    await d.page.getByRole("button", { name: "Set the bills side by side, 1" }).click();
    await d.page.locator("#pins th", { hasText: "① The other plan" }).waitFor({ timeout: 60000 });
    assert.equal(await d.page.locator("#pins tfoot").count(), 0, "nor of two such plans");
  });

  test("two plans' bills side by side, and gone stale when the plan changes", async () => {
    await d.open();
    const plan = await planOf("offer");
    await d.show(plan);
    await button("Keep this one beside").click();
    await d.show({ ...plan, title: "wider", path: { ...plan.path, width: "5 ft" } });
    await button("Keep this one beside").click();
    await d.page.getByRole("button", { name: "Set the bills side by side, 2" }).click();
    await d.page.locator("#pins th", { hasText: "② The other plan" }).waitFor({ timeout: 60000 });
    await d.page.getByRole("button", { name: "Set the bills side by side, 1" }).click();
    await d.page.locator("#pins th", { hasText: `① ${plan.title}` }).waitFor();
    const { comparison } = native({ format: "slopewright.request/1", plan: await d.plan(), compare: plan });
    await d.page.locator("#pins p", { hasText: comparison.says }).waitFor({ timeout: 60000 });
    const shown = await d.page.locator("#pins table:not(.beside) tbody tr").evaluateAll((rows) => rows.map((r) => [...r.children].map((c) => c.textContent)));
    const cell = (buy, cost) => (buy ? (cost ?? "–") + buy : "–");
    const more = (m) => (m === "" ? "–" : Number(m) === 0 ? m : m.startsWith("-") ? m.replace("-", "−") : `+${m}`);
    assert.deepEqual(shown, comparison.lines.map((l) => [l.name.charAt(0).toUpperCase() + l.name.slice(1), cell(l.buy, l.cost), cell(l.other_buy, l.other_cost), more(l.more)]));
    const totals = () => d.page.locator("#pins tfoot tr").evaluateAll((rows) => rows.map((r) => [...r.children].map((c) => c.textContent)));
    const [mine, its] = [await d.plan(), plan].map((plan) => native({ format: "slopewright.request/1", plan }).bill.total);
    assert.deepEqual(await totals(), [["Total", mine, its, more(comparison.more)]]);
    await d.accessible("bills side by side");
    await d.field("title").fill("other");
    await d.page.locator("#pins .stale").last().waitFor();
    // What only one has a price of is in its total, and in no difference.
    await d.show({ ...plan, prices: { ...plan.prices, items: plan.prices.items.filter((p) => p.item !== "light") } });
    await d.page.getByRole("button", { name: "Set the bills side by side, 1" }).click();
    await d.page.locator("#pins tfoot", { hasText: "Of what has a price on both" }).waitFor();
    const open = await totals();
    await d.page.setViewportSize({ width: 360, height: 740 });
    const wide = await d.page.locator("#pins .frame").evaluateAll((all) => all.map((f) => f.scrollWidth - f.clientWidth));
    assert.ok(wide.every((over) => over <= 0), `on a phone what one costs more is not out of sight: ${wide}`);
    assert.deepEqual([open.length, open[0][0], open[0][2], open[0][3], open[1].length], [2, "Total of what has a price", its, "", 2]);
  });
});

describe("the other lists", () => {
  test("water, where the earth goes, the order of work and what to mind, as the calculator has them", async () => {
    await d.open();
    const want = await d.show(await planOf("earth"));
    const texts = (where) => d.page.locator(where).allInnerTexts();
    assert.deepEqual((await texts("#water p")).slice(0, -1), want.water.says);
    assert.deepEqual(await texts("#haul li"), want.haul.moves.map((m) => m.says));
    assert.deepEqual((await texts("#haul p")).length, want.haul.places.length);
    assert.deepEqual(await texts("#order li"), want.order.map((o) => o.says));
    assert.equal(await d.page.locator("#order nobr", { hasText: /^2026-05-08$/ }).count(), 1, "no date is parted");
    assert.equal(await d.page.locator("#notes li").count(), want.notes.length);
    assert.equal(await d.page.locator("#cautions li").count(), want.findings.filter((f) => f.severity === "caution").length);
    await d.accessible("water, order and notes");
  });

  test("each can be shown alone", async () => {
    await d.open();
    await d.show(await planOf("offer"));
    const names = ["choices", "pins", "stakeout", "findings", "cautions", "earth", "haul", "time", "order", "takeoff", "notes", "cutplan", "bill", "paper"];
    for (const name of names) {
      await d.page.evaluate((name) => document.querySelector("slopewright-planner").setAttribute("sections", `answer ${name}`), name);
      await d.page.waitForFunction((name) => document.querySelector("slopewright-planner").shadowRoot.querySelector(`[part=${name}]`)?.checkVisibility(), name);
      const seen = await d.page.evaluate((names) => names.filter((n) => document.querySelector("slopewright-planner").shadowRoot.querySelector(`[part=${n}]`)?.checkVisibility()), names);
      assert.deepEqual(seen, [name]);
    }
  });
});
