// The field book as a document: what is typed stays as typed, and faults land
// on the line they belong to. Built by make into build/test.
import assert from "node:assert/strict";
import { readFile, readdir } from "node:fs/promises";
import { dirname, join } from "node:path";
import { test } from "node:test";
import { fileURLToPath } from "node:url";

const root = join(dirname(fileURLToPath(import.meta.url)), "..", "..");
const { Book } = await import(join(root, "build", "test", "book.mjs"));

test("a document comes out as it went in", async () => {
  const plans = join(root, "testdata", "plans");
  let count = 0;
  for (const name of await readdir(plans)) {
    if (!name.endsWith(".json")) continue;
    const plan = JSON.parse(await readFile(join(plans, name), "utf8"));
    if (plan.format !== "slopewright.plan/1") continue;
    count++;
    assert.deepEqual(new Book(plan).document().plan, plan, name);
    assert.deepEqual(Book.restore(JSON.parse(JSON.stringify(new Book(plan).keep()))).document().plan, plan, `${name}, kept`);
  }
  assert.ok(count >= 3, "demos found");
});

test("what the page does not know passes through, and is not run", () => {
  const plan = JSON.parse('{"format":"slopewright.plan/1","__proto__":{"x":1},"constructor":"c","ground":{"method":"constructor","odd":[1],"readings":"none"},"path":7}');
  const book = new Book(plan);
  assert.deepEqual(book.columns, []);
  assert.equal(book.text("path.width"), "");
  const out = book.document().plan;
  assert.equal(out.ground.readings, "none");
  assert.equal(out.path, 7);
  assert.equal({}.x, undefined);
});

test("what no plan has is taken out from where a fault names it, and nothing else", () => {
  const book = new Book(
    JSON.parse('{"format":"slopewright.plan/1","colour":"green","__proto__":{"x":1},"ground":{"method":"levels","moon":3,"readings":[{"at":0},{},{"at":1,"tip":"wet"}]},"steps":{"fancy":{"a":1},"rules":"garden"},"prices":{"items":[{"item":"pin","price":"1","bag":{"x":[1]}}]}}'),
  );
  const { lines } = book.document();
  const out = ["colour", "__proto__", "ground.moon", "ground.readings[1].tip", "steps.fancy", "prices.items[0].bag", "steps.toString", "nothing.at.all"].map((field) => book.takeOut(field, lines));
  assert.deepEqual(out.slice(0, 6), ["green", { x: 1 }, 3, "wet", { a: 1 }, { x: [1] }]);
  assert.deepEqual(book.document().plan, { format: "slopewright.plan/1", ground: { method: "levels", readings: [{ at: 0 }, { at: 1 }] }, steps: { rules: "garden" }, prices: { items: [{ item: "pin", price: "1" }] } });
  assert.equal(typeof {}.toString, "function");
});

test("blank lines are no readings, and faults find their line", () => {
  const book = Book.blank("metric");
  book.writeCell(0, "at", "0 m");
  book.writeCell(3, "at", "2 m");
  book.writeCell(3, "drop", "7 fft");
  const { plan, lines } = book.document();
  assert.deepEqual(plan.ground.readings, [{ at: "0 m" }, { at: "2 m", drop: "7 fft" }]);
  assert.deepEqual(lines["ground.readings"], [0, 3]);
  const shown = new Set(["ground.readings[3].drop", "ground.readings[3]", "ground.readings", "ground", "path.width"]);
  const at = (field) => book.place({ field, problem: "" }, lines, shown);
  assert.equal(at("ground.readings[1].drop"), "ground.readings[3].drop");
  assert.equal(at("ground.readings[1].odd"), "ground.readings[3]");
  assert.equal(at("ground.readings[0].at"), "ground.readings");
  assert.equal(at("path"), "path.width");
  assert.equal(at("stock[0].price"), "");
});

test("tables beside the readings: as typed, counts as numbers, blank lines left out", () => {
  const book = Book.blank("metric");
  assert.equal(book.rows("stock").length, 1);
  assert.equal(book.document().plan.stock, undefined);
  for (const [line, key, text] of [[0, "section", "100x200"], [0, "length", "3 m"], [0, "price", "41.50"], [2, "section", "47x170"], [2, "length", "4.2 m"], [2, "available", "6"], [3, "length", "?"]]) book.writeCell(line, key, text, "stock");
  book.writeCell(0, "turn", "−30°", "path.bends");
  book.writeCell(0, "radius", "2 m", "path.bends");
  book.writeCell(0, "riser", "1", "built");
  const { plan, lines } = book.document();
  assert.deepEqual(plan.stock, [{ section: "100x200", length: "3 m", price: "41.50" }, { section: "47x170", length: "4.2 m", available: 6 }, { length: "?" }]);
  assert.deepEqual(plan.path.bends, [{ turn: -30, radius: "2 m" }]);
  assert.deepEqual(plan.built, [{ riser: 1 }]);
  assert.equal(book.cell(0, "turn", "path.bends"), "-30");
  const shown = new Set(["stock", "stock[3]", "stock[3].length", "path.bends[0].radius"]);
  assert.equal(book.place({ field: "stock[2].length", problem: "" }, lines, shown), "stock[3].length");
  assert.equal(book.place({ field: "stock[2].section", problem: "" }, lines, shown), "stock[3]");
  // Taken out again, nothing of it is left.
  for (const [list, n] of [["stock", 4], ["path.bends", 1], ["built", 1]]) for (let i = 0; i < n; i++) book.remove(0, list);
  const bare = book.document().plan;
  assert.deepEqual([bare.stock, bare.path, bare.built], [undefined, undefined, undefined]);
  // What was no table gives way once there is one.
  const odd = new Book({ format: "slopewright.plan/1", stock: "none", path: { width: "1 m", bends: [7] } });
  assert.equal(odd.document().plan.stock, "none");
  odd.rows("stock");
  odd.rows("path.bends");
  assert.deepEqual(odd.document().plan.path.bends, [7]);
  odd.writeCell(0, "section", "6x6", "stock");
  assert.deepEqual(odd.document().plan.stock, [{ section: "6x6" }]);
});

test("ticks, words and a layout put in the place of another", () => {
  const book = Book.blank("metric");
  book.tick("steps.courses", true);
  book.write("steps.kinds", "box, framed");
  book.setRows("steps.fixed", [{ kind: "box", risers: 3, tread: 0.3302, landing: 2.5653999999999995 }, { risers: 1 }]);
  assert.deepEqual(book.document().plan.steps, { rules: "garden", courses: true, kinds: ["box", "framed"], fixed: [{ kind: "box", risers: 3, tread: 0.3302, landing: 2.5653999999999995 }, { risers: 1 }] });
  assert.equal(book.cell(0, "landing", "steps.fixed"), "2.5654 m");
  assert.equal(book.text("steps.kinds"), "box, framed");
  assert.ok(book.ticked("steps.courses") && !book.ticked("steps.joined"));
  book.tick("steps.courses", false);
  book.write("steps.kinds", "");
  book.setRows("steps.fixed", []);
  assert.deepEqual(book.document().plan.steps, { rules: "garden" });
});

test("there is always one blank line to write on", () => {
  const book = Book.blank("metric");
  assert.equal(book.rows().length, 1);
  book.writeCell(0, "at", "1 m");
  assert.equal(book.rows().length, 2);
  book.writeCell(0, "at", "");
  book.insert(0);
  assert.ok(book.empty);
});

test("a table from a spreadsheet fills cells to the right and down", () => {
  const book = Book.blank("metric");
  assert.equal(book.paste(0, "at", "0.4 m"), -1);
  assert.equal(book.paste(0, "at", "Station\tDrop\r\n0 m\t1.2 m\r\n1,5 m\t 0.9 m \t3 %\tbeyond\r\n"), 2);
  assert.deepEqual(book.document().plan.ground.readings, [{ at: "0 m", drop: "1.2 m" }, { at: "1,5 m", drop: "0.9 m", crossfall: "3 %" }]);
  assert.equal(book.paste(2, "drop", "0.4 m\n0.1 m"), 4);
  assert.equal(book.cell(3, "drop"), "0.1 m");
});

test("each method keeps its own page", () => {
  const book = Book.blank("imperial");
  book.writeCell(0, "at", "4 ft");
  book.method = "slope";
  book.slopeBy = "grade";
  assert.deepEqual(book.columns.map((c) => c.key), ["length", "grade"]);
  book.writeCell(0, "grade", "1:4");
  book.slopeBy = "angle";
  assert.deepEqual(book.document().plan.ground, { method: "slope", readings: [{ angle: "1:4" }] });
  book.method = "total";
  assert.deepEqual(book.document().plan.ground, { method: "total" });
  book.method = "string";
  assert.deepEqual(book.document().plan.ground, { method: "string", from: "head", readings: [{ at: "4 ft" }] });
});

test("fields: text stays text, counts are numbers, nothing leaves nothing behind", () => {
  const book = Book.blank("metric");
  book.write("steps.landing.every", "12");
  book.write("steps.landing.min", "1 m");
  book.write("crew.hours_per_day", "6,5");
  book.write("crew.people", "two");
  assert.deepEqual(book.document().plan.steps.landing, { every: 12, min: "1 m" });
  assert.deepEqual(book.document().plan.crew, { hours_per_day: 6.5, people: "two" });
  for (const f of ["steps.landing.every", "steps.landing.min", "crew.hours_per_day", "crew.people"]) book.write(f, "");
  assert.deepEqual(book.document().plan.steps, { rules: "garden" });
  assert.equal(book.document().plan.crew, undefined);
});

test("numbers of a document are shown with the unit they have", () => {
  const book = new Book({ format: "slopewright.plan/1", ground: { method: "levels", readings: [{ at: 1.5, level: 0.25, crossfall: 0.07 }] }, path: { width: 1.2 }, crew: { people: 3 } });
  assert.equal(book.cell(0, "at"), "1.5 m");
  assert.equal(book.cell(0, "crossfall"), "7 %");
  assert.equal(book.text("path.width"), "1.2 m");
  assert.equal(book.text("crew.people"), "3");
  assert.equal(book.document().plan.ground.readings[0].at, 1.5);
});

test("before anything follows from it, a book is kept in what its readings are in", () => {
  const begun = (units, ...at) => {
    const book = Book.blank(units);
    for (const [i, text] of at.entries()) book.writeCell(i, "at", text);
    book.adopt();
    return [book.text("units"), book.text("sizes")];
  };
  for (const text of ["0 ft", "3'", '8"', "2 ft 6 1/2 in", "10in", "6 pies"]) assert.deepEqual(begun("metric", text), ["imperial", ""], text);
  for (const text of ["0 m", "1,20 m", "350 mm", "35cm", "2 metros"]) assert.deepEqual(begun("imperial", text), ["metric", ""], text);
  for (const at of [["0"], [""], ["3 ft", "2 m"], []]) assert.deepEqual(begun("metric", ...at), ["metric", ""], at.join());
  const chosen = Book.blank("imperial");
  chosen.writeCell(0, "at", "3 ft");
  chosen.show("metric");
  chosen.adopt();
  assert.deepEqual([chosen.text("units"), chosen.text("sizes")], ["metric", "imperial"], "what somebody chose stays");
});
