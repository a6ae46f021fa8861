// The little drawings of how a hill was measured.
import { svg } from "lit";
import type { Method } from "./book.js";

const ground = svg`<path class="ground" d="M2 43 C12 41 15 36 24 32 S38 26 44 17 S56 9 62 8"/>`;

export const glyphs: Record<Method, ReturnType<typeof svg>> = {
  total: svg`${svg`<path class="ground" d="M2 43 L62 8"/>`}<path d="M62 8 V43 H2" class="dash"/><path class="mark" d="M59 12 L62 8 L65 12 M59 39 L62 43 L65 39 M6 40 L2 43 L6 46 M58 40 L62 43 L58 46"/>`,
  string: svg`${ground}<path class="mark" d="M2 8 H62"/><path d="M2 5 V11 M14 8 V39 M26 8 V31 M38 8 V25 M50 8 V13"/><path class="mark" d="M29 5.5 h6 v3.5 h-6 z"/>`,
  rod: svg`${ground}<path class="mark" d="M14 14 H52"/><path d="M9 41 L13 17 L17 37 M13 17 V40 M9 12 h9 v5 h-9 z M52 3 V12"/><path d="M50 3 h4 v9 h-4 z M50 6 h2 M50 9 h2"/>`,
  slope: svg`<path class="ground" d="M2 43 L22 34 L40 26 L62 8"/><path class="mark" d="M3 38 L22 29.500 L39 22 L60 4.500"/><path class="dash" d="M22 34 H44"/><path d="M35 34 A13 13 0 0 0 33.500 28.800"/><circle cx="22" cy="29.500" r="1.800"/><circle cx="39" cy="22" r="1.800"/>`,
  levels: svg`${ground}<path class="dash" d="M2 46 H62"/><path d="M14 46 V39 M30 46 V30 M44 46 V17 M58 46 V8"/><circle cx="14" cy="38" r="2.200"/><circle cx="30" cy="29.500" r="2.200"/><circle cx="44" cy="17" r="2.200"/><circle cx="58" cy="8.500" r="2.200"/>`,
};
