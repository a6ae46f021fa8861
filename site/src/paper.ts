// Sheets and drawings as things to keep: a sheet shown and printed in a frame of
// its own, a drawing as a picture. Documents come from the calculator as text;
// only what a sheet is made of passes, whatever a plan made it write.
import { cleanDrawing } from "./drawing.js";
import { w } from "./words.js";

const ELEMENTS = new Set(
  "html body main header footer section article div span p h1 h2 h3 h4 ul ol li dl dt dd table caption colgroup col thead tbody tfoot tr th td strong em b i s q small sub sup br hr figure figcaption abbr code bdi".split(" "),
);
const ATTRIBUTES = /^(class|id|colspan|rowspan|span|scope|lang|dir|role|start|title|aria-[a-z]+)$/;

function clean(element: Element): void {
  if (element.localName === "svg") return cleanDrawing(element);
  for (const { name } of [...element.attributes]) if (!ATTRIBUTES.test(name)) element.removeAttribute(name);
  for (const child of [...element.children]) {
    if (ELEMENTS.has(child.localName) || child.localName === "svg") clean(child);
    else child.remove();
  }
}

/** Puts a sheet in an empty frame. Its style goes in as a style sheet object, which the strictest policy lets pass. */
export function fillFrame(frame: HTMLIFrameElement, text: string): void {
  const inside = frame.contentDocument;
  const view = frame.contentWindow as (Window & typeof globalThis) | null;
  if (!inside || !view) return;
  // Taken out before it is parsed: a policy forbids style elements even there.
  let style = "";
  const plain = text.replace(/<style>([^]*?)<\/style>/gi, (_, rules: string) => ((style += rules), ""));
  const parsed = new DOMParser().parseFromString(plain, "text/html");
  clean(parsed.body);
  inside.title = parsed.title;
  inside.documentElement.lang = parsed.documentElement.lang;
  inside.body.replaceChildren(...[...parsed.body.childNodes].map((n) => inside.importNode(n, true)));
  const sheet = new view.CSSStyleSheet();
  sheet.replaceSync(style);
  inside.adoptedStyleSheets = [sheet];
}

/** A drawing as a file of its own, in ink on white. */
export function standalone(drawn: string): string {
  return drawn.replace(/<svg /, '<svg color="#000" ');
}

/** A drawing as a picture, so many pixels to one of its own. */
export async function picture(drawn: string, times: number): Promise<Blob> {
  const image = new Image();
  image.src = `data:image/svg+xml;charset=utf-8,${encodeURIComponent(standalone(drawn))}`;
  await image.decode();
  const canvas = document.createElement("canvas");
  // No canvas of a browser is larger than this.
  const scale = Math.min(times, 8000 / image.naturalWidth, 8000 / image.naturalHeight);
  canvas.width = Math.round(image.naturalWidth * scale);
  canvas.height = Math.round(image.naturalHeight * scale);
  const context = canvas.getContext("2d")!;
  context.fillStyle = "#fff";
  context.fillRect(0, 0, canvas.width, canvas.height);
  context.drawImage(image, 0, 0, canvas.width, canvas.height);
  return new Promise((resolve, reject) => canvas.toBlob((blob) => (blob ? resolve(blob) : reject(new Error(w.trouble.noPicture))), "image/png"));
}
