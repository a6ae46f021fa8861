// Shortens what Go compiles to WebAssembly, instruction by instruction, without changing what it does.
//
// The address of a place in the stack frame is worked out in 64 bits, and cut to 32, though the
// stack pointer has 32: it is added in 32 bits, and where it is for a load or a store, by that.
// (No frame reaches past the memory's end, where the two would differ.)

import { after, leb, signed, uleb } from "./instructions.mjs";

const LOCAL_GET = 0x20, SP = 1; // the local that holds the stack pointer
const EXTEND = 0xad, I64_CONST = 0x42, I64_ADD = 0x7c, WRAP = 0xa7, I32_CONST = 0x41, I32_ADD = 0x6a;
const PROLOGUE = Buffer.from([0x23, 0, 0x21, SP]); // the stack pointer, from its global

/** How many values an instruction puts on the stack more than it takes; undefined for those that are not looked through. */
function more(op) {
  if (op === LOCAL_GET || op === 0x23 || (op >= 0x41 && op <= 0x44)) return 1;
  if (op === 0x22 || (op >= 0x28 && op <= 0x35)) return 0; // local.tee, loads
  if (op === 0x45 || op === 0x50) return 0; // eqz
  if (op >= 0x46 && op <= 0x66) return -1; // comparisons
  if ((op >= 0x67 && op <= 0x69) || (op >= 0x79 && op <= 0x7b) || (op >= 0x8b && op <= 0x91) || (op >= 0x99 && op <= 0x9f) || (op >= 0xa7 && op <= 0xc4)) return 0;
  if (op >= 0x6a && op <= 0xa6) return -1;
  if (op === 0x1b) return -2; // select
}

const loads = (op) => op >= 0x28 && op <= 0x35;
const stores = (op) => op >= 0x36 && op <= 0x3e;

/** @param {Buffer} body locals and code of a function @returns {Buffer} */
export function shorter(body) {
  let [count, start] = uleb(body, 0);
  for (; count > 0; count--) start = uleb(body, start)[1] + 1;
  if (!PROLOGUE.equals(body.subarray(start, start + PROLOGUE.length))) return body;

  // Where each instruction begins.
  const starts = [];
  for (let at = start; at < body.length; ) {
    starts.push(at);
    at = after(body, at);
    if (at < 0) return body;
  }
  const op = (i) => body[starts[i]];
  const end = (i) => (i + 1 < starts.length ? starts[i + 1] : body.length);

  /** @type {Map<number, number[]>} */
  const instead = new Map(); // instruction -> bytes
  for (let i = 0; i + 5 < starts.length; i++) {
    if (!(op(i) === LOCAL_GET && body[starts[i] + 1] === SP && op(i + 1) === EXTEND && op(i + 2) === I64_CONST && op(i + 3) === I64_ADD && op(i + 4) === WRAP)) continue;
    const [offset, past] = uleb(body, starts[i + 2] + 1); // signed, but the same where it is not negative
    if (body[past - 1] & 64) continue;
    // Who takes the address.
    let taker;
    for (let k = i + 5, depth = 1; k < starts.length; k++) {
      if ((depth === 1 && loads(op(k))) || (depth === 2 && stores(op(k)))) {
        taker = k;
        break;
      }
      const by = more(op(k));
      if (by === undefined || (depth += by) < 1 || (depth === 1 && by <= 0)) break;
    }
    if (taker !== undefined) {
      const [align, at] = uleb(body, starts[taker] + 1);
      instead.set(taker, [op(taker), ...leb(align), ...leb(uleb(body, at)[0] + offset)]);
      instead.set(i + 1, []);
    } else {
      instead.set(i + 1, [I32_CONST, ...signed(offset), I32_ADD]);
    }
    for (const k of [i + 2, i + 3, i + 4]) instead.set(k, []);
  }
  if (instead.size === 0) return body;
  const out = [];
  let kept = 0;
  for (const [k, bytes] of [...instead].sort((a, b) => a[0] - b[0])) {
    out.push(body.subarray(kept, starts[k]), Buffer.from(bytes));
    kept = end(k);
  }
  out.push(body.subarray(kept));
  return Buffer.concat(out);
}
