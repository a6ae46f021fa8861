// Packs the WebAssembly that Go links: node pack.mjs FROM TO. The linker leaves
// zeros out of its data, for which it cuts them into some 80,000 segments. Each
// has a head that compresses to nothing less, zeros do, and engines take 100,000
// at most: one segment with the zeros in it is 80 kB less over the wire. Nothing
// else is touched.
import { readFileSync, writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";

const DATA = 11;
const HEAD = 8; // magic number and version

/** @param {Uint8Array} wasm */
export function pack(wasm) {
  let at = HEAD;
  const number = () => {
    let n = 0;
    for (let shift = 1; ; shift *= 128) {
      const byte = wasm[at++];
      n += (byte & 127) * shift;
      if (byte < 128) return n;
    }
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
  const head = Buffer.from([1, 0, 0x41, ...signed(low), 0x0b, ...unsigned(all.length)]);
  return [Buffer.from([DATA, ...unsigned(head.length + all.length)]), head, all];
}

function unsigned(n) {
  const out = [];
  for (; n >= 128; n = Math.floor(n / 128)) out.push((n % 128) | 128);
  return [...out, n];
}

/** A signed number of 0 or more: bit 6 of its last byte would be its sign. */
function signed(n) {
  const out = unsigned(n);
  const last = out.pop();
  return last & 64 ? [...out, last | 128, 0] : [...out, last];
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const [, , from, to] = process.argv;
  writeFileSync(to, pack(readFileSync(from)));
}
