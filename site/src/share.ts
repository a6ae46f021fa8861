// A plan in a link: deflated into the part of an address that browsers do not
// send. A link from a stranger is read within limits.
import type { Plan } from "./contract.js";

/** The longest link that is made or read, in characters: what messages and codes still carry. */
const LONGEST = 16_000;
/** The most a link may unpack to, in bytes. */
const UNPACKED = 1_000_000;

const NAME = "plan=";

/** What is wrong with a link; the page has the words. */
export type LinkFault = "long" | "broken" | "large";
export class LinkError extends Error {
  constructor(readonly fault: LinkFault) {
    super(fault);
  }
}

async function through(bytes: Uint8Array<ArrayBuffer>, stream: GenericTransformStream, limit: number): Promise<Uint8Array<ArrayBuffer>> {
  const reader = (new Blob([bytes]).stream().pipeThrough(stream as ReadableWritablePair<Uint8Array, Uint8Array>) as ReadableStream<Uint8Array>).getReader();
  const parts: Uint8Array[] = [];
  let size = 0;
  for (;;) {
    const { done, value } = await reader.read();
    if (done) break;
    size += value.length;
    if (size > limit) {
      void reader.cancel();
      throw new LinkError("large");
    }
    parts.push(value);
  }
  const all = new Uint8Array(size);
  let at = 0;
  for (const part of parts) {
    all.set(part, at);
    at += part.length;
  }
  return all;
}

/** The fragment that carries a plan, with its #. */
export async function toFragment(plan: Plan): Promise<string> {
  const packed = await through(new TextEncoder().encode(JSON.stringify(plan)), new CompressionStream("deflate-raw"), Infinity);
  let binary = "";
  for (const byte of packed) binary += String.fromCharCode(byte);
  const fragment = `#${NAME}${btoa(binary).replace(/\+/g, "-").replace(/\//g, "_").replace(/=+$/, "")}`;
  if (fragment.length > LONGEST) throw new LinkError("long");
  return fragment;
}

/** True for a fragment that says it carries a plan. */
export const carriesPlan = (fragment: string) => fragment.startsWith(`#${NAME}`);

/** What a fragment carries, as JSON; LinkError where it cannot be read. */
export async function fromFragment(fragment: string): Promise<unknown> {
  if (fragment.length > LONGEST) throw new LinkError("long");
  const text = fragment.slice(NAME.length + 1);
  if (!/^[\w-]*$/.test(text)) throw new LinkError("broken");
  try {
    const packed = Uint8Array.from(atob(text.replace(/-/g, "+").replace(/_/g, "/")), (c) => c.charCodeAt(0));
    const plain = await through(packed, new DecompressionStream("deflate-raw"), UNPACKED);
    return JSON.parse(new TextDecoder("utf-8", { fatal: true }).decode(plain)) as unknown;
  } catch (err) {
    throw err instanceof LinkError ? err : new LinkError("broken");
  }
}
