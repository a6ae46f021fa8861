// Straightened and shortened functions do what they did: made-up ones of the compiler's shape,
// each run many times beside itself, and what Go itself compiles, in pack.test.mjs.
import assert from "node:assert/strict";
import { test } from "node:test";
import { leb, signed } from "../instructions.mjs";
import { shorter } from "../shorter.mjs";
import { straight } from "../straight.mjs";

const NAMES = new Map([[0, "told"], [1, "asked"], [2, "main.called"], [3, "runtime.gopanic"], [4, "runtime.deferreturn"], [5, "main.f"]]);

/** Numbers that look random, the same for the same seed (mulberry32). */
function dice(seed) {
  return (sides) => {
    seed = (seed + 0x6d2b79f5) | 0;
    let t = Math.imul(seed ^ (seed >>> 15), 1 | seed);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) % sides;
  };
}

/** A function of blocks as cmd/internal/obj/wasm writes it. Each tells its number; some ask which way, or call. */
function made(roll) {
  const count = 2 + roll(14);
  const blocks = [];
  let calls = false;
  for (let i = 0; i < count; i++) {
    const kinds = i < count - 1 ? ["falls", "goes", "if", "if", "if", "else", "both", "calls", "calls", "checked", "panics", "defers", "returns"] : ["goes", "both", "returns", "panics"];
    const kind = kinds[roll(kinds.length)];
    calls ||= ["calls", "checked", "panics", "defers"].includes(kind);
    blocks.push({ kind, to: roll(count), or: roll(count), extra: roll(3) === 0, not: roll(2), compare: roll(20), with: roll(3) });
  }
  if (!blocks.some(({ kind }) => ["goes", "if", "else", "both"].includes(kind))) blocks[count - 1].kind = "goes";

  // Places, and the blocks they are in.
  const table = [];
  let place = 0;
  blocks.forEach((block, i) => {
    block.place = place;
    if (block.extra) place++;
    while (table.length <= place) table.push(i);
    place++;
  });
  table.push(count - 1);

  const code = [];
  const body = [...leb(1), ...leb(1), 0x7f, 0x23, 0, 0x21, 1];
  if (calls) body.push(0x02, 0x40);
  body.push(0x03, 0x40);
  for (let i = 0; i < count; i++) body.push(0x02, 0x40);
  body.push(0x20, 0, 0x0e, ...leb(table.length - 1), ...table.flatMap(leb), 0x0b);
  blocks.forEach(({ kind, to, or, not, compare, with: other }, i) => {
    const loop = count - 1 - i;
    const jump = (to, nest) => [0x41, ...signed(blocks[to].place), 0x21, 0, 0x0c, ...leb(loop + nest)];
    const call = (f, nest) => [0x20, 1, 0x41, 8, 0x6b, 0x22, 1, 0x24, 0, 0x20, 1, 0x42, ...signed(5 * 65536 + (blocks[i + 1]?.place ?? 0)), 0x37, 3, 0, 0x41, 0, 0x10, f, 0x23, 0, 0x21, 1, 0x0d, ...leb(loop + 1 + nest)];
    const number = [0x00, 0x01, 0x7f][other]; // 0, 1, -1
    const compared = compare < 10 ? [0x41, number, 0x46 + compare] : [0xad, 0x42, number, 0x51 + compare - 10];
    const when = [0x10, 1, ...(not ? [...compared, 0x45] : [])]; // what is asked, or whether a comparison with it is false
    const ret = [0x20, 1, 0x41, 8, 0x6a, 0x22, 1, 0x24, 0, 0x41, 0, 0x0f];
    code.push(0x41, ...signed(i), 0x10, 0);
    if (kind === "goes") code.push(...jump(to, 0));
    if (kind === "if") code.push(...when, 0x04, 0x40, ...jump(to, 1), 0x0b);
    if (kind === "else") code.push(...when, 0x45, 0x04, 0x40, ...jump(to, 1), 0x0b);
    if (kind === "both") code.push(...when, 0x04, 0x40, ...jump(to, 1), 0x0b, ...jump(or, 0));
    if (kind === "calls") code.push(...call(2, 0));
    if (kind === "checked") code.push(...when, 0x04, 0x40, ...call(3, 1), 0x0b);
    if (kind === "panics") code.push(...call(3, 0));
    if (kind === "defers") code.push(...call(4, 0));
    if (kind === "returns") code.push(...ret);
    code.push(0x0b); // the block's end, or for the last the loop's
  });
  body.push(...code, 0x00);
  if (calls) body.push(0x0b, 0x41, 1);
  return Buffer.from([...body, 0x0b]);
}

function module(body) {
  const section = (id, bytes) => [id, ...leb(bytes.length), ...bytes];
  const name = (text) => [text.length, ...Buffer.from(text)];
  const types = [3, 0x60, 1, 0x7f, 0, 0x60, 0, 1, 0x7f, 0x60, 1, 0x7f, 1, 0x7f];
  const imports = [["told", 0], ["asked", 1], ["called", 2], ["panics", 2], ["defers", 2]];
  return new WebAssembly.Module(new Uint8Array([
    0, 0x61, 0x73, 0x6d, 1, 0, 0, 0,
    ...section(1, types),
    ...section(2, [imports.length, ...imports.flatMap(([text, type]) => [...name("m"), ...name(text), 0, type])]),
    ...section(3, [1, 2]),
    ...section(5, [1, 0, 1]),
    ...section(6, [1, 0x7f, 1, 0x41, ...signed(4096), 0x0b]),
    ...section(7, [3, ...name("f"), 0, 5, ...name("sp"), 3, 0, ...name("memory"), 2, 0]),
    ...section(10, [1, ...leb(body.length), ...body]),
  ]));
}

/** What a function tells when it is asked by these dice and taken up again where it unwinds. */
function run(program, roll) {
  const out = [];
  const stop = new Error("enough");
  let deferred = false;
  const told = (what) => {
    if (out.push(what) > 60) throw stop;
  };
  let instance;
  const returned = () => (instance.exports.sp.value += 8, 0);
  const unwound = () => (out.push("unwinds"), 1);
  const m = {
    told,
    asked: () => roll(2),
    called: () => (roll(3) === 0 ? unwound() : returned()),
    panics: () => { out.push("panics"); throw stop; },
    defers: () => (deferred = roll(3) === 0) || roll(3) === 0 ? unwound() : returned(),
  };
  instance = new WebAssembly.Instance(program, { m });
  const { f, sp, memory } = instance.exports;
  try {
    for (let place = 0; f(place) === 1; deferred = false) {
      place = Number(new DataView(memory.buffer).getBigUint64(sp.value, true) & 0xffffn) - (deferred ? 1 : 0);
      if (!deferred) sp.value += 8; // the callee returns
      else sp.value += 8; // and what panics goes back to the call
      told(`again at ${place}`);
    }
    out.push("returns");
  } catch (e) {
    if (e !== stop) throw e;
  }
  return out;
}

test("600 made-up functions do the same when they are straight", () => {
  let shorter = 0;
  let loops = 0;
  for (let seed = 1; seed <= 600; seed++) {
    const body = made(dice(seed));
    const now = straight(NAMES)(body);
    assert.notEqual(now, body, `function ${seed} is of the compiler's shape`);
    if (now.length < body.length) shorter++;
    if (now.includes(Buffer.from([0x03, 0x40]))) loops++;
    const [was, is] = [module(body), module(now)];
    for (let n = 0; n < 8; n++) {
      assert.deepEqual(run(is, dice(7919 * seed + n)), run(was, dice(7919 * seed + n)), `function ${seed}, run ${n}`);
    }
  }
  assert.ok(shorter > 400 && loops > 200, `${shorter} shorter, ${loops} with loops`);
});

test("what is not of the compiler's shape stays as it is", () => {
  const put = straight(NAMES);
  const whole = made(dice(4));
  assert.notEqual(put(whole), whole);
  // An instruction that Go does not write, a jump to no label, a value for a block, a body cut short.
  const changes = [(b) => (b[b.indexOf(0x10)] = 0xd0), (b) => (b[b.indexOf(Buffer.from([0x21, 0, 0x0c])) + 3] = 99), (b) => (b[b.indexOf(0x40)] = 0x7f)];
  for (const change of changes) {
    const body = Buffer.from(whole);
    change(body);
    assert.equal(put(body), body);
  }
  const cut = whole.subarray(0, whole.length - 1);
  assert.equal(put(cut), cut);
  const plain = Buffer.from([0, 0x41, 0, 0x0b]);
  assert.equal(put(plain), plain);
});

/** Stores to a frame's places what is worked out of others, by addresses as the compiler writes them. */
function framed(roll) {
  const address = (at) => [0x20, 1, 0xad, 0x42, ...signed(at), 0x7c, 0xa7];
  const place = () => 8 * roll(40);
  const more = () => [3, ...leb(8 * roll(3))]; // alignment, offset
  const value = (deep) => {
    const kind = roll(deep > 3 ? 3 : 8);
    if (kind === 0) return [0x42, ...signed(roll(5000))];
    if (kind === 1) return [0x20, 2];
    if (kind <= 3) return [...address(place()), 0x29, ...more()];
    if (kind === 4) return [...value(deep + 1), 0x22, 2];
    if (kind === 5) return [...value(deep + 1), ...value(deep + 1), 0x7c + roll(3)]; // added, subtracted, multiplied
    if (kind === 6) return [...address(place()), 0xad]; // the address itself
    return [...value(deep + 1), ...value(deep + 1), ...value(deep + 1), 0x50, 0x1b]; // one of two
  };
  const body = [...leb(2), ...leb(1), 0x7f, ...leb(1), 0x7e, 0x23, 0, 0x21, 1];
  for (let n = 2 + roll(12); n > 0; n--) body.push(...address(place()), ...value(0), 0x37, ...more());
  return Buffer.from([...body, 0x41, 0, 0x0b]);
}

test("1000 made-up functions leave the same in their frames when they are shorter", () => {
  const m = { told: () => {}, asked: () => 0, called: () => 0, panics: () => 0, defers: () => 0 };
  const left = (body) => {
    const { f, memory } = new WebAssembly.Instance(module(body), { m }).exports;
    f(0);
    return Buffer.from(memory.buffer, 4096, 8 * 45).toString("hex");
  };
  for (let seed = 1; seed <= 1000; seed++) {
    const body = framed(dice(seed));
    const now = shorter(body);
    assert.ok(now.length < body.length, `function ${seed} is shorter`);
    assert.equal(left(now), left(body), `function ${seed}`);
  }
});
