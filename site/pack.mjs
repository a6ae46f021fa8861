// Packs the WebAssembly that Go links: node pack.mjs FROM TO. The program is
// the same; two things are not.
//
// The linker leaves zeros out of its data, for which it cuts them into some
// 80,000 segments. Each has a head that compresses to nothing less, zeros do,
// and engines take 100,000 at most: one segment with the zeros in it is 80 kB
// less over the wire.
//
// The names of functions, the tables that tell the file and line of an instruction
// and what describes arguments are 110 kB over the wire, and nothing reads them
// but the trace of a crash. Tables of where a thread may be stopped from outside
// are 5 kB more, and nothing stops one here. The table that finds a function is made
// rough, 11 kB. The native build of package wasm gives the same answers, crashes where
// this one does, and has them all.
import { readFileSync, writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { leb, signed, uleb } from "./instructions.mjs";
import { straightened } from "./straight.mjs";
import { unused } from "./unused.mjs";

const DATA = 11;
const HEAD = 8; // magic number and version

/**
 * The program without what nothing calls, and with the jumps of the rest straight.
 * @param {Uint8Array} wasm as linked, with names
 * @param {(what: string) => void} say told what was looked for in vain
 */
export function pared(wasm, say = () => {}) {
  const [use, missing] = unused(say);
  const out = straightened(wasm, use);
  if (out.length < wasm.length) missing();
  return out;
}

/** @param {Uint8Array} wasm */
export function pack(wasm) {
  let at = HEAD;
  const number = () => {
    const [n, past] = uleb(wasm, at);
    at = past;
    return n;
  };
  const expect = (byte) => {
    if (wasm[at++] !== byte) throw new Error(`pack: byte ${at - 1} is not what Go's linker writes in a data section`);
  };
  const out = [wasm.subarray(0, HEAD)];
  while (at < wasm.length) {
    const start = at;
    const id = wasm[at++];
    const end = number() + at;
    if (id !== DATA) {
      out.push(wasm.subarray(start, (at = end)));
      continue;
    }
    const segments = [];
    for (let n = number(); n > 0; n--) {
      expect(0); // active, in the one memory
      expect(0x41); // i32.const
      const from = number(); // written signed: the same where it is not negative
      if (from >= 2 ** 31) throw new Error("pack: a segment beyond 2 GB");
      expect(0x0b); // end
      const bytes = number();
      segments.push({ from, bytes: wasm.subarray(at, (at += bytes)) });
    }
    if (at !== end) throw new Error("pack: a data section that does not end where it says");
    out.push(...section(segments));
  }
  return Buffer.concat(out);
}

/** The data section of one segment that holds all of them. */
function section(segments) {
  let low = Infinity;
  let high = 0;
  for (const { from, bytes } of segments) {
    low = Math.min(low, from);
    high = Math.max(high, from + bytes.length);
  }
  if (high === 0) return [Buffer.from([DATA, 1, 0])];
  const all = Buffer.alloc(high - low);
  for (const { from, bytes } of segments) all.set(bytes, from - low); // in their order, as when a module starts
  dropLines(all, low);
  dropDocs(all);
  const head = Buffer.from([1, 0, 0x41, ...signed(low), 0x0b, ...leb(all.length)]);
  return [Buffer.from([DATA, ...leb(head.length + all.length)]), head, all];
}

const MAGIC = Buffer.from([0xf1, 0xff, 0xff, 0xff, 0, 0, 1, 8]); // of the table of functions, since Go 1.20

// Tables (internal/abi, symtab.go) of where a goroutine may be stopped from outside,
// which nothing does in WebAssembly, and of the arguments that a trace shows; and what
// else is only for traces.
const TRACED = new Set([0, 3]);
const ARGUMENTS = 5;
const SHOWN = new Set([ARGUMENTS, 6, 7]);
const NONE = 0xffffffff;

/**
 * Takes the files and lines out of Go's table of functions, as runtime/symtab.go
 * and runtime/runtime2.go describe it, and zeroes what nothing refers to any
 * more. Base is the address of the memory given. A table that is not as expected
 * stays as it is.
 */
export function dropLines(memory, base = 0) {
  const table = memory.indexOf(MAGIC);
  if (table < 0) return false;
  const word = (n) => Number(memory.readBigUInt64LE(table + MAGIC.length + 8 * n));
  const count = word(0);
  const [names, units, , values, functions] = [3, 4, 5, 6, 7].map((n) => table + word(n));
  const at = (offset) => memory.readUInt32LE(offset);

  // Where each function's record lies; its fields in words.
  const ENTRY = 0, NAME = 1, STACK = 4, FILE = 5, LINE = 6, TABLES = 7, UNIT = 8, START = 9, KINDS = 10, FIRST = 11;
  const records = [];
  for (let i = 0; i < count; i++) {
    const record = functions + at(functions + 8 * i + 4);
    const field = (n) => at(record + 4 * n);
    if (field(ENTRY) !== at(functions + 8 * i) || field(TABLES) > 8 || field(KINDS) >>> 24 > 16) {
      console.warn("pack: the table of functions is not as known; lines stay in it");
      return false;
    }
    records.push(record);
  }

  const shown = new Set(); // where the descriptions of arguments lie, among the data of functions
  const data = new Set(); // and what else lies there
  const kept = new Set([0]);
  const starts = new Set([functions - values]);
  for (const record of records) {
    const field = (n) => at(record + 4 * n);
    kept.add(field(STACK));
    for (let k = 0; k < field(TABLES); k++) {
      if (!TRACED.has(k)) kept.add(field(FIRST + k));
    }
    for (const n of [FILE, LINE]) starts.add(field(n));
    for (const n of [NAME, FILE, LINE, UNIT, START]) memory.writeUInt32LE(0, record + 4 * n);
    for (const k of TRACED) {
      if (k >= field(TABLES)) continue;
      starts.add(field(FIRST + k));
      memory.writeUInt32LE(0, record + 4 * (FIRST + k));
    }
    for (let k = 0; k < field(KINDS) >>> 24; k++) {
      const n = FIRST + field(TABLES) + k;
      if (field(n) !== NONE) (k === ARGUMENTS ? shown : data).add(field(n));
      if (SHOWN.has(k)) memory.writeUInt32LE(NONE, record + 4 * n);
    }
  }
  for (const start of kept) starts.add(start);
  const row = [...starts].sort((a, b) => a - b);
  row.forEach((start, i) => {
    if (!kept.has(start) && i + 1 < row.length) memory.fill(0, values + start, values + row[i + 1]);
  });
  const module = moduleData(memory, base, table);
  if (module >= 0) {
    const word = (n) => Number(memory.readBigUInt64LE(module + 8 * n)) - base;
    clear(memory, word(MODULE.data), shown, data);
    roughen(memory, word(MODULE.find), word(MODULE.last) - word(MODULE.first), count);
  }
  memory.fill(0, names, units); // the names of functions
  memory.fill(0, units, values); // the names of files, and which unit has which
  return true;
}

const TAG = Buffer.from('json:"');

/**
 * Blanks what the tags of fields say of them, but for fields that are needed: only
 * the schemas quote it, which no program for the browser writes. A tag lies behind
 * its length (internal/abi, Name).
 */
export function dropDocs(memory) {
  for (let at = memory.indexOf(TAG); at >= 0; at = memory.indexOf(TAG, at + 1)) {
    const long = at > 1 && memory[at - 2] & 128 ? (memory[at - 2] & 127) | (memory[at - 1] << 7) : 0;
    for (const length of [long, memory[at - 1]]) {
      const tag = memory.toString("utf8", at, at + length);
      if (Buffer.byteLength(tag) !== length || !/^\w+:"[^"\\]*"( \w+:"([^"\\]|\\.)*")* doc:"([^"\\]|\\.)*"$/.test(tag)) continue;
      if (/ need:"| for:"[^"]*!/.test(tag)) break;
      const doc = Buffer.byteLength(tag.slice(0, tag.indexOf(' doc:"') + 6));
      memory.fill(" ", at + doc, at + length - 1);
      break;
    }
  }
}

// Words of runtime.moduledata: first the table of functions, then, among others,
// the table that finds a function by its place, the first and last of those places,
// where read-only data, the data of functions and the end of the table are.
const MODULE = { find: 19, first: 20, last: 21, rodata: 39, data: 40, end: 41 };

/** Where Go's description of the program lies in memory, or -1 where that is not as known. */
function moduleData(memory, base, table) {
  const address = Buffer.alloc(8);
  address.writeBigUInt64LE(BigInt(base + table));
  for (let at = memory.indexOf(address); at >= 0; at = memory.indexOf(address, at + 1)) {
    if ((base + at) % 8 !== 0 || at + 8 * MODULE.end + 8 > memory.length) continue;
    const word = (n) => Number(memory.readBigUInt64LE(at + 8 * n)) - base;
    if (word(MODULE.rodata) <= word(MODULE.data) && word(MODULE.data) < word(MODULE.end) && word(MODULE.end) > table && word(MODULE.end) <= memory.length) return at;
  }
  return -1;
}

const BUCKET = 20, SPAN = 4096, PART = 256, TOGETHER = 64;

/**
 * Makes the table that finds functions rough. A bucket of 20 bytes for every 4096
 * places says with which function to begin, and the runtime goes on from there
 * until it has the right one (runtime.findfunc). A function of WebAssembly has 65536
 * places, so the table is 1.6 MB of numbers that grow by 1 every 16 buckets: 11 kB
 * over the wire. To begin up to 63 functions early is right too, and a few
 * nanoseconds. A table that is not as expected stays as it is.
 */
export function roughen(memory, at, places, count) {
  const buckets = Math.ceil(places / SPAN);
  const end = at + 4 * buckets + Math.ceil(places / PART); // the last bucket is cut off
  if (!(buckets > 0) || at < 0 || end > memory.length) return;
  for (let b = 0, before = 0; b < buckets; b++) {
    const first = memory.readUInt32LE(at + BUCKET * b);
    if (first < before || first > before + 1 || first >= count) return;
    for (let k = at + BUCKET * b + 4; k < Math.min(end, at + BUCKET * (b + 1)); k++) if (memory[k] !== 0) return;
    before = first;
  }
  for (let b = 0; b < buckets; b++) {
    const first = memory.readUInt32LE(at + BUCKET * b);
    memory.writeUInt32LE(first - (first % TOGETHER), at + BUCKET * b);
  }
}

/** Zeroes the descriptions of arguments that nothing else begins within. */
function clear(memory, data, shown, others) {
  for (const start of shown) {
    const from = data + start;
    const to = memory.indexOf(0xff, from); // their last byte
    if (to < 0 || to - from > 64) continue;
    let alone = true;
    for (let x = start; x <= to - data; x++) alone &&= !others.has(x);
    if (alone) memory.fill(0, from, to + 1);
  }
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const [, , from, to] = process.argv;
  writeFileSync(to, pack(pared(readFileSync(from), console.warn)));
}
