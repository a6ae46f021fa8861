// Takes a drawing in as an SVG document. Only the shapes and words a drawing is
// made of pass: no scripts, styles, links or event handlers, whatever a
// document made the calculator write.
const ELEMENTS = new Set(["svg", "g", "defs", "title", "desc", "path", "line", "polyline", "polygon", "rect", "circle", "ellipse", "text", "tspan", "pattern", "clipPath", "marker", "use"]);
const SVG = "http://www.w3.org/2000/svg";

/** What a drawing was made of: its text at each "<", and the elements that begin there. */
interface Made {
  pieces: string[];
  elements: (Element | undefined)[];
}
const made = new WeakMap<Element, Made>();
/** The text of one that no other was made of yet. */
const unmade = new WeakMap<Element, string>();

// An element's beginning, its attributes, and the words before the next, with nothing in them that stands for something else.
const BEGINNING = /^([A-Za-z]+)((?: [\w:-]+="[^"&]*")*) ?(\/?)>([^&]*)$/;
const ATTRIBUTE = / ([\w:-]+)="([^"]*)"/g;

/**
 * The drawing as an element of this document, or null when the text is no SVG.
 *
 * @param before the drawing in whose place it comes: what is the same stays, so that only what moves is laid out anew
 */
export function drawing(text: string, before: SVGSVGElement | null = null): SVGSVGElement | null {
  if (before && revise(before, text)) return before;
  const parsed = new DOMParser().parseFromString(text, "image/svg+xml").documentElement;
  if (parsed.namespaceURI !== SVG || parsed.localName !== "svg") return null;
  let now = before;
  if (now) redraw(now, parsed);
  else {
    cleanDrawing(parsed);
    now = document.importNode(parsed, true) as unknown as SVGSVGElement;
  }
  made.delete(now);
  unmade.set(now, text);
  return now;
}

/** Works out what a drawing was made of, for the next: not of one that something was taken out of. */
function note(now: Element): void {
  const text = unmade.get(now);
  if (text === undefined) return;
  unmade.delete(now);
  const pieces = text.split("<");
  const all = [now, ...now.querySelectorAll("*")];
  let count = 0;
  const elements = pieces.map((piece) => (/^[A-Za-z]/.test(piece) ? all[count++] : undefined));
  if (count === all.length) made.set(now, { pieces, elements });
}

/** Makes another drawing of one by what differs in its text, where no element comes, goes or is another; says whether it could. */
function revise(now: Element, text: string): boolean {
  note(now);
  const was = made.get(now);
  const pieces = text.split("<");
  if (!was || pieces.length !== was.pieces.length) return false;
  const changes: [element: Element, was: RegExpExecArray, is: RegExpExecArray][] = [];
  for (const [i, piece] of pieces.entries()) {
    if (piece === was.pieces[i]) continue;
    const element = was.elements[i];
    const [a, b] = [BEGINNING.exec(was.pieces[i]!), BEGINNING.exec(piece)];
    if (!element || !a || !b || a[1] !== b[1] || a[3] !== b[3] || (a[4] !== b[4] && (a[3] || !a[4] || !b[4]))) return false;
    changes.push([element, a, b]);
  }
  for (const [element, a, b] of changes) {
    if (a[2] !== b[2]) {
      const [old, fresh] = [a, b].map((of) => new Map([...of[2]!.matchAll(ATTRIBUTE)].map(([, name, value]) => [name!, value!])));
      for (const name of old!.keys()) if (!fresh!.has(name)) element.removeAttribute(name);
      for (const [name, value] of fresh!) {
        if (value === old!.get(name)) continue;
        if (harmless(name, value)) element.setAttribute(name, value);
        else element.removeAttribute(name);
      }
    }
    if (a[4] !== b[4]) element.firstChild!.nodeValue = b[4]!;
  }
  made.set(now, { pieces, elements: was.elements });
  return true;
}

/** Makes of an element another of the same name, less what is no shape or word. */
function redraw(now: Element, next: Element): void {
  if (now.isEqualNode(next)) return;
  cleanOwn(next);
  for (const { name } of [...now.attributes]) if (!next.hasAttribute(name)) now.removeAttribute(name);
  for (const { name, value } of next.attributes) if (now.getAttribute(name) !== value) now.setAttribute(name, value);
  const [old, fresh] = [[...now.childNodes], [...next.childNodes]];
  const taken = (to: Node) => {
    if (to instanceof Element) cleanDrawing(to);
    return document.importNode(to, true);
  };
  for (const [i, to] of fresh.entries()) {
    const from = old[i];
    if (!from) now.append(taken(to));
    else if (from.nodeName !== to.nodeName) from.replaceWith(taken(to));
    else if (to instanceof Element) redraw(from as Element, to);
    else if (from.nodeValue !== to.nodeValue) from.nodeValue = to.nodeValue;
  }
  for (const gone of old.slice(fresh.length)) gone.remove();
}

/** Names that were looked at: of attributes that run or style something, and of links. */
const names = new Map<string, { bad: boolean; link: boolean }>();

/** Whether an attribute can do nothing but show. */
function harmless(name: string, value: string): boolean {
  let found = names.get(name);
  if (!found) {
    if (names.size > 999) names.clear();
    names.set(name, (found = { bad: /^(.*:)?(on.*|style)$/i.test(name), link: /^(.*:)?href$/i.test(name) }));
  }
  return !(found.bad || (found.link && !value.startsWith("#")) || (value.includes("(") && /url\(/i.test(value) && !/^url\(#[\w-]+\)$/.test(value)));
}

/** Takes out of a drawing whatever is no shape or word. */
export function cleanDrawing(element: Element): void {
  cleanOwn(element);
  for (const child of element.children) cleanDrawing(child);
}

/** Takes out of an element what is no shape or word: attributes and children, not those of its children. */
function cleanOwn(element: Element): void {
  for (const { name, value } of [...element.attributes]) if (!harmless(name, value)) element.removeAttribute(name);
  for (const child of [...element.children]) if (child.namespaceURI !== SVG || !ELEMENTS.has(child.localName)) child.remove();
}
