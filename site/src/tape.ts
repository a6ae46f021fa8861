// Reads lengths, slopes and angles as they are written in a field book, for
// what the page does before the calculator answers: moving a point that is
// dragged, and the first rough answer. The calculator's own reading decides;
// what this one is not sure of it leaves alone.

const NUMBER = String.raw`\d+(?:[.,]\d+)?`;
const PART = String.raw`(?:(\d+)[ -]+)?(\d+)\/(\d+)`;
const NOTHING = /^0+(?:[.,]0+)?$/;
const METRIC: Record<string, number> = { m: 1, metre: 1, metres: 1, meter: 1, meters: 1, cm: 0.01, centimetre: 0.01, centimetres: 0.01, mm: 0.001, millimetre: 0.001, millimetres: 0.001 };
export const INCH = 0.0254;
/** Words of Spanish, by what is read for them. */
const SPANISH: Readonly<Record<string, string>> = Object.assign(Object.create(null) as object, {
  pie: "ft", pies: "ft", pulgada: "in", pulgadas: "in", pulg: "in", metro: "m", metros: "m", centímetro: "cm", centímetros: "cm", milímetro: "mm", milímetros: "mm", grado: "deg", grados: "deg",
});

/** One form for all the marks, fractions and spaces that are written. */
function plain(text: string): string {
  return text
    .replace(/(\d)\s*([¼-¾⅐-⅞])/g, "$1 $2")
    .replace(/[¼-¾⅐-⅞]/g, (c) => c.normalize("NFKC"))
    .replace(/⁄/g, "/")
    .replace(/[′’‘]/g, "'")
    .replace(/[″”“]|''/g, '"')
    .replace(/[−–]/g, "-")
    .replace(/\s+/g, " ")
    .replace(/\p{L}+/gu, (word) => SPANISH[word.toLowerCase()] ?? word)
    .trim();
}

function quantity(text: string): number | undefined {
  const part = new RegExp(`^${PART}$`).exec(text);
  if (part) return Number(part[1] ?? 0) + Number(part[2]) / Number(part[3]);
  return new RegExp(`^${NUMBER}$`).test(text) ? Number(text.replace(",", ".")) : undefined;
}

const read = new Map<string, number | undefined>();

/** A length in metres; undefined where it is not surely one. A bare number of a document is in metres. */
export function length(written: unknown): number | undefined {
  if (typeof written === "number") return Number.isFinite(written) ? written : undefined;
  if (typeof written !== "string" || written.length > 64) return undefined;
  // All readings are asked for anew at every move of a point.
  if (!read.has(written)) {
    if (read.size > 999) read.clear();
    read.set(written, lengthOf(written));
  }
  return read.get(written);
}

function lengthOf(written: string): number | undefined {
  const text = plain(written);
  const sign = text.startsWith("-") ? -1 : 1;
  const body = text.replace(/^[+-] ?/, "");
  if (NOTHING.test(body)) return 0; // in any unit
  const metric = new RegExp(`^(${NUMBER}) ?([a-z]+)(?: (\\d+) ?(cm|mm))?$`).exec(body);
  if (metric && Object.hasOwn(METRIC, metric[2]!)) {
    if (/^\d+,\d{3}$/.test(metric[1]!)) return undefined; // thousands, or decimals?
    return sign * (quantity(metric[1]!)! * METRIC[metric[2]!]! + (metric[3] ? Number(metric[3]) * METRIC[metric[4]!]! : 0));
  }
  const short = new RegExp(`^(\\d+)-(\\d+(?: \\d+/\\d+)?|\\d+/\\d+)$`).exec(body);
  if (short) return short[2]!.includes("/") && !short[2]!.includes(" ") ? undefined : sign * INCH * (12 * Number(short[1]) + quantity(short[2]!)!);
  const feet = /^([^a-z'"]+?) ?(?:'|ft|foot|feet)(?:[ -]*([^a-z'"]+?) ?(?:"|in|ins|inch|inches)?)?$/.exec(body);
  if (feet) {
    const [f, i] = [quantity(feet[1]!), feet[2] ? quantity(feet[2]) : 0];
    return f === undefined || i === undefined || (i > 0 && !Number.isInteger(f)) || i >= 12 ? undefined : sign * INCH * (12 * f + i);
  }
  const inches = /^([^a-z'"]+?) ?(?:"|in|ins|inch|inches)$/.exec(body);
  const i = inches && quantity(inches[1]!);
  return typeof i === "number" ? sign * INCH * i : undefined;
}

/** An angle above level or a grade, as rise over run; undefined where it is not surely one. */
export function slope(written: unknown): number | undefined {
  if (typeof written === "number") return Number.isFinite(written) ? written : undefined;
  if (typeof written !== "string" || written.length > 64) return undefined;
  const text = plain(written);
  const sign = text.startsWith("-") ? -1 : 1;
  const body = text.replace(/^[+-] ?/, "");
  const angle = new RegExp(`^(${NUMBER}) ?(?:°|deg|degrees?)(?: (\\d+) ?(?:'|min))?$`).exec(body);
  if (angle) return sign * Math.tan(((quantity(angle[1]!)! + Number(angle[2] ?? 0) / 60) * Math.PI) / 180);
  const cent = new RegExp(`^(${NUMBER}) ?%$`).exec(body);
  if (cent) return (sign * quantity(cent[1]!)!) / 100;
  const ratio = new RegExp(`^(${NUMBER}) ?(?::| in ) ?(${NUMBER})$`).exec(body);
  const run = ratio && quantity(ratio[2]!);
  return ratio && run ? (sign * quantity(ratio[1]!)!) / run : undefined;
}

/** What a length that is dragged goes by, in metres, and the way it is written: as it stood, as near as may be. */
export function like(written: unknown, imperial: boolean): { step: number; write(metres: number): string } {
  const text = typeof written === "string" ? plain(written) : "";
  const feet = text === "" || NOTHING.test(text) ? imperial : /['"]|ft|foot|feet|in(s|ch|ches)?\b|\d-\d/.test(text);
  if (feet) {
    const step = INCH / 4;
    const marks = text.includes("'") || text.includes('"');
    return {
      step,
      write: (metres) => {
        const n = Math.round(Math.abs(metres) / step);
        const [ft, inch, part] = [Math.floor(n / 48), Math.floor((n % 48) / 4), ["", "1/4", "1/2", "3/4"][n % 4]!];
        const inches = inch === 0 && part !== "" ? part : `${inch}${part && ` ${part}`}`;
        const both = inches === "0" ? "" : marks ? `${inches}"` : `${inches} in`;
        const whole = ft === 0 && both !== "" ? "" : marks ? `${ft}'` : `${ft} ft`;
        return `${metres < 0 && n > 0 ? "-" : ""}${[whole, both].filter(Boolean).join(" ")}`;
      },
    };
  }
  const step = 0.01;
  const unit = /\d ?mm$/.test(text) ? "mm" : /\d ?cm$/.test(text) ? "cm" : "m";
  // Readings to the millimetre stay so.
  const places = unit === "m" ? (/[.,]\d{3}\b/.test(text) ? 3 : 2) : 0;
  return { step, write: (metres) => `${(metres / METRIC[unit]!).toFixed(places).replace(/^-(0(\.0*)?)$/, "$1")} ${unit}` };
}
