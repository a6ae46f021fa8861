// Takes a drawing in as an SVG document. Only the shapes and words a drawing is
// made of pass: no scripts, styles, links or event handlers, whatever a
// document made the calculator write.
const ELEMENTS = new Set(["svg", "g", "defs", "title", "desc", "path", "line", "polyline", "polygon", "rect", "circle", "ellipse", "text", "tspan", "pattern", "clipPath", "marker", "use"]);
const SVG = "http://www.w3.org/2000/svg";

/** The drawing as an element of this document, or null when the text is no SVG. */
export function drawing(text: string): SVGSVGElement | null {
  const parsed = new DOMParser().parseFromString(text, "image/svg+xml").documentElement;
  if (parsed.namespaceURI !== SVG || parsed.localName !== "svg") return null;
  cleanDrawing(parsed);
  return document.importNode(parsed, true) as unknown as SVGSVGElement;
}

/** Takes out of a drawing whatever is no shape or word. */
export function cleanDrawing(element: Element): void {
  for (const { name, value } of [...element.attributes]) {
    const local = name.replace(/^.*:/, "").toLowerCase();
    if (local.startsWith("on") || local === "style" || (local === "href" && !value.startsWith("#")) || (/url\(/i.test(value) && !/^url\(#[\w-]+\)$/.test(value))) {
      element.removeAttribute(name);
    }
  }
  for (const child of [...element.children]) {
    if (child.namespaceURI === SVG && ELEMENTS.has(child.localName)) cleanDrawing(child);
    else child.remove();
  }
}
