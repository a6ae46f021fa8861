// Takes a drawing in as an SVG document. Only the shapes and words a drawing is
// made of pass: no scripts, styles, links or event handlers, whatever a
// document made the calculator write.
const ELEMENTS = new Set(["svg", "g", "defs", "title", "desc", "path", "line", "polyline", "polygon", "rect", "circle", "ellipse", "text", "tspan", "pattern", "clipPath", "marker", "use"]);
const SVG = "http://www.w3.org/2000/svg";

/**
 * The drawing as an element of this document, or null when the text is no SVG.
 *
 * @param before the drawing in whose place it comes: what is the same stays, so that only what moves is laid out anew
 */
export function drawing(text: string, before: SVGSVGElement | null = null): SVGSVGElement | null {
  const parsed = new DOMParser().parseFromString(text, "image/svg+xml").documentElement;
  if (parsed.namespaceURI !== SVG || parsed.localName !== "svg") return null;
  cleanDrawing(parsed);
  if (!before) return document.importNode(parsed, true) as unknown as SVGSVGElement;
  redraw(before, parsed);
  return before;
}

/** Makes of an element another of the same name. */
function redraw(now: Element, next: Element): void {
  for (const { name } of [...now.attributes]) if (!next.hasAttribute(name)) now.removeAttribute(name);
  for (const { name, value } of next.attributes) if (now.getAttribute(name) !== value) now.setAttribute(name, value);
  const [old, fresh] = [[...now.childNodes], [...next.childNodes]];
  for (const [i, to] of fresh.entries()) {
    const from = old[i];
    if (!from) now.append(document.importNode(to, true));
    else if (from.nodeName !== to.nodeName) from.replaceWith(document.importNode(to, true));
    else if (to instanceof Element) redraw(from as Element, to);
    else if (from.nodeValue !== to.nodeValue) from.nodeValue = to.nodeValue;
  }
  for (const gone of old.slice(fresh.length)) gone.remove();
}

/** Takes out of a drawing whatever is no shape or word. */
export function cleanDrawing(element: Element): void {
  for (const { name, value } of [...element.attributes]) {
    if (/^(.*:)?(on.*|style)$/i.test(name) || (/^(.*:)?href$/i.test(name) && !value.startsWith("#")) || (value.includes("(") && /url\(/i.test(value) && !/^url\(#[\w-]+\)$/.test(value))) {
      element.removeAttribute(name);
    }
  }
  for (const child of [...element.children]) {
    if (child.namespaceURI === SVG && ELEMENTS.has(child.localName)) cleanDrawing(child);
    else child.remove();
  }
}
