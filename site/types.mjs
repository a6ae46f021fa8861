// Writes the types of the element and of the documents that pass through it,
// from the published schemas. Usage: node types.mjs FILE.d.ts
import { readFile, writeFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

const here = dirname(fileURLToPath(import.meta.url));
const schema = async (name) => JSON.parse(await readFile(join(here, "schema", `${name}-1.schema.json`), "utf8"));

const SIMPLE = { string: "string", number: "number", integer: "number", boolean: "boolean", null: "null" };

/** A schema as a TypeScript type. What a type cannot say (ranges, patterns) stands in the comments. */
function type(s, indent) {
  if (s.const !== undefined) return JSON.stringify(s.const);
  if (s.enum) return s.enum.map((v) => JSON.stringify(v)).join(" | ");
  const either = s.anyOf ?? (s.properties ? undefined : s.oneOf);
  if (either) return [...new Set(either.map((e) => type(e, indent)))].join(" | ");
  if (s.properties) return object(s, indent);
  const types = [s.type].flat().filter(Boolean);
  const all = types.map((t) => {
    if (t === "array") {
      const item = type(s.items ?? {}, indent);
      return /[|]/.test(item) && !item.startsWith("{") ? `(${item})[]` : `${item}[]`;
    }
    if (t === "object") return typeof s.additionalProperties === "object" ? `Record<string, ${type(s.additionalProperties, indent)}>` : "Record<string, unknown>";
    return SIMPLE[t] ?? "unknown";
  });
  return all.length > 0 ? [...new Set(all)].join(" | ") : "unknown";
}

const name = (key) => (/^[A-Za-z_]\w*$/.test(key) ? key : JSON.stringify(key));

function object(s, indent) {
  const inner = `${indent}  `;
  const lines = Object.entries(s.properties).map(([key, p]) => {
    const about = p.description ? `${inner}/** ${p.description.replaceAll("*/", "* /")} */\n` : "";
    return `${about}${inner}${name(key)}${s.required?.includes(key) ? "" : "?"}: ${type(p, inner)};`;
  });
  return lines.length > 0 ? `{\n${lines.join("\n")}\n${indent}}` : "Record<string, never>";
}

const plan = await schema("plan");
const result = await schema("result");
await writeFile(
  process.argv[2],
  `// Made by site/types.mjs from the published schemas. Do not edit.

/** A plan document, format slopewright.plan/1. */
export interface Plan ${object(plan, "")}

/** A result document, format slopewright.result/1: metres, m², m³, kg and hours; money as decimal text. */
export interface Result ${object(result, "")}

/** One thing wrong with a plan, and what would do. */
export interface Fault {
  field: string;
  got?: string;
  problem: string;
  fix?: string;
  kind?: string;
}

/** The planner's events, all of them CustomEvents that bubble and leave shadow trees. */
export interface SlopewrightEvents {
  /** The person changed the plan. */
  "slopewright-change": CustomEvent<{ plan: Plan }>;
  /** A plan was worked out, in so many milliseconds: 0 for an answer that was given before and is shown again. */
  "slopewright-result": CustomEvent<{ plan: Plan; result: Result; ms: number }>;
  /** It could not be: what is wrong with the plan, or else a sentence. */
  "slopewright-error": CustomEvent<{ plan: Plan; faults: Fault[] } | { message: string }>;
  /** The person asks for a quote. */
  "slopewright-quote": CustomEvent<{ plan: Plan; result: Result | undefined }>;
}

/** <slopewright-planner>: attributes of the same names in lower case; see the README. */
export declare class SlopewrightPlanner extends HTMLElement {
  /** The plan as it stands. Set a document, its JSON text, or where to fetch it from, to open another. */
  get plan(): Plan;
  set plan(plan: Plan | string);
  /** The last result; undefined before there is one. */
  readonly result: Result | undefined;
  /** How results are shown, in place of what a plan says. */
  units: "imperial" | "metric" | null;
  /** The rule set held against every plan that is opened. */
  rules: string | null;
  /** ISO 4217 code that prices are in, in place of the plan's. */
  currency: string | null;
  /** { prices?, stock? } as JSON, or where to fetch it from. */
  prices: string | null;
  /** Shows a plan without letting it be changed. */
  readonly: boolean;
  /** The parts to show, with spaces between; null for all. */
  sections: string | null;
  /** The words on the button that fires slopewright-quote; null for no button. */
  quote: string | null;
  /** A name under which plans are kept on the visitor's device; null keeps none. */
  keep: string | null;
  /** Whether plans can be shared by a link to the page. */
  share: boolean;
  /** The language, such as es-MX; empty for that of the nearest element with one. English and Spanish are spoken. */
  lang: string;
  /** Resolves once the calculator runs: until then only an answer that was given before may be shown. */
  ready(): Promise<void>;
  /** Resolves when all that was written is kept on the device. */
  kept(): Promise<void>;
  addEventListener<K extends keyof SlopewrightEvents>(type: K, listener: (this: SlopewrightPlanner, event: SlopewrightEvents[K]) => unknown, options?: boolean | AddEventListenerOptions): void;
  addEventListener(type: string, listener: EventListenerOrEventListenerObject, options?: boolean | AddEventListenerOptions): void;
  removeEventListener<K extends keyof SlopewrightEvents>(type: K, listener: (this: SlopewrightPlanner, event: SlopewrightEvents[K]) => unknown, options?: boolean | EventListenerOptions): void;
  removeEventListener(type: string, listener: EventListenerOrEventListenerObject, options?: boolean | EventListenerOptions): void;
}

declare global {
  interface HTMLElementTagNameMap {
    "slopewright-planner": SlopewrightPlanner;
  }
}
`,
);
