// The documents that pass between the page and the calculator, as far as the
// page reads them. Quantities are SI numbers (m, m², m³, kg, h); whatever a
// person reads comes beside them as text, in the plan's units.

/** A tape reading as typed, or a number of metres. */
export type Reading = string | number;

/** A plan document, format slopewright.plan/1. Only what the page edits is named; the rest passes through. */
export interface Plan {
  format?: string;
  title?: string;
  units?: string;
  ground?: { method?: string; readings?: Row[]; [more: string]: unknown };
  path?: { [more: string]: unknown };
  steps?: { [more: string]: unknown };
  soil?: { [more: string]: unknown };
  [more: string]: unknown;
}

/** One line of the field book: column name to what is written there. */
export type Row = Record<string, unknown>;

/** One thing wrong with a document, and what would do. */
export interface Fault {
  field: string;
  got?: string;
  problem: string;
  fix?: string;
  /** "unit" for a figure that lacks its unit, "field" for a field that there is none of. */
  kind?: string;
}

/** What the calculator answers when a plan cannot be made. */
export interface ErrorDocument {
  format: "slopewright.error/1";
  faults: Fault[];
}

/** What the calculator can do, and its version. */
export interface About {
  format: "slopewright.about/1";
  version: string;
  rules: { id: string; name: string; applies?: string }[];
  soils: { id: string; name: string }[];
  sections?: { id: string; name: string }[];
  items?: { id: string; name: string }[];
}

export interface Finding {
  severity: string;
  rule?: string;
  clause?: string;
  source?: string;
  says: string;
  where?: string;
}

export interface Mark {
  riser: number;
  text: Record<string, string>;
}

/** A layout of one's own. */
export interface OwnLayout {
  /** As steps.fixed. */
  steps: Row[];
  /** Where its ends lie, where they may move: steps.fixed_foot and steps.fixed_head. */
  foot?: unknown;
  head?: unknown;
}

/** One layout to choose, and what makes it the plan's own. */
export interface Choice extends OwnLayout {
  says: string;
  /** Bank volume dug, m³. */
  cut_bank: number;
  /** Person-hours, likely. */
  hours: number;
  flights: unknown;
}

/** A finished plan, format slopewright.result/1: the parts the page shows. */
export interface Result {
  format: "slopewright.result/1";
  version: string;
  title?: string;
  units: string;
  answer: { key: string; says: string }[];
  ground: { method: string; checks?: { name: string; says: string; ok: boolean }[]; notes?: string[] };
  findings?: Finding[];
  stakeout?: Mark[];
  drawings?: Record<string, string>;
  sheets?: Record<string, string>;
  tables?: Record<string, string>;
  choices?: Choice[];
  comparison?: Record<string, unknown>;
  layout?: { flights?: unknown };
  build?: { boxes?: unknown[]; framed?: unknown[] };
  takeoff?: { item: string; name: string; section?: string }[];
  [more: string]: unknown;
}

/** A plan as far as the digging, format slopewright.sketch/1: what follows while a point is moved. */
export interface Sketch {
  format: "slopewright.sketch/1";
  answer: { key: string; says: string }[];
  ground: Result["ground"];
  layout?: { flights?: unknown };
  drawings?: Record<string, string>;
}

/** A price list that was read, format slopewright.prices/1. */
export interface PriceList {
  format: "slopewright.prices/1";
  items: Row[];
  stock?: Row[];
}

export type Answer = Result | Sketch | ErrorDocument;
