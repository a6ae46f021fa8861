// Every field of a plan document but its ground, from the published schema.

export interface PlanField {
  field: string;
  kind: "text" | "measure" | "money" | "number" | "tick" | "choice" | "words" | "table";
  /** What it is, and what holds when it is left blank: of those that have no words of their own on the page. */
  says: string;
  hint: string;
  choices?: readonly string[];
  columns?: readonly { key: string; kind: "text" | "measure" | "money" | "number" | "tick" | "words"; says: string }[];
}

type Column = NonNullable<PlanField["columns"]>[number];
type PackedColumn = [key: string, kind: Column["kind"], says?: string];

/** As the build packs them; 0 for a part that is not there. */
declare const __FIELDS__: readonly [field: string, kind: PlanField["kind"], says?: string, hint?: string, choices?: string[] | 0, columns?: PackedColumn[]][];

export const FIELDS: readonly PlanField[] = __FIELDS__.map(([field, kind, says = "", hint = "", choices, columns]) => ({
  field,
  kind,
  says,
  hint,
  choices: choices || [],
  ...(columns && { columns: columns.map(([key, kind, says = ""]) => ({ key, kind, says })) }),
}));

/** What is meant by the text of a field or a column, where it is no plain text. */
export const KINDS: ReadonlyMap<string, string> = new Map(FIELDS.flatMap((f) => [[f.field, f.kind] as const, ...(f.columns ?? []).map((c) => [`${f.field}.${c.key}`, c.kind] as const)]));

/** The columns of every table, by the names of its cells. */
export const COLUMNS: ReadonlyMap<string, readonly string[]> = new Map(FIELDS.flatMap((f) => (f.columns ? [[f.field, f.columns.map((c) => c.key)] as const] : [])));
