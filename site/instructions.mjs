// Numbers in WebAssembly, and where an instruction ends, of those that Go's compiler
// writes (WebAssembly Core Specification 2.0, 5.2.2 and 5.4).

/** An unsigned LEB128 number at a place, and the place behind it. @returns {[number, number]} */
export function uleb(bytes, at) {
  let n = 0;
  for (let shift = 1; ; shift *= 128) {
    const byte = bytes[at++];
    n += (byte & 127) * shift;
    if (!(byte >= 128)) return [n, at];
  }
}

/** An unsigned LEB128 number. */
export function leb(n) {
  const out = [];
  for (; n >= 128; n = Math.floor(n / 128)) out.push((n % 128) | 128);
  return [...out, n];
}

/** A signed LEB128 number of 0 or more: bit 6 of its last byte would be its sign. */
export function signed(n) {
  const out = leb(n);
  const last = out.pop();
  return last & 64 ? [...out, last | 128, 0] : [...out, last];
}

const skip = (bytes, at) => {
  while (bytes[at++] >= 128);
  return at;
};

/** The place behind the instruction at a place; -1 where that is none Go writes. Blocks have no values. */
export function after(bytes, at) {
  const op = bytes[at++];
  if (op >= 0x45 && op <= 0xc4) return at; // arithmetic
  if (op >= 0x28 && op <= 0x3e) return skip(bytes, skip(bytes, at)); // loads and stores
  if (op >= 0x20 && op <= 0x24) return skip(bytes, at); // variables
  switch (op) {
    case 0x00: case 0x01: case 0x05: case 0x0b: case 0x0f: case 0x1a: case 0x1b: // unreachable, nop, else, end, return, drop, select
      return at;
    case 0x02: case 0x03: case 0x04: // block, loop, if
      return bytes[at] === 0x40 ? at + 1 : -1;
    case 0x0c: case 0x0d: case 0x10: case 0x41: case 0x42: // br, br_if, call, constants
      return skip(bytes, at);
    case 0x0e: { // br_table
      let [count, to] = uleb(bytes, at);
      for (; count >= 0; count--) to = skip(bytes, to);
      return to;
    }
    case 0x11: // call_indirect
      return skip(bytes, skip(bytes, at));
    case 0x3f: case 0x40: // the memory's size
      return at + 1;
    case 0x43:
      return at + 4;
    case 0x44:
      return at + 8;
    case 0xfc: {
      const [more, to] = uleb(bytes, at);
      if (more < 8) return to;
      if (more === 10) return to + 2; // memory.copy
      if (more === 11) return to + 1; // memory.fill
    }
  }
  return -1;
}
