// The language of our own page: the one chosen here, else the first of the
// browser's that there is. The element follows the lang of the page around it.
// English is what index.html is written in; the words of another language come
// when it is wanted. Runs before the element does, so that nothing is said twice.
import type { PageWords } from "./words.js";

declare const __BUILD__: string;

const KEPT = "slopewright:language";
const LANGUAGES = ["en", "es"];

interface Planner extends HTMLElement {
  plan?: unknown;
  ready(): Promise<void>;
  kept(): Promise<void>;
}

export const planner = document.querySelector<Planner>("slopewright-planner")!;
const buttons = [...document.querySelectorAll<HTMLButtonElement>("button[data-language]")];
const places = [...document.querySelectorAll<HTMLElement>("[data-word]")];
const english = new Map(places.map((place) => [place, read(place)]));

/** The words of a place: those within it, or those it has for machines. */
function read(place: HTMLElement): string {
  return place instanceof HTMLMetaElement ? place.content : (place.getAttribute("aria-label") ?? place.textContent ?? "");
}

function write(place: HTMLElement, text: string): void {
  if (place instanceof HTMLMetaElement) place.content = text;
  else if (place.hasAttribute("aria-label")) place.setAttribute("aria-label", text);
  else place.textContent = text;
}

function chosen(): string {
  let kept: string | null = null;
  try {
    kept = localStorage.getItem(KEPT);
  } catch {
    // this browser keeps nothing
  }
  return [kept, ...navigator.languages.map((tag) => tag.slice(0, 2).toLowerCase())].find((name) => name !== null && LANGUAGES.includes(name)) ?? "en";
}

/** The answer to the first hill that was made with the page, drawn for a screen such as this. */
const solved = (name: string, language: string) => `answers/${name}-${language}-${matchMedia("(max-width: 540px)").matches ? "narrow" : "wide"}.json`;

const hill = (name: string, language: string) => `plans/${language === "en" ? "" : `${language}/`}${name}.json`;

/** Documents with the same in them, whatever the order. */
const alike = (a: unknown, b: unknown): boolean =>
  typeof a === "object" && typeof b === "object" && a !== null && b !== null
    ? Object.keys(a).length === Object.keys(b).length && Object.entries(a).every(([key, value]) => alike(value, (b as Record<string, unknown>)[key]))
    : a === b;

/** Which of the demo hills is open as it was given, if any. */
async function open(language: string): Promise<string | undefined> {
  for (const { dataset } of document.querySelectorAll<HTMLElement>("button[data-plan]")) {
    const name = /([\w-]+)\.json$/.exec(dataset.plan ?? "")?.[1];
    if (!name) continue;
    const response = await fetch(hill(name, language)).catch(() => undefined);
    if (response?.ok && alike(await response.json(), planner.plan)) return name;
  }
  return undefined;
}

let now = "en";

async function speak(language: string): Promise<void> {
  const before = now;
  now = language;
  document.documentElement.lang = language;
  for (const button of buttons) button.setAttribute("aria-pressed", String(button.dataset.language === language));
  const first = !planner.matches(":defined");
  if (first) {
    planner.setAttribute("plan", hill("gentle", language));
    planner.setAttribute("answer", solved("gentle", language));
    // On a first visit they are on their way before the planner is.
    if (!navigator.serviceWorker?.controller) for (const file of [planner.getAttribute("answer")!, planner.getAttribute("plan")!]) document.head.append(Object.assign(document.createElement("link"), { rel: "preload", as: "fetch", crossOrigin: "anonymous", href: file }));
  }
  const demo = first ? undefined : await open(before);
  let words: PageWords | undefined;
  if (language !== "en") {
    try {
      words = ((await import(new URL(`slopewright-${language}.js?${__BUILD__}`, import.meta.url).href)) as { page: PageWords }).page;
    } catch {
      // without a network, and not put aside: the page stays in English
    }
  }
  if (now !== language) return; // another was chosen meanwhile
  for (const place of places) {
    const word = place.dataset.word as keyof PageWords;
    write(place, words && Object.hasOwn(words, word) ? words[word] : english.get(place)!);
  }
  document.querySelector<HTMLLinkElement>("link[rel=manifest]")!.href = language === "en" ? "manifest.webmanifest" : `manifest.${language}.webmanifest`;
  for (const button of document.querySelectorAll<HTMLElement>("button[data-plan]")) button.dataset.plan = button.dataset.plan!.replace(/plans\/(?:\w\w\/)?/, hill("", language).replace(".json", ""));
  if (demo) planner.setAttribute("plan", hill(demo, language));
  // On the hill too.
  if (language !== "en") void navigator.serviceWorker?.ready.then((registration) => registration.active?.postMessage(language));
}

for (const button of buttons) {
  button.addEventListener("click", () => {
    try {
      localStorage.setItem(KEPT, button.dataset.language!);
    } catch {
      // it holds for this visit
    }
    void speak(button.dataset.language!);
  });
}

void speak(chosen());
