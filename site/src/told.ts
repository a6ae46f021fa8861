// Answers that were given before: the last one of this device, and one that was
// made with the page, of the plan it shows first. Such an answer is shown while
// the calculator is still to come, but only where this build was asked the very
// same; it is then what this build would answer.
import type { About, Plan, Result } from "./contract.js";
import { asSent } from "./engine.js";
import type { Language } from "./words.js";

declare const __BUILD__: string;

const FORMAT = "slopewright.told/1";
/** The longest answer that is kept, in bytes. */
const LONGEST = 1_000_000;

/** An answer, and what it answers. */
export interface Told {
  /** Of the request, as it is sent. */
  mark: string;
  /** How wide its drawing is, in CSS pixels. */
  width: number;
  result: Result;
  about: About | undefined;
  /** False where about has only what the plan itself names. */
  all: boolean;
}

/** A request for a plan and its section, as wide as that. */
export const planRequest = (op: string, plan: Plan, width: number, prefix: string) => ({ format: "slopewright.request/1", op, plan, drawings: [{ name: "section", width, prefix }] });

/** An answer as it is kept on the device: bytes as the calculator gave them. */
export interface KeptAnswer {
  format: typeof FORMAT;
  build: string;
  request: string;
  answer: Uint8Array;
  about: About | undefined;
  /** Of the request and the answer. */
  sum: number;
}

/** FNV-1a over the request's text and the answer's bytes: tells what was damaged. */
function sumOf(request: string, answer: ArrayLike<number> = []): number {
  let sum = 0x811c9dc5;
  const add = (n: number) => {
    sum = Math.imul(sum ^ n, 0x01000193);
  };
  for (let i = 0; i < request.length; i++) add(request.charCodeAt(i));
  for (let i = 0; i < answer.length; i++) add(answer[i]!);
  return sum >>> 0;
}

/** Tells one request from another: of two as long as each other, all but one in four thousand million. */
export const markOf = (request: string) => `${request.length} ${sumOf(request)}`;

/** What to keep of an answer; nothing of one that is too long. */
export function toKeep(request: string, answer: Uint8Array, about: About | undefined): KeptAnswer | undefined {
  return request.length + answer.length > LONGEST ? undefined : { format: FORMAT, build: __BUILD__, request, answer, about, sum: sumOf(request, answer) };
}

const isAbout = (v: unknown): v is About => (v as About | undefined)?.format === "slopewright.about/1" && Array.isArray((v as About).rules) && Array.isArray((v as About).soils);

function told(mark: unknown, width: unknown, result: unknown, about: unknown, all: boolean): Told | undefined {
  if (typeof mark !== "string" || typeof width !== "number" || (result as Result | undefined)?.format !== "slopewright.result/1") return undefined;
  return { mark, width, result: result as Result, about: isAbout(about) ? about : undefined, all: all && isAbout(about) };
}

/** Reads what was kept on the device; undefined for what another build kept, and for whatever is damaged or something else. */
export function fromDevice(kept: unknown): Told | undefined {
  const { format, build, request, answer, about, sum } = (kept ?? {}) as Partial<KeptAnswer>;
  if (format !== FORMAT || build !== __BUILD__ || typeof request !== "string" || !(answer instanceof Uint8Array) || sum !== sumOf(request, answer)) return undefined;
  try {
    const { drawings } = JSON.parse(request) as Partial<ReturnType<typeof planRequest>>;
    return told(markOf(request), drawings?.[0]?.width, JSON.parse(new TextDecoder().decode(answer)), about, true);
  } catch {
    return undefined;
  }
}

/** Fetches an answer that was made with the page; undefined where there is none of this build. */
export async function fromFile(url: URL, signal: AbortSignal): Promise<Told | undefined> {
  try {
    const response = await fetch(url, { signal });
    if (!response.ok) return undefined;
    const { format, build, mark, width, answer, about } = (await response.json()) as Record<string, unknown>;
    return format === FORMAT && build === __BUILD__ ? told(mark, width, answer, about, false) : undefined;
  } catch {
    return undefined;
  }
}

/** Whether this is the answer to a plan in a language, to be drawn so wide; 0 for any width. */
export const answers = (told: Told | undefined, plan: Plan, width: number, prefix: string, lang: Language): told is Told =>
  told !== undefined && (width === 0 || width === told.width) && markOf(asSent(planRequest("plan", plan, told.width, prefix), lang)) === told.mark;
