// Packing leaves a module's memory as it was, and everything but its data; what
// it takes out of a Go program is the names and lines of a crash's trace. Go's glue
// as it goes to the page says the same of a crash.
import assert from "node:assert/strict";
import { spawnSync } from "node:child_process";
import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { test } from "node:test";
import { lean } from "../glue.mjs";
import { dropDocs, pack, pared, roughen } from "../pack.mjs";

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

// What tags say of fields, behind their lengths: a field that is needed keeps it, since
// a fault quotes it.
test("descriptions for schemas are blanked, nothing else", () => {
  const long = `json:"b,omitempty" doc:"${"much to say of it, ".repeat(8)}"`;
  const tags = ['json:"a" doc:"what it is"', long, 'json:"c" need:"true" doc:"write it"', 'json:"d" for:"rod!" doc:"write it"', 'json:"e" doc:"with \\"quotes\\" in it"', 'json:"f"'];
  const lay = (list) => Buffer.concat(list.flatMap((t) => [Buffer.from(t.length < 128 ? [t.length] : [(t.length & 127) | 128, t.length >> 7]), Buffer.from(t), Buffer.from("doc:")]));
  const memory = lay(tags);
  dropDocs(memory);
  const blank = (t) => t.replace(/doc:"(.*)"$/, (_, d) => `doc:"${" ".repeat(d.length)}"`);
  assert.equal(String(memory), String(lay(tags.map((t) => (/need|for/.test(t) ? t : blank(t))))));
});

// 150 functions of 16 buckets, the last of which is cut off behind its one part.
test("the table that finds functions begins early, never late; another table stays", () => {
  const places = 150 * 65536 - 4096 + 20, buckets = 150 * 16;
  const table = () => {
    const memory = Buffer.alloc(8 + 20 * buckets, 0);
    for (let b = 0; b < buckets; b++) memory.writeUInt32LE(Math.floor(b / 16), 8 + 20 * b);
    memory.fill(7, 8 + 20 * buckets - 15); // what lies behind
    return memory;
  };
  const rough = table();
  roughen(rough, 8, places, 151);
  const firsts = new Set();
  for (let b = 0; b < buckets; b++) {
    const is = rough.readUInt32LE(8 + 20 * b), was = Math.floor(b / 16);
    assert.ok(is <= was && is > was - 64, `bucket ${b} begins with ${is}, its function is ${was}`);
    firsts.add(is);
  }
  assert.equal(firsts.size, 3);
  assert.ok(rough.subarray(-15).equals(table().subarray(-15)));
  for (const spoil of [(m) => m.writeUInt8(1, 8 + 20 * 5 + 7), (m) => m.writeUInt32LE(9, 8 + 20 * 40), (m) => m.writeUInt32LE(0, 8 + 20 * 40)]) {
    const other = table();
    spoil(other);
    const before = Buffer.from(other);
    roughen(other, 8, places, 151);
    assert.ok(other.equals(before));
  }
});

test("a segment that is not active is refused", () => {
  const wasm = module([[8, 1]]);
  wasm[HEAD.length + MEMORY.length + EXPORT.length + 3] = 1;
  assert.throws(() => pack(wasm), /not what Go's linker writes/);
});

// Grows its stack and collects garbage with pointers all over it, recovers from
// a panic, defers, and then crashes three functions deep.
const PROGRAM = `package main

import "runtime"

type node struct {
	next *node
	text string
}

//go:noinline
func deep(n int, below *node) int {
	var pad [8]*node
	for i := range pad {
		pad[i] = &node{below, string(rune('a' + i))}
	}
	if n == 0 {
		runtime.GC()
		return 0
	}
	if n%64 == 0 {
		runtime.GC()
	}
	sum := deep(n-1, pad[n%8])
	for p := pad[n%8]; p != nil && sum >= 0; p = p.next {
		sum += len(p.text)
		break
	}
	return sum
}

func caught() (what any) {
	defer func() { what = recover() }()
	var none []int
	return none[len(none)]
}

//go:noinline
func crash(m map[string]int) { m["a"] = 1 }

//go:noinline
func middle() { defer println("deferred"); crash(nil) }

func main() {
	println("sum", deep(500, nil))
	println(caught().(error).Error())
	middle()
}
`;

test("a packed Go program runs as before, and its crash says why", async () => {
  const folder = await mkdtemp(join(tmpdir(), "pack-"));
  try {
    const [source, linked, packed, run] = ["main.go", "linked.wasm", "packed.wasm", "run.cjs"].map((name) => join(folder, name));
    await writeFile(source, PROGRAM);
    const go = (args) => {
      const made = spawnSync("go", args, { cwd: folder, env: { ...process.env, GOOS: "js", GOARCH: "wasm", GO111MODULE: "off" }, encoding: "utf8" });
      assert.equal(made.status, 0, made.stderr);
      return made.stdout.trim();
    };
    go(["build", "-trimpath", "-ldflags=-s -w", "-o", linked, source]);
    const before = await readFile(linked);
    const after = pack(before);
    assert.ok(after.length > before.length, "zeros are back");
    await writeFile(packed, after);
    const glue = join(folder, "glue.cjs");
    await writeFile(glue, await readFile(join(go(["env", "GOROOT"]), "lib", "wasm", "wasm_exec.js")));
    await writeFile(run, `require("./glue.cjs");
const go = new Go();
WebAssembly.instantiate(require("node:fs").readFileSync(process.argv[2]), go.importObject).then(({ instance }) => go.run(instance));
`);
    const says = (wasm) => {
      const ran = spawnSync(process.execPath, [run, wasm], { encoding: "utf8" });
      return ran.stdout + ran.stderr;
    };
    const named = join(folder, "named.wasm");
    go(["build", "-trimpath", "-ldflags=-w", "-o", named, source]);
    const used = pared(await readFile(named));
    assert.ok(used.length < before.length - 100_000, "unused functions are gone, and jumps straight");
    assert.ok(pared(before).equals(before), "without names nothing is taken out");
    await writeFile(named, pack(used));
    const [with_, without] = [says(linked), says(packed)];
    const whole = await readFile(glue, "utf8");
    const small = await lean(whole, [await readFile(named)]);
    assert.ok(small.length < whole.length / 2 && !small.includes("valueInvoke"), "what is not imported is not in the glue");
    await assert.rejects(lean(whole.replaceAll("const enosys", "let enosys"), [await readFile(named)]), /another shape/);
    await writeFile(glue, small);
    const least = says(named);
    // Of the goroutines, which have no names, nothing is told: the crash ends there.
    const upTo = (text) => text.slice(0, text.indexOf("nil map") + "nil map".length);
    assert.equal(upTo(least), upTo(without), "without the unused the same is said of the crash");
    assert.match(least, /RuntimeError: unreachable/);
    for (const text of ["sum 500", "index out of range [0] with length 0", "deferred", "panic: assignment to entry in nil map", "goroutine 1 [running]:"]) {
      assert.ok(with_.includes(text), `linked: ${text} in ${with_}`);
      assert.ok(without.includes(text), `packed: ${text} in ${without}`);
    }
    for (const text of ["main.crash", "main.middle", "main.go:"]) {
      assert.ok(with_.includes(text), `linked: ${text} in ${with_}`);
      assert.ok(!without.includes(text), `packed: ${text} in ${without}`);
    }
  } finally {
    await rm(folder, { recursive: true });
  }
});
