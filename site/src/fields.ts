// Every field of a plan document but its ground, from the published schema.

const KIND = { M: "measure", N: "number", T: "text", K: "tick", W: "words", C: "choice", L: "table", P: "money" } as const;

type Kind = (typeof KIND)[keyof typeof KIND];

export interface PlanField {
  field: string;
  kind: Kind;
  /** What it is, and what holds when it is left blank: of those that have no words of their own on the page. */
  says: string;
  hint: string;
  choices: readonly string[];
  columns: { key: string; kind: Kind; says: string }[];
}

/** A line for each, as the build packs them. */
declare const __FIELDS__: string;

/** In place of every part of a name that the field before has too there is a dot; a column has a colon. */
const LINE = /(:|\.*)([^A-Z]+)(.)(.*)/;

export const FIELDS: PlanField[] = [];
let path: string[] = [];
for (const line of __FIELDS__.split("\n")) {
  const [, before, name = "", letter, told] = LINE.exec(line)!;
  const kind = KIND[letter as keyof typeof KIND];
  const [says = "", hint = "", choices] = told!.split("|");
  if (before === ":") FIELDS.at(-1)!.columns.push({ key: name, kind, says });
  else {
    path = [...path.slice(0, before!.length), ...name.split(".")];
    FIELDS.push({ field: path.join("."), kind, says, hint, choices: choices?.split(" ") ?? [], columns: [] });
  }
}

/** What is meant by the text of a field or a column, where it is no plain text. */
export const KINDS: ReadonlyMap<string, string> = new Map(FIELDS.flatMap((f) => [f, ...f.columns.map((c) => ({ ...c, field: `${f.field}.${c.key}` }))]).map((f) => [f.field, f.kind]));
