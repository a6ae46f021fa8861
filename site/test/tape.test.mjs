// The page's own reading of what is written in a field book, held against the
// calculator's. make builds what this needs: build/test, build/native.
import assert from "node:assert/strict";
import { spawnSync } from "node:child_process";
import { dirname, join } from "node:path";
import { test } from "node:test";
import { fileURLToPath } from "node:url";

const root = join(dirname(fileURLToPath(import.meta.url)), "..", "..");
const { length, like, slope } = await import(join(root, "build", "test", "tape.mjs"));

/** What the native build answers to a plan. */
function native(ground) {
  const plan = { format: "slopewright.plan/1", ground, path: { width: "1 m" } };
  const run = spawnSync(join(root, "build", "native", "slopewright"), { input: JSON.stringify(plan), maxBuffer: 1 << 26 });
  assert.equal(run.status, 0, String(run.stderr));
  return JSON.parse(run.stdout);
}

const READ = [
  "0 m", "0", "-0.0", "1.61 m", "1,61 m", "1610 mm", "161 cm", "1 m 5 cm", "1 m 50 mm", "2 metres", "5' 3 3/8\"", "5 ft 3 3/8 in", "5' 3", "5′ 3″", "5-3 3/8", "5-3", "9.5 in",
  "47\"", "3/8 in", "2.5 ft", "20'", "1 ft 2 in", "5 ft 1/2 in", "5⅜ in", "5 3⁄8 in", " 1.5   m ", "+1.5 m", "-0.5 m", "2 metros", "1,5 metros", "6 pies 2 pulgadas", "6 pies", "9 pulg", "30 centímetros", "−6 in", 1.25,
];
const LEFT_ALONE = ["", "7 fft", "5", "1,610 m", "5-3/8", "5 ft 13 in", "1.5 ft 3 in", "one metre", "1 m 5 ft", "1e9 m", "5' 3\" 2", "m", "'", "1/0/2 in", "__proto__", "9".repeat(70) + " m", null, {}, [], NaN];

test("lengths are read as the calculator reads them", () => {
  for (const text of READ) {
    const mine = length(text);
    const answer = native({ method: "levels", readings: [{ at: text, level: 0 }, { at: mine + 6, level: 1.5 }] });
    assert.equal(answer.format, "slopewright.result/1", `${text}: ${JSON.stringify(answer.faults)}`);
    assert.ok(Math.abs(answer.ground.datum.station - mine) < 1e-9, `${text}: ${mine}, calculator ${answer.ground.datum.station}`);
  }
});

test("what is not surely a length is left alone", () => {
  for (const text of LEFT_ALONE) assert.equal(length(text), undefined, String(text));
});

test("angles and grades are read as the calculator reads them", () => {
  for (const [by, text] of [["angle", "12°"], ["angle", "12.5 deg"], ["angle", "12° 30'"], ["grade", "25 %"], ["grade", "1:4"], ["grade", "1 in 4"], ["grade", "12°"], ["angle", "12,5 grados"]]) {
    const answer = native({ method: "slope", readings: [{ length: "5 m", [by]: text }] });
    assert.ok(Math.abs(answer.layout.rise / answer.layout.run - slope(text)) < 1e-9, `${text}: ${slope(text)}`);
  }
  for (const text of ["", "2", "1:0", "steep", "5 m", null]) assert.equal(slope(text), undefined, String(text));
});

test("a length is written as the one before it was, and read back", () => {
  const cases = [["0.61 m", 0.634, "0.63 m"], ["610 mm", 0.634, "634 mm"], ["61 cm", 0.634, "63 cm"], ["2' 3\"", 0.8, "2' 7 1/2\""], ["2 ft 3 in", 0.8, "2 ft 7 1/2 in"], ["27 in", 0.6096, "2 ft"], ["2-3", 0.1, "4 in"], ["1 ft", 0.0064, "1/4 in"], ["1 ft", 0, "0 ft"], ["1 m", -0.001, "0.00 m"], ["1 m", -0.25, "-0.25 m"]];
  for (const [was, metres, text] of cases) {
    const form = like(was, false);
    assert.equal(form.write(metres), text, `${was} to ${metres}`);
    assert.ok(Math.abs(length(text) - metres) <= form.step, text);
  }
  assert.equal(like(undefined, true).write(0.3048), "1 ft");
});
