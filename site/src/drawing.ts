// Takes a drawing in as an SVG document. Only the shapes and words a drawing is
// made of pass: no scripts, styles, links or event handlers, whatever a
// document made the calculator write.
const ELEMENTS = new Set(["svg", "g", "defs", "title", "desc", "path", "line", "polyline", "polygon", "rect", "circle", "ellipse", "text", "tspan", "pattern", "clipPath", "marker", "use"]);
const SVG = "http://www.w3.org/2000/svg";

/** What a drawing was made of: its text in items, and the element that begins, or ends, with each. */
interface Made {
  items: string[];
  kinds: string[];
  elements: (Element | undefined)[];
}
const made = new WeakMap<Element, Made>();
/** The text of one that no other was made of yet. */
const unmade = new WeakMap<Element, string>();

/** A text in its items: beginnings of elements, with the words in them and their end where they have nothing else in them, and other ends. */
const itemsOf = (text: string) => text.split(/<(?=\w)|(?<=>\s*)<(?=\/)/);
// An element's name, its attributes, and its words, with nothing in them that stands for something else.
const ITEM = /^(\w+)((?: [\w:-]+="[^"&]*")*) ?(?:(\/)>|>([^<&]*?)(<\/\1>)?)(\n?)$/;
const ATTRIBUTE = / ([\w:-]+)="([^"]*)"/g;
/** What goes for the same thing in another drawing. */
const kindOf = (item: string) => /^\/?\w*( class="[^"]*")?/.exec(item)![0];

/**
 * The drawing as an element of this document, or null when the text is no SVG.
 *
 * @param before the drawing in whose place it comes: what is the same stays, so that only what moves is laid out anew
 */
export function drawing(text: string, before: SVGSVGElement | null = null): SVGSVGElement | null {
  if (before && revise(before, text)) return before;
  const parsed = new DOMParser().parseFromString(text, "image/svg+xml").documentElement;
  if (parsed.namespaceURI !== SVG || parsed.localName !== "svg") return null;
  cleanDrawing(parsed);
  const now = document.importNode(parsed, true) as unknown as SVGSVGElement;
  unmade.set(now, text);
  return now;
}

/** Works out what a drawing was made of, for the next: not of one that something was taken out of. */
function note(now: Element): void {
  const text = unmade.get(now);
  if (text === undefined) return;
  unmade.delete(now);
  const items = itemsOf(text);
  const all = [now, ...now.querySelectorAll("*")];
  const open: (Element | undefined)[] = [];
  let count = 0;
  const elements = items.map((item) => {
    if (item[0] === "/") return open.pop();
    if (!/^\w/.test(item)) return undefined;
    const element = all[count++];
    if (!/\/\w*>\s*$/.test(item)) open.push(element);
    return element;
  });
  if (count === all.length && open.length === 0) made.set(now, { items, kinds: items.map(kindOf), elements });
}

/** Makes another drawing of one by what differs in their texts, where only elements with nothing but words in them come and go; says whether it could. */
function revise(now: Element, text: string): boolean {
  note(now);
  const was = made.get(now);
  if (!was) return false;
  const items = itemsOf(text);
  const kinds = items.map(kindOf);
  const elements: Made["elements"] = [];
  const changes: (() => void)[] = [];
  for (let i = 0, j = 0; i < was.items.length || j < items.length; ) {
    const [a = "", b = "", element] = [was.items[i], items[j], was.elements[i]];
    if (a !== b) {
      const [is, to] = [ITEM.exec(a), ITEM.exec(b)];
      const other = was.kinds[i] !== kinds[j];
      const later = other && kinds.includes(was.kinds[i]!, j);
      const sooner = other && was.kinds.includes(kinds[j]!, i);
      if (!element) return false;
      if (later && !sooner) {
        if (!to || !(to[3] || to[5]) || !ELEMENTS.has(to[1]!)) return false;
        const one = document.createElementNS(SVG, to[1]!);
        changes.push(() => {
          change(one, "", to[2]!);
          if (to[4]) one.textContent = to[4];
          if (a[0] === "/") element.append(one, to[6]!);
          else element.before(one, to[6]!);
        });
        elements.push(one);
        j++;
        continue;
      }
      if (!is) return false;
      if (sooner && !later) {
        if (!(is[3] || is[5])) return false;
        changes.push(() => {
          if (is[6]) element.nextSibling!.remove();
          element.remove();
        });
        i++;
        continue;
      }
      if (!to || [1, 3, 5, 6].some((k) => is[k] !== to[k]) || (is[4] !== to[4] && !(is[4] && to[4]))) return false;
      changes.push(() => {
        change(element, is[2]!, to[2]!);
        if (is[4] !== to[4]) element.firstChild!.nodeValue = to[4]!;
      });
    }
    elements.push(element);
    i++;
    j++;
  }
  for (const change of changes) change();
  made.set(now, { items, kinds, elements });
  return true;
}

/** Gives an element other attributes. */
function change(element: Element, is: string, to: string): void {
  if (is === to) return;
  const [old, fresh] = [is, to].map((of) => new Map([...of.matchAll(ATTRIBUTE)].map(([, name, value]) => [name!, value!])));
  for (const name of old!.keys()) if (!fresh!.has(name)) element.removeAttribute(name);
  for (const [name, value] of fresh!) {
    if (value === old!.get(name)) continue;
    if (harmless(name, value)) element.setAttribute(name, value);
    else element.removeAttribute(name);
  }
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
  for (const { name, value } of [...element.attributes]) if (!harmless(name, value)) element.removeAttribute(name);
  for (const child of [...element.children]) {
    if (child.namespaceURI !== SVG || !ELEMENTS.has(child.localName)) child.remove();
    else cleanDrawing(child);
  }
}
