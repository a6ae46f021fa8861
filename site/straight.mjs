// Gives the functions that Go compiles to WebAssembly their loops and branches back.
//
// Go's compiler writes each function as one loop around a switch: a jump, every "if" among
// them, stores the number of the block that comes next and goes back to the switch. That way
// a goroutine can be taken up again behind any of its calls. But an engine cannot see through
// it: no loop is a loop to it, and each branch a jump by a table. Here the blocks of a function
// are put in order by the graph of their jumps, each strongly connected part becomes a loop,
// and the other jumps branches forward, straight to where they go. The switch stays where a
// call may be taken up again, at the function's start and at that of each loop around such a
// call. It does what it did in half the time or less, and is shorter.
//
// What the compiler writes is told in Go's source, cmd/internal/obj/wasm/wasmobj.go
// (preprocess) and cmd/compile/internal/wasm/ssa.go (ssaGenBlock). Loops out of a graph of
// jumps: N. Ramsey, "Beyond Relooper", ICFP 2022; here with parts that have several ways in,
// which the calls that can be taken up again make, and for those a switch.
//
// node straight.mjs FROM TO does it, and what shorter.mjs does, to a program and nothing else.

import { readFileSync, writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { changed } from "./functions.mjs";
import { after, leb, signed, uleb } from "./instructions.mjs";
import { shorter } from "./shorter.mjs";

const VOID = 0x40;
const UNREACHABLE = 0x00, BLOCK = 0x02, LOOP = 0x03, IF = 0x04, END = 0x0b;
const BR = 0x0c, BR_IF = 0x0d, BR_TABLE = 0x0e, RETURN = 0x0f, CALL = 0x10, CALL_INDIRECT = 0x11;
const LOCAL_GET = 0x20, LOCAL_SET = 0x21, GLOBAL_GET = 0x23;
const I64_STORE = 0x37, I32_CONST = 0x41, I64_CONST = 0x42, I32_EQZ = 0x45, I32_EQ = 0x46;

const PLACE = 0; // the local that says where to go on: a function's one parameter
const PLACES = 1 << 16; // a function has fewer of them

// Comparisons of whole numbers and their opposites. Those of fractions have none: NaN.
const OPPOSITE = new Map();
for (const [a, b] of [[0, 1], [2, 8], [3, 9], [4, 6], [5, 7]]) {
  for (const first of [0x46, 0x51]) OPPOSITE.set(first + a, first + b).set(first + b, first + a);
}

// What never returns to its caller, in Go's runtime.
const ENDLESS = /^runtime\.(gopanic|morestack|morestack_noctxt|sigpanic|throw|fatal|fatalthrow|fatalpanic|goexit0|panic(divide|shift|overflow|float|mem|nil|wrap|dottype[EI]|nildottype|unsafe\w+|makeslice\w+|Index\w*|Slice\w+|rangestate)|goPanic\w+|block|exitThread)$/;
const BOTTOM = "runtime.goexit"; // is entered where no call of its own has been: goroutines return to it
const DEFERRED = "runtime.deferreturn"; // runs deferred calls

/**
 * A function's body with its jumps straight; as it is where it is not of the compiler's
 * shape, as some functions in assembly are not.
 * @param {Map<number, string>} names of all functions
 * @returns {(body: Buffer, name?: string) => Buffer} body is locals and code
 */
export function straight(names) {
  const endless = new Set();
  const deferred = new Set();
  for (const [i, name] of names) {
    if (ENDLESS.test(name)) endless.add(i);
    if (name === DEFERRED) deferred.add(i);
  }
  return (body, name) => {
    const read = name === BOTTOM ? undefined : parse(body, endless, deferred);
    return read ? write(read) : body;
  };
}

/**
 * @typedef {{from: number, to: number} | {op: number} | {unwind: true} | {jump: number, nest: number, when?: boolean}} Part
 *   bytes as they are; one instruction; back to the caller if what is on the stack says that this is to be taken up
 *   again later; a jump to a block out of so many of the compiler's own, when that is what is on the stack says so
 * @typedef {{parts: Part[], next: number[], falls: boolean}} Block next are the blocks gone on with: last the one
 *   behind it, if it falls through, or that of a jump it ends with
 */

/** The blocks of a function, and those that its calls are taken up again at by their places. */
function parse(body, endless, deferred) {
  let [count, at] = uleb(body, 0);
  for (; count > 0; count--) at = uleb(body, at)[1] + 1; // locals
  const is = (...bytes) => bytes.every((byte, i) => body[at + i] === byte) && !!(at += bytes.length);
  const number = () => {
    const [n, past] = uleb(body, at);
    at = past;
    return n;
  };

  is(GLOBAL_GET, 0, LOCAL_SET, 1); // the stack pointer
  const head = at;
  const unwinds = is(BLOCK, VOID);
  const loops = is(LOOP, VOID);
  let blocks = 0;
  while (is(BLOCK, VOID)) blocks++;
  if (blocks < 2 || !is(LOCAL_GET, PLACE, BR_TABLE)) return;
  const table = [];
  for (let n = number(); n >= 0; n--) table.push(number()); // the last is for all others
  if (!is(END)) return;
  const blockAt = (place) => table[Math.min(place, table.length - 1)];

  /** @type {Block[]} */
  const out = [];
  const resumed = new Map();
  for (let i = 0; i < blocks; i++) {
    const block = read(blocks - 1 - i);
    if (!block) return;
    if (block.falls && i < blocks - 1) block.next.push(i + 1);
    out.push(block);
  }
  // The end of the last block was that of the loop, or else of what unwinds, or of the function.
  const rest = [...(loops ? [UNREACHABLE] : []), ...(loops && unwinds ? [END] : []), ...(unwinds ? [I32_CONST, 1] : []), ...(loops || unwinds ? [END] : [])];
  if (!is(...rest) || at !== body.length) return;
  return { body, head, blocks: out, resumed };

  /** Reads a block's code, with so many blocks still open around it, and its end. */
  function read(around) {
    /** @type {Part[]} */
    const parts = [];
    const next = [];
    const starts = []; // of the instructions in it, the newest first
    const op = (k) => body[starts[k]];
    let kept = at; // what is before is in parts
    const cut = (to, ...more) => {
      if (to > kept) parts.push({ from: kept, to });
      parts.push(...more);
      kept = at;
    };
    let nest = 0;
    let falls = true;
    let stored, called; // the place stored as a return address, and the function called last
    for (;;) {
      const start = at;
      starts.unshift(start);
      at = after(body, start);
      if (at < 0) return;
      switch (body[start]) {
        case END:
          if (nest-- > 0) break;
          if (falls) cut(start);
          return { parts, next, falls };
        case BLOCK: case LOOP: case IF:
          nest++;
          break;
        case BR: case BR_IF: {
          const label = uleb(body, start + 1)[0] - nest - around;
          if (label < 0) break; // one of its own
          if (loops && label === 0) {
            // A jump: i32.const, local.set, br, alone in an if or not.
            if (body[start] !== BR || op(1) !== LOCAL_SET || body[starts[1] + 1] !== PLACE || op(2) !== I32_CONST) return;
            const jump = blockAt(uleb(body, starts[2] + 1)[0]);
            if (falls) next.push(jump);
            if (op(3) === IF && body[at] === END) {
              at++;
              nest--;
              const [, , , test, not, compare] = starts;
              const opposite = op(4) === I32_EQZ && compare === not - 1 ? OPPOSITE.get(op(5)) : undefined;
              if (falls) cut(opposite ? compare : test, ...(opposite ? [{ op: opposite }] : []), { jump, nest, when: true });
            } else {
              if (falls) cut(starts[2], { jump, nest });
              if (nest === 0) falls = false;
            }
          } else if (unwinds && label === (loops ? 1 : 0)) {
            if (body[start] !== BR_IF || stored === undefined || called === undefined) return;
            if (endless.has(called)) {
              // It returns that this unwinds, and nobody wants the stack pointer again.
              if (falls) cut(op(1) === LOCAL_SET && op(2) === GLOBAL_GET ? starts[2] : start, { op: RETURN });
              if (nest === 0) falls = false;
            } else if (falls) {
              cut(start, { unwind: true });
              resumed.set(stored, blockAt(stored));
              if (deferred.has(called)) resumed.set(stored - 1, blockAt(stored - 1)); // where a panic that is recovered from goes
            }
            stored = called = undefined;
          } else return;
          break;
        }
        case BR_TABLE:
          return;
        case RETURN: case UNREACHABLE:
          if (nest > 0) break;
          if (falls) cut(at);
          falls = false; // what follows is never reached
          break;
        case CALL:
          called = uleb(body, start + 1)[0];
          break;
        case CALL_INDIRECT:
          called = -1;
          break;
        case I64_CONST:
          if (body[at] === I64_STORE && body[at + 1] === 3 && body[at + 2] === 0) stored = low16(start + 1);
      }
    }
  }

  /** The low 16 bits of a LEB128 number: of a return address, the place in its function. */
  function low16(at) {
    let n = 0;
    for (let shift = 0; shift < 21; shift += 7) {
      n |= (body[at] & 127) << shift;
      if (body[at++] < 128) break;
    }
    return n & 0xffff;
  }
}

/** Writes a function, its jumps straight. */
function write({ body, head, blocks, resumed }) {
  const resumes = new Set(resumed.values());
  const out = [body.subarray(0, head)];
  const labels = []; // those open, the outermost first
  const put = (...bytes) => out.push(Buffer.from(bytes));
  const open = (op, label) => {
    put(op, VOID);
    labels.push(label);
  };
  const close = () => {
    put(END);
    labels.pop();
  };
  const depth = (label, nest = 0) => {
    const i = labels.lastIndexOf(label);
    if (i < 0) throw new Error("straight: a jump out of nowhere");
    return leb(labels.length - 1 - i + nest);
  };

  const reached = new Set();
  for (const todo = [0, ...resumes]; todo.length > 0; ) {
    const i = todo.pop();
    if (reached.has(i)) continue;
    reached.add(i);
    todo.push(...blocks[i].next);
  }
  /** Where a jump to a block goes now: a label, and what it stores as the place before. @type {Map<number, {label: object, place?: number}>} */
  const ways = new Map();
  level([...reached].sort((a, b) => a - b), new Set(), resumed, [0], -1);
  put(UNREACHABLE, END);
  return Buffer.concat(out);

  /**
   * Writes nodes: all of a function, or of a loop that has been opened. Jumps to cut nodes, those the loop
   * begins with, go elsewhere. Heads are the nodes to begin with, by what the place says where there are
   * several; places are those to be taken up at; and following is gone on with behind the last.
   */
  function level(nodes, cut, places, heads, following) {
    const items = ordered(nodes, cut, heads);
    const index = new Map(); // node -> its item
    items.forEach((item, k) => item.nodes.forEach((node) => index.set(node, k)));

    // An item that is jumped to is behind the end of a block, which begins before the first that jumps
    // there: -1 is before them all. Blocks do not cross.
    const begins = items.map((_, k) => k);
    const want = (k, from) => (begins[k] = Math.min(begins[k], from));
    items.forEach((item, k) => {
      for (const node of item.nodes) {
        const { next } = blocks[node];
        next.forEach((to, n) => {
          const t = index.get(to);
          if (t === undefined || t === k || cut.has(to)) return;
          const through = n === next.length - 1 && goesOn(node) && !item.heads && t === k + 1 && first(items[t]) === to;
          if (!through) want(t, k);
        });
      }
    });
    if (places) for (const to of [...places.values(), ...heads]) if (index.get(to) > 0) want(index.get(to), -1);
    for (let crossed = true; crossed; ) {
      crossed = false;
      for (let t = 0; t < items.length; t++) {
        for (let u = 0; u < t && begins[t] < t; u++) {
          if (begins[u] < begins[t] && begins[t] < u) {
            begins[t] = begins[u];
            crossed = true;
          }
        }
      }
    }

    const names = items.map(() => ({}));
    const enter = (item, label) => {
      const way = (n) => (item.switched ? { label, place: n === 0 ? 0 : PLACES + item.heads[n] } : { label });
      (item.heads ?? item.nodes).forEach((node, n) => {
        if (!cut.has(node)) ways.set(node, way(n));
      });
    };
    items.forEach((item, k) => enter(item, names[k]));
    const begin = (from) => {
      for (let t = items.length - 1; t >= 0; t--) if (begins[t] === from && from < t) open(BLOCK, names[t]);
    };
    begin(-1);
    if (places) resume(places, heads, (node) => (index.get(node) === 0 ? undefined : names[index.get(node)]));
    // What is only come to where a call is taken up may lie before a function's start, if that is in a loop.
    if (index.get(heads[0]) > 0) put(BR, ...depth(names[index.get(heads[0])]));
    items.forEach((item, k) => {
      if (begins[k] < k) close();
      begin(k);
      const behind = k + 1 < items.length ? first(items[k + 1]) : following;
      if (!item.heads) return code(item.nodes[0], behind);
      const label = {};
      enter(item, label); // within it
      open(LOOP, label);
      const within = item.switched ? new Map([...resumed].filter(([, node]) => item.nodes.includes(node))) : undefined;
      level(item.nodes, new Set([...cut, ...item.heads]), within, item.heads, behind);
      close();
      enter(item, names[k]);
    });
  }

  /** The node that comes when an item is gone on with from before it; none where a place is stored first. */
  function first({ nodes, heads, switched }) {
    return switched ? -1 : (heads ?? nodes)[0];
  }

  /** Whether a block has a last word to where it goes on: to the one behind it, or by a jump. */
  function goesOn(node) {
    const { parts, falls } = blocks[node];
    const part = parts.at(-1);
    return falls || (part !== undefined && "jump" in part && !part.when && part.nest === 0);
  }

  /** Goes to where a call is to be taken up, or to the head that the place says; on, where it is 0. */
  function resume(places, heads, label) {
    const rows = [...places].filter(([place]) => place > 0).sort((a, b) => a[0] - b[0]);
    if (heads.length === 1 && rows.every(([, node]) => !label(node))) return;
    if (heads.length === 1 && rows.length === 1) {
      put(LOCAL_GET, PLACE);
      put(BR_IF, ...depth(label(rows[0][1])));
      return;
    }
    const on = {};
    const to = (node) => depth(label(node) ?? on);
    open(BLOCK, on);
    for (const node of heads.slice(1)) {
      put(LOCAL_GET, PLACE, I32_CONST, ...signed(PLACES + node), I32_EQ);
      put(BR_IF, ...to(node));
    }
    rows.unshift([0, heads[0]]);
    // Places that nothing is taken up at have rows like the next: rows of the same are short over the wire.
    const table = rows.flatMap(([place, node], k) => Array(k === 0 ? 1 : place - rows[k - 1][0]).fill(to(node)));
    put(LOCAL_GET, PLACE, BR_TABLE, ...leb(table.length - 1), ...table.flat());
    close();
  }

  /** A block's own code; behind it comes another's. */
  function code(node, behind) {
    const { parts, falls } = blocks[node];
    parts.forEach((part, n) => {
      if ("jump" in part) {
        if (n < parts.length - 1 || falls || !goesOn(node) || part.jump !== behind) jump(part);
      } else if ("unwind" in part) {
        put(IF, VOID, I32_CONST, 1, RETURN, END); // each alike, which is shorter over the wire than a jump out
      } else if ("op" in part) {
        put(part.op);
      } else {
        out.push(body.subarray(part.from, part.to));
      }
    });
    if (!falls || node + 1 === behind) return;
    if (node + 1 < blocks.length) jump({ jump: node + 1, nest: 0 });
    else put(UNREACHABLE);
  }

  function jump({ jump, nest, when }) {
    const { label, place } = ways.get(jump);
    if (place !== undefined) put(I32_CONST, ...signed(place), LOCAL_SET, PLACE);
    put(when ? BR_IF : BR, ...depth(label, nest));
  }

  /**
   * The nodes in an order in which jumps go forward, but for those to cut ones. Those that go round are one
   * item with heads, which it is entered by from before it; switched if more can be come to than one head.
   * @returns {{nodes: number[], heads?: number[], switched?: boolean}[]}
   */
  function ordered(nodes, cut, heads) {
    const within = new Set(nodes);
    const next = (node) => blocks[node].next.filter((to) => within.has(to) && !cut.has(to));
    const parts = components(nodes, next);
    const part = new Map(); // node -> its part
    parts.forEach((list, k) => list.forEach((node) => part.set(node, k)));
    const entered = parts.map(() => new Set());
    for (const node of heads) entered[part.get(node)].add(node);
    const waits = parts.map(() => new Set()); // for which parts
    const freed = parts.map(() => new Set());
    for (const node of nodes) {
      for (const to of next(node)) {
        const [a, b] = [part.get(node), part.get(to)];
        if (a === b) continue;
        entered[b].add(to);
        waits[b].add(a);
        freed[a].add(b);
      }
    }
    const items = parts.map((list, k) => {
      list.sort((a, b) => a - b);
      if (list.length === 1 && !next(list[0]).includes(list[0])) return { nodes: list };
      const heads = [...entered[k]].sort((a, b) => a - b);
      if (heads.length === 0) heads.push(list.find((node) => resumes.has(node)));
      return { nodes: list, heads, switched: heads.length > 1 || list.some((node) => resumes.has(node) && node !== heads[0]) };
    });

    // As the compiler has them where the jumps allow it, and what falls through first.
    const ready = new Set(waits.flatMap(({ size }, k) => (size === 0 ? [k] : [])));
    const row = [];
    for (let through; ready.size > 0; ) {
      const rank = (k) => (row.length === 0 && items[k].nodes.includes(heads[0]) ? -2 : items[k].nodes.includes(through) ? -1 : items[k].nodes[0]);
      let best;
      for (const k of ready) if (best === undefined || rank(k) < rank(best)) best = k;
      ready.delete(best);
      row.push(items[best]);
      const [node] = items[best].nodes;
      through = !items[best].heads && blocks[node].falls ? node + 1 : undefined;
      for (const k of freed[best]) if (waits[k].delete(best) && waits[k].size === 0) ready.add(k);
    }
    return row;
  }
}

/** Strongly connected components, by R. Tarjan's algorithm (1972). */
function components(nodes, next) {
  const order = new Map(); // node -> when it was first seen
  const low = new Map(); // node -> the earliest that is come back to from it
  const open = new Set();
  const stack = [];
  const found = [];
  for (const root of nodes) {
    if (order.has(root)) continue;
    const walk = [];
    const visit = (node) => {
      order.set(node, order.size);
      low.set(node, order.get(node));
      stack.push(node);
      open.add(node);
      walk.push({ node, to: next(node), k: 0 });
    };
    const lower = (node, to) => low.set(node, Math.min(low.get(node), to));
    visit(root);
    while (walk.length > 0) {
      const top = walk[walk.length - 1];
      if (top.k < top.to.length) {
        const to = top.to[top.k++];
        if (!order.has(to)) visit(to);
        else if (open.has(to)) lower(top.node, order.get(to));
        continue;
      }
      walk.pop();
      if (walk.length > 0) lower(walk[walk.length - 1].node, low.get(top.node));
      if (low.get(top.node) !== order.get(top.node)) continue;
      const list = stack.splice(stack.indexOf(top.node));
      for (const node of list) open.delete(node);
      found.push(list);
    }
  }
  return found;
}

/**
 * A program as linked, with names, whose functions are straight and short, and without names.
 * @param {Uint8Array} wasm
 * @param {(body: Buffer, name: string) => Buffer} first what is done to each function before
 */
export function straightened(wasm, first = (body) => body) {
  return changed(wasm, (names) => {
    const put = straight(names);
    return (body, name) => shorter(put(first(body, name), name));
  });
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const [, , from, to] = process.argv;
  writeFileSync(to, straightened(readFileSync(from)));
}
