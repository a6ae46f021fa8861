// The functions of a WebAssembly program by their names, each to be changed. Go's linker
// writes the names without -ldflags=-s.

import { leb, uleb } from "./instructions.mjs";

const IMPORT = 2, CODE = 10, CUSTOM = 0, FUNCTION_NAMES = 1;

/**
 * The program with its functions changed and without names; as it is when it has no names.
 * @param {Uint8Array} wasm
 * @param {(names: Map<number, string>) => (body: Buffer, name: string) => Buffer} changes
 *   given the names of all functions by their numbers, those imported first
 */
export function changed(wasm, changes) {
  const bytes = Buffer.from(wasm.buffer, wasm.byteOffset, wasm.length);
  let at = 8; // after magic number and version
  const number = () => {
    const [n, past] = uleb(bytes, at);
    at = past;
    return n;
  };
  const text = () => {
    const size = number();
    at += size;
    return bytes.toString("utf8", at - size, at);
  };

  /** @type {{id: number, name?: string, from: number, to: number}[]} */
  const sections = [];
  /** @type {Buffer[]} */
  const bodies = [];
  /** @type {Map<number, string>} */
  const names = new Map();
  let imported = 0;
  while (at < bytes.length) {
    const from = at;
    const id = bytes[at++];
    const end = number() + at;
    const section = { id, name: undefined, from, to: end };
    if (id === IMPORT) {
      for (let n = number(); n > 0; n--, imported++) {
        text();
        text();
        if (bytes[at++] !== 0) throw new Error("functions: Go's programs import functions alone");
        number();
      }
    } else if (id === CODE) {
      for (let n = number(); n > 0; n--) {
        const size = number();
        bodies.push(bytes.subarray(at, (at += size)));
      }
    } else if (id === CUSTOM) {
      section.name = text();
      while (section.name === "name" && at < end) {
        const kind = bytes[at++];
        const next = number() + at;
        if (kind === FUNCTION_NAMES) for (let n = number(); n > 0; n--) names.set(number(), text());
        at = next;
      }
    }
    sections.push(section);
    at = end;
  }
  if (names.size === 0) return bytes;

  const change = changes(names);
  const code = [Buffer.from(leb(bodies.length))];
  bodies.forEach((body, i) => {
    const now = change(body, names.get(imported + i) ?? "");
    code.push(Buffer.from(leb(now.length)), now);
  });
  const all = Buffer.concat(code);
  return Buffer.concat([
    bytes.subarray(0, 8),
    ...sections.filter(({ name }) => name !== "name").flatMap(({ id, from, to }) => (id === CODE ? [Buffer.from([CODE, ...leb(all.length)]), all] : [bytes.subarray(from, to)])),
  ]);
}
