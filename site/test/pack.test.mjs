// Packing leaves a module's memory as it was, and everything but its data.
import assert from "node:assert/strict";
import { test } from "node:test";
import { pack } from "../pack.mjs";

const HEAD = [0, 0x61, 0x73, 0x6d, 1, 0, 0, 0];
const MEMORY = [5, 3, 1, 0, 2]; // two pages
const EXPORT = [7, 5, 1, 1, 0x6d, 2, 0]; // as m
const CUSTOM = [0, 3, 1, 0x78, 7];

/** A signed LEB128 number, by the book. */
function leb(n) {
  const out = [];
  for (;;) {
    const byte = n & 127;
    n >>= 7;
    if (n === 0 && !(byte & 64)) return [...out, byte];
    out.push(byte | 128);
  }
}

function module(segments) {
  const body = [segments.length, ...segments.flatMap(([from, ...bytes]) => [0, 0x41, ...leb(from), 0x0b, bytes.length, ...bytes])];
  return new Uint8Array([...HEAD, ...MEMORY, ...EXPORT, 11, body.length, ...body, ...CUSTOM]);
}

async function memory(wasm) {
  const { instance } = await WebAssembly.instantiate(wasm);
  return Buffer.from(instance.exports.m.buffer);
}

for (const [name, segments] of [
  ["two, with a gap", [[8, 1, 2], [40, 3]]],
  ["in no order", [[70000, 9], [64, 5, 6], [8191, 7]]],
  ["one over another", [[4, 1, 1, 1], [5, 2]]],
  ["at 63, where a sign begins", [[63, 1], [200, 2]]],
  ["at 64", [[64, 1], [200, 2]]],
  ["at 8192", [[8192, 1], [8300, 2]]],
  ["one", [[16, 1, 2, 3]]],
  ["none", []],
]) {
  test(`segments ${name}`, async () => {
    const before = module(segments);
    const after = pack(before);
    assert.ok((await memory(after)).equals(await memory(before)));
    const data = HEAD.length + MEMORY.length + EXPORT.length;
    assert.deepEqual([...after.subarray(0, data)], [...before.subarray(0, data)]);
    assert.deepEqual([...after.subarray(-CUSTOM.length)], CUSTOM);
    assert.ok(pack(after).equals(after), "packed twice");
  });
}

test("a segment that is not active is refused", () => {
  const wasm = module([[8, 1]]);
  wasm[HEAD.length + MEMORY.length + EXPORT.length + 3] = 1;
  assert.throws(() => pack(wasm), /not what Go's linker writes/);
});
