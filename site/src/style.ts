// A field book beside a drawing. Hosts set the colours through the custom
// properties named in the first rule, and reach single parts with ::part().
import { unsafeCSS } from "lit";

export const style = unsafeCSS(/* css */ `
  :host {
    --paper: var(--slopewright-paper, #f4f2e6);
    --sheet: var(--slopewright-sheet, #fbfaf5);
    --ink: var(--slopewright-ink, #18222e);
    --soft: var(--slopewright-soft, #48545f);
    --line: var(--slopewright-line, #b4c6da);
    --firm: var(--slopewright-firm, #5f82ab);
    --pencil: var(--slopewright-pencil, #27588f);
    --red: var(--slopewright-red, #b01e2b);
    --tint: var(--slopewright-tint, #e3ebf1);
    --grid: var(--slopewright-grid, #e4eaee);
    --earth: var(--slopewright-earth, #7a6248);
    --prose: var(--slopewright-prose, "Iowan Old Style", "Palatino Linotype", Palatino, P052, Georgia, "DejaVu Serif", serif);
    --figures: var(--slopewright-figures, ui-monospace, "Cascadia Mono", Menlo, Consolas, "DejaVu Sans Mono", "Liberation Mono", monospace);
    --margin: 46px;
    --margin-lines: linear-gradient(to right, transparent 37px, var(--red) 37px, var(--red) 38px, transparent 38px, transparent 40px, var(--red) 40px, var(--red) 41px, transparent 41px);
    display: block;
    container-type: inline-size;
    color: var(--ink);
    background: var(--paper);
    font: 17px/1.5 var(--prose);
    font-variant-numeric: lining-nums tabular-nums;
    text-align: left;
    color-scheme: light;
  }
  @media screen and (prefers-color-scheme: dark) {
    :host {
      --paper: var(--slopewright-paper, #141b23);
      --sheet: var(--slopewright-sheet, #10161d);
      --ink: var(--slopewright-ink, #ece7da);
      --soft: var(--slopewright-soft, #b3bcc4);
      --line: var(--slopewright-line, #2f4459);
      --firm: var(--slopewright-firm, #6c8fb5);
      --pencil: var(--slopewright-pencil, #94c1ee);
      --red: var(--slopewright-red, #ff8f86);
      --tint: var(--slopewright-tint, #1f2c39);
      --grid: var(--slopewright-grid, #19232d);
      --earth: var(--slopewright-earth, #c2a383);
      color-scheme: dark;
    }
  }
  :host([hidden]) {
    display: none;
  }
  [data-away] {
    display: none !important;
  }
  .spread:has(> .book[data-away]) {
    grid-template-columns: minmax(0, 1fr);
  }
  button.strong {
    background: var(--pencil);
    color: var(--sheet);
    border-color: var(--pencil);
  }
  button.strong:hover:not(:disabled) {
    background: var(--ink);
  }
  button.strong:disabled {
    background: none;
    color: var(--soft);
  }
  *,
  *::before,
  *::after {
    box-sizing: border-box;
  }
  .unseen {
    position: absolute;
    width: 1px;
    height: 1px;
    overflow: hidden;
    clip-path: inset(50%);
    white-space: nowrap;
  }
  :focus-visible,
  .file:focus-within,
  :is(.methods, .switch) input:focus-visible + span {
    outline: 3px solid var(--pencil);
    outline-offset: 2px;
  }
  h2 {
    font: italic 600 19px/1.3 var(--prose);
    margin: 0 0 10px;
    break-after: avoid;
  }
  li,
  tr,
  p,
  figure {
    break-inside: avoid;
  }
  p {
    margin: 0 0 10px;
    max-width: 68ch;
    text-wrap: pretty;
  }
  .aside {
    color: var(--soft);
    font-size: 15px;
    line-height: 1.45;
  }
  small {
    display: block;
    color: var(--soft);
    font-size: 14px;
    line-height: 1.4;
  }
  button,
  input,
  select,
  summary {
    font: inherit;
    color: inherit;
  }
  button,
  .file {
    min-height: 44px;
    min-width: 44px;
    padding: 0 14px;
    border: 1px solid var(--firm);
    border-radius: 2px;
    background: none;
    color: var(--pencil);
    cursor: pointer;
    display: inline-flex;
    align-items: center;
    justify-content: center;
    font-size: 16px;
    line-height: 1.2;
  }
  button:hover:not(:disabled),
  .file:hover {
    background: var(--tint);
  }
  button:disabled,
  button[aria-disabled="true"] {
    color: var(--soft);
    border-color: var(--line);
    cursor: default;
  }
  button.plain {
    border-color: transparent;
    text-decoration: underline;
    text-decoration-color: var(--firm);
    text-underline-offset: 4px;
    padding: 0 8px;
  }
  button.plain:disabled {
    text-decoration: none;
  }

  /* The head of the sheet. */
  .head {
    display: flex;
    flex-wrap: wrap;
    align-items: center;
    gap: 6px 18px;
    padding: 10px 16px 10px var(--margin);
    border-bottom: 1px solid var(--firm);
    background: var(--paper);
  }
  .head .title {
    flex: 1 1 18em;
    min-width: 0;
  }
  /* As high as what is written in it. */
  .head .title div {
    display: grid;
    font: 600 22px/1.3 var(--prose);
  }
  .head .title div::after {
    content: attr(data-text) " ";
    visibility: hidden;
    white-space: pre-wrap;
  }
  .head .title div::after,
  .head .title textarea {
    grid-area: 1 / 1;
    overflow-wrap: anywhere;
    padding: 9px 2px;
    border: 0;
    border-bottom: 1px dashed var(--firm);
  }
  .head .title textarea {
    width: 100%;
    font: inherit;
    color: inherit;
    background: none;
    resize: none;
    overflow: hidden;
  }
  .head .title textarea::placeholder {
    color: var(--soft);
    font-weight: 400;
    font-style: italic;
    opacity: 1;
  }
  .head .switch,
  .notice p {
    margin: 0;
  }
  .acts {
    display: flex;
    flex-wrap: wrap;
    align-items: center;
    gap: 6px;
  }
  .head button[aria-expanded="true"] {
    background: var(--tint);
  }
  /* Plans and links, below the head. */
  .panel,
  .notice {
    padding: 14px 16px 14px var(--margin);
    background: var(--sheet);
    border-bottom: 1px solid var(--firm);
  }
  .panel h2 {
    outline-offset: 4px;
  }
  .panel .line {
    grid-template-columns: auto minmax(0, 1fr);
    max-width: 60em;
  }
  .kept {
    list-style: none;
    margin: 0;
    padding: 0;
    max-width: 60em;
  }
  .kept li {
    display: flex;
    flex-wrap: wrap;
    align-items: center;
    gap: 0 12px;
    border-bottom: 1px solid var(--line);
    padding: 4px 0;
    min-height: 52px;
  }
  .kept li > :first-child {
    flex: 1 12em;
    min-width: 0;
    margin-right: auto;
    overflow-wrap: anywhere;
  }
  .kept b {
    font-weight: 600;
    color: var(--ink);
  }
  .kept .plain {
    padding: 0;
  }
  .kept .name {
    justify-content: flex-start;
    text-align: left;
    display: block;
    padding: 6px 8px 6px 0;
    text-decoration: none;
  }
  .kept .name[aria-current] b {
    color: var(--pencil);
  }
  .notice {
    display: flex;
    align-items: center;
    justify-content: space-between;
    gap: 12px;
    border-left: 4px double var(--red);
  }
  .file {
    position: relative;
  }
  .file input {
    position: absolute;
    inset: -1px;
    opacity: 0;
    cursor: pointer;
    font-size: 0;
    width: calc(100% + 2px);
  }

  /* The two pages. */
  .spread {
    display: grid;
    grid-template-columns: minmax(0, 1fr);
  }
  .book {
    position: relative;
    padding: 18px 16px 0 var(--margin);
    background: var(--margin-lines), repeating-linear-gradient(var(--paper) 0 43px, var(--line) 43px 44px);
  }
  /* The rulings show where nothing is written. */
  .written {
    background: var(--margin-lines) var(--paper);
    margin: -18px -16px 0 calc(-1 * var(--margin));
    padding: 18px 16px 4px var(--margin);
  }

  .plan {
    position: relative;
    background: var(--sheet);
    padding: 18px 16px 40px;
    min-width: 0;
    border-top: 1px solid var(--firm);
  }
  section {
    margin: 0 0 26px;
    min-width: 0;
  }
  @container (min-width: 1000px) {
    .spread {
      grid-template-columns: minmax(440px, 39%) minmax(0, 1fr);
    }
    .plan {
      border-top: 0;
      border-left: 1px solid var(--firm);
      box-shadow: inset 14px 0 16px -14px color-mix(in srgb, var(--ink) 26%, transparent);
      padding: 22px 28px 28px;
    }
    .plan.below {
      grid-column: 1 / -1;
      border-left: 0;
      border-top: 1px solid var(--firm);
      box-shadow: none;
      columns: 2;
      column-gap: 56px;
      padding: 28px 28px 28px var(--margin);
    }
    .below section:has(table) {
      break-inside: avoid;
    }
    .book {
      padding-top: 22px;
      padding-right: 24px;
    }
    .book .readings {
      --w: calc(max(440px, 39cqw) - 116px);
    }
    .written {
      margin-top: -22px;
      margin-right: -24px;
      padding-top: 22px;
      padding-right: 24px;
    }
  }

  /* How it was measured. */
  fieldset {
    border: 0;
    margin: 0;
    padding: 0;
    min-width: 0;
  }
  .methods {
    display: grid;
    grid-template-columns: repeat(5, minmax(0, 1fr));
    margin: 0 0 10px -2px;
  }
  .methods label {
    display: block;
    position: relative;
    cursor: pointer;
  }
  .methods input {
    position: absolute;
    inset: 0;
    width: 100%;
    height: 100%;
    margin: 0;
    opacity: 0;
    cursor: inherit;
  }
  .methods span {
    display: block;
    text-align: center;
    font-size: 14px;
    line-height: 1.2;
    padding: 6px 2px 8px;
    color: var(--soft);
    border: 1px solid transparent;
    border-bottom: 3px solid var(--line);
    height: 100%;
  }
  .methods svg {
    display: block;
    width: 100%;
    max-width: 76px;
    margin: 0 auto 4px;
    fill: none;
    stroke: currentColor;
    stroke-width: 1.1;
    stroke-linejoin: round;
    stroke-linecap: round;
  }
  .methods svg .ground {
    stroke: var(--earth);
    stroke-width: 2.2;
  }
  .methods svg .dash {
    stroke-dasharray: 2.5 2.5;
  }
  .methods svg .mark {
    stroke: var(--pencil);
  }
  .methods label:hover span {
    background: var(--tint);
  }
  .methods input:checked + span {
    color: var(--ink);
    font-weight: 600;
    border-color: var(--firm);
    border-bottom-color: var(--pencil);
    background: var(--sheet);
  }

  .switch {
    display: flex;
    flex-wrap: wrap;
    align-items: center;
    gap: 4px 12px;
    margin: 0 0 8px;
  }
  .switch legend {
    float: left;
    padding: 0;
    color: var(--soft);
    font-size: 16px;
  }
  .switch .ways {
    display: inline-flex;
    border: 1px solid var(--firm);
    border-radius: 2px;
  }
  .switch label {
    position: relative;
  }
  .switch input {
    position: absolute;
    inset: 0;
    width: 100%;
    height: 100%;
    margin: 0;
    opacity: 0;
    cursor: pointer;
  }
  .switch label span {
    display: flex;
    align-items: center;
    min-height: 44px;
    min-width: 44px;
    padding: 0 14px;
    justify-content: center;
    color: var(--pencil);
    font-size: 16px;
  }
  .switch label + label span {
    border-left: 1px solid var(--firm);
  }
  .switch input:checked + span,
  #paper button[aria-pressed="true"] {
    background: var(--pencil);
    color: var(--sheet);
  }

  /* The readings. */
  .readings {
    /* Columns beside each other, and the room for them: a figure is 0.6 of its size wide. */
    --k: var(--c);
    --w: calc(100cqw - 108px);
    border-collapse: collapse;
    width: calc(100% + var(--margin));
    margin: 0 0 4px calc(-1 * var(--margin));
    table-layout: fixed;
  }
  .readings th,
  .readings td {
    padding: 0;
    height: 44px;
    border-bottom: 1px solid var(--line);
    font-weight: 400;
    text-align: left;
  }
  .readings thead th,
  .readings thead td {
    height: 34px;
    border-bottom: 1px solid var(--firm);
    border-top: 1px solid var(--firm);
  }
  .readings thead th:first-child,
  .readings tbody th {
    width: var(--margin);
    padding-right: 17px;
    text-align: right;
    color: var(--soft);
    font: 14px var(--figures);
  }
  .readings thead th abbr {
    display: block;
    line-height: 1.2;
    text-decoration: none;
    padding: 0 5px;
    color: var(--soft);
    font-size: 15px;
  }
  .readings td {
    border-left: 1px solid var(--line);
  }
  .readings td:first-of-type {
    border-left: 0;
  }
  .readings thead td,
  .readings td.out {
    width: 44px;
    border-left: 0;
  }
  /* Nothing around a cell is laid out anew for what is written in it. */
  .readings td input {
    display: block;
    contain: strict;
    width: 100%;
    height: 44px;
    border: 0;
    border-radius: 0;
    background: none;
    padding: 0 5px;
    font: clamp(11px, calc((var(--w) / var(--k) - 10px) / var(--n) * 1.62), 16px) var(--figures);
  }
  /* The list opens without its arrow too, which would take the room of three figures. */
  .readings input::-webkit-calendar-picker-indicator {
    display: none !important;
  }
  .readings input:focus-visible {
    outline-offset: -3px;
    background: var(--sheet);
  }
  .readings input::placeholder,
  .line input::placeholder {
    color: var(--soft);
    opacity: 0.85;
    font-style: italic;
    font-family: var(--prose);
  }
  .readings [aria-invalid="true"],
  .line [aria-invalid="true"] {
    color: var(--red);
    border-bottom: 3px double var(--red);
  }
  .readings .out button {
    border: 0;
    padding: 0;
    width: 44px;
    height: 44px;
    color: var(--soft);
  }
  .readings .out svg {
    width: 14px;
    height: 14px;
    stroke: currentColor;
    stroke-width: 1.4;
    fill: none;
  }
  /* A cell that is written anew does not have the other rows painted. */
  .readings tr {
    isolation: isolate;
  }
  .readings tr.says td {
    height: auto;
    border-left: 0;
  }
  .readings tr.says td:first-child {
    text-align: right;
    padding: 6px 17px 6px 0;
    color: var(--red);
    vertical-align: top;
  }
  .readings tr.says td .fault {
    margin: 6px 8px 8px;
  }
  .readings tr.wrong th {
    color: var(--red);
  }
  .fault {
    color: var(--red);
    font-size: 15px;
    line-height: 1.4;
    margin: 4px 0 8px;
  }
  .fault q {
    font-family: var(--figures);
    font-size: 14px;
    overflow-wrap: anywhere;
  }
  .fault.wanted,
  .choices .now {
    color: var(--pencil);
    font-style: italic;
  }
  .tools {
    display: flex;
    flex-wrap: wrap;
    gap: 4px;
    margin-left: -8px;
  }
  .keys {
    margin: 0 0 14px;
  }
  .pricelist {
    margin: 8px 0 16px;
  }
  .pricelist .acts {
    margin: 0 0 8px;
  }
  .pasted span {
    display: block;
    margin: 0 0 4px;
  }
  .pasted textarea {
    display: block;
    width: 100%;
    margin: 0 0 8px;
    padding: 8px;
    font: 16px/1.45 var(--figures);
    color: inherit;
    background: var(--paper);
    border: 1px solid var(--firm);
    border-radius: 2px;
    resize: vertical;
  }
  .pricelist .fault ul {
    margin: 0;
    padding-left: 1.2em;
  }
  .readings.rod thead abbr {
    font-size: 12.5px;
    padding: 0 3px;
  }
  @container (max-width: 559px) {
    /* Too much for one line of a phone: each row takes two. */
    .readings.tall thead {
      display: none;
    }
    .readings.tall tbody tr:not(.says) {
      display: flex;
      flex-wrap: wrap;
      position: relative;
      padding-left: var(--margin);
      border-bottom: 1px solid var(--firm);
    }
    .readings.tall tbody tr:not(.says) > * {
      height: auto;
      border-bottom: 0;
    }
    .readings.tall tbody th {
      position: absolute;
      left: 0;
      padding-top: 14px;
    }
    .readings.tall td[data-head] {
      --k: calc(var(--c) - 1);
      --w: calc(100cqw - 64px);
      flex: 1 1 20%;
      order: 2;
      position: relative;
    }
    .readings.tall td[data-head]::before {
      content: attr(data-head);
      position: absolute;
      top: 4px;
      left: 6px;
      font-size: 12px;
      line-height: 1;
      color: var(--soft);
    }
    .readings.tall td[data-head] input {
      height: 46px;
      padding-top: 14px;
    }
    .readings.tall td[data-head]:nth-child(2) {
      --k: 1;
      --w: calc(100cqw - 108px);
      flex-basis: calc(100% - 44px);
      order: 0;
    }
    .readings.rod td[data-head] {
      --k: 3;
    }
    .readings.rod td[data-head]:is(:nth-child(2), :nth-child(6)) {
      --k: 2;
      flex-basis: calc(50% - 22px);
      order: 0;
    }
    .readings.tall td:nth-child(3) {
      border-left: 0;
    }
    .readings.tall td.out {
      order: 1;
    }
    .readings.tall tr.says {
      display: grid;
      grid-template-columns: var(--margin) 1fr;
    }
  }
  /* Too many columns for any book: each cell says what it is. */
  .readings.many thead {
    display: none;
  }
  .readings.many tbody tr:not(.says) {
    display: grid;
    grid-template-columns: var(--margin) minmax(0, var(--f, 1fr)) minmax(0, 1fr) 44px;
    border-bottom: 1px solid var(--firm);
  }
  .readings.many tbody tr:not(.says) > * {
    height: auto;
    width: auto;
    border-bottom: 0;
  }
  .readings.many tbody th {
    grid-row: 1 / 9;
    padding-top: 14px;
  }
  .readings.many td[data-head] {
    --k: 2;
    position: relative;
    border-bottom: 1px dotted var(--line);
    border-left: 1px solid var(--line);
  }
  .readings.many td[data-head]::before {
    content: attr(data-head);
    position: absolute;
    top: 4px;
    left: 6px;
    font-size: 12px;
    line-height: 1;
    color: var(--soft);
  }
  .readings.many td[data-head] input {
    height: 46px;
    padding-top: 14px;
  }
  .readings.many td.out {
    grid-column: 4;
    grid-row: 1 / 9;
    align-self: center;
  }
  .readings.list {
    margin-bottom: 12px;
  }
  .readings.prices-items th:nth-child(2) {
    width: 34%;
  }
  .prices-items {
    --f: 1.5fr;
  }
  .prices-items td {
    --k: 5.1;
  }
  .prices-items td:nth-child(2) {
    --k: 2.4;
  }
  .prices-items.many td[data-head]:nth-child(2) {
    --k: 1.7;
  }

  /* A line of the form. */
  .line {
    display: grid;
    grid-template-columns: minmax(0, 1fr) minmax(0, 1fr);
    align-items: center;
    column-gap: 12px;
    border-bottom: 1px solid var(--line);
  }
  .line > p {
    grid-column: 1 / -1;
  }
  .line .ends {
    display: flex;
    gap: 12px;
  }
  .line.tick {
    grid-template-columns: minmax(0, 1fr) 44px;
  }
  .line.tick label {
    cursor: pointer;
    padding: 8px 0;
  }
  .line input[type="checkbox"] {
    height: 44px;
    width: 44px;
    margin: 0;
    padding: 0;
    border: 0;
    appearance: none;
    display: grid;
    place-content: center;
    cursor: pointer;
  }
  .line input[type="checkbox"]::before {
    content: "";
    width: 20px;
    height: 20px;
    border: 1.5px solid var(--firm);
    border-radius: 2px;
    background: var(--sheet);
    font: 700 17px/18px var(--prose);
    text-align: center;
    color: var(--sheet);
  }
  .line input[type="checkbox"]:checked::before {
    content: "✓";
    background: var(--pencil);
    border-color: var(--pencil);
  }
  .line.choice {
    grid-template-columns: minmax(0, 7fr) minmax(0, 13fr);
  }
  .line input,
  .line select {
    width: 100%;
    min-width: 0;
    height: 44px;
    border: 0;
    border-radius: 0;
    background: none;
    padding: 0 8px;
    font: 16px var(--figures);
  }
  .line input,
  .readings td input {
    text-overflow: ellipsis;
  }
  .line select {
    font: 16px var(--prose);
    cursor: pointer;
    text-overflow: ellipsis;
    padding: 0 4px;
    color: var(--pencil);
  }
  .line select:disabled {
    opacity: 1;
  }
  option {
    color: var(--ink);
    background: var(--sheet);
  }
  .line input {
    border-bottom: 1px solid var(--firm);
  }
  .line :focus-visible {
    background: var(--sheet);
    outline-offset: -1px;
  }
  @container (max-width: 559px) {
    .line.choice {
      grid-template-columns: minmax(0, 1fr);
      padding-top: 8px;
    }
    .line.choice select {
      padding: 0;
    }
  }
  datalist,
  details[open] > summary small {
    display: none;
  }
  details {
    border-bottom: 1px solid var(--line);
  }
  summary {
    min-height: 44px;
    display: flex;
    align-items: center;
    cursor: pointer;
    color: var(--pencil);
    list-style: none;
  }
  summary b {
    font-weight: 400;
    text-decoration: underline;
    text-decoration-color: var(--firm);
    text-underline-offset: 4px;
  }
  summary::-webkit-details-marker {
    display: none;
  }
  summary::before {
    content: "+";
    font-family: var(--figures);
    flex: none;
    width: 20px;
    align-self: start;
    padding-top: 9px;
  }
  details[open] > summary::before {
    content: "−";
  }
  summary > span {
    min-width: 0;
    padding: 6px 0;
  }
  summary small {
    display: -webkit-box;
    -webkit-box-orient: vertical;
    -webkit-line-clamp: 3;
    overflow: hidden;
    overflow-wrap: anywhere;
  }
  details[open] {
    padding-bottom: 10px;
  }
  details > p:last-child {
    margin: 8px 0 4px;
  }
  details > .line:last-child {
    border-bottom: 0;
  }
  .panel .acts,
  .line + .aside,
  .line + .list,
  .list + .aside {
    margin-top: 12px;
  }
  .line > label,
  .line > span:first-child {
    line-height: 1.3;
    padding: 4px 0;
  }

  /* What follows from the readings. */
  .stale,
  .was,
  .moving > .below,
  .moving :is(#stakeout, .checks, .beside) {
    opacity: 0.82;
    filter: grayscale(1);
  }
  .live {
    transition: opacity 0.12s 0.15s, filter 0s 0.2s;
  }
  @media (prefers-reduced-motion: reduce) {
    .live {
      transition: none;
    }
  }
  .first {
    font-size: clamp(21px, 2.6cqi, 29px);
    line-height: 1.28;
    margin: 0 0 14px;
    max-width: 34em;
    text-wrap: balance;
  }
  .first span {
    display: block;
    font-size: 17px;
    line-height: 1.5;
    margin-top: 8px;
    max-width: 68ch;
    text-wrap: pretty;
  }
  .quote {
    margin-bottom: 26px;
  }
  .sentences {
    list-style: none;
    margin: 0 0 26px;
    padding: 0;
    max-width: 72ch;
  }
  .sentences li {
    padding: 5px 0 5px 20px;
    position: relative;
  }
  .sentences li::before {
    content: "";
    position: absolute;
    left: 0;
    top: 1.1em;
    width: 10px;
    border-top: 1.5px solid var(--firm);
  }
  figure {
    margin: 0 0 18px;
  }
  figure .paper {
    position: relative;
    border: 1px solid var(--firm);
    background-color: var(--sheet);
    background-image: linear-gradient(var(--grid) 1px, transparent 1px), linear-gradient(90deg, var(--grid) 1px, transparent 1px);
    background-size: 12px 12px;
    min-height: 180px;
  }
  figure svg {
    display: block;
    width: 100%;
    height: auto;
  }
  .grips {
    position: absolute;
    inset: 0;
    height: 100%;
    overflow: visible;
    pointer-events: none;
    user-select: none;
    /* Of the layer: a finger on a group within it would scroll the page all the same. */
    touch-action: none;
    /* What follows the pointer is painted without the drawing under it. */
    will-change: transform;
  }
  .spread:not(.moving) .of-before {
    display: none;
  }
  /* It stands below the drawing, and stays in sight with what is seen of that. */
  .unfit {
    position: sticky;
    bottom: 0;
    margin: 0;
    max-width: none;
    padding: 4px 10px 0;
    background: var(--sheet);
    border-bottom: 4px double;
    pointer-events: none;
  }
  .peek span,
  .unfit > span {
    display: -webkit-box;
    -webkit-box-orient: vertical;
    -webkit-line-clamp: 4;
    overflow: hidden;
  }
  .grip {
    pointer-events: auto;
    cursor: move;
    outline: none;
  }
  .grip.step {
    cursor: ew-resize;
  }
  .follows {
    fill: none;
    stroke: var(--earth);
    stroke-width: 2;
  }
  .reach {
    fill: transparent;
  }
  .grip .face {
    fill: var(--sheet);
    stroke: var(--pencil);
    stroke-width: 1.8;
  }
  .grip .lead {
    stroke: var(--pencil);
    stroke-width: 1;
    stroke-dasharray: 2 3;
  }
  .grip:hover .face,
  .grip.held .face {
    fill: var(--pencil);
  }
  .grip:focus-visible .reach {
    stroke: var(--pencil);
    stroke-width: 3;
  }
  .griptools {
    margin-top: 4px;
  }
  .griptools button,
  .own button {
    padding: 0;
  }
  figure text {
    font-family: var(--prose);
  }
  figure .sw-ground {
    color: var(--earth);
    stroke: var(--earth);
    stroke-width: 2.2;
  }
  figure .sw-steps {
    stroke-width: 2;
  }
  figure .sw-cut-hatch,
  figure .sw-deepest {
    stroke: var(--red);
  }
  figure .sw-cut-tint,
  figure .sw-deepest-text {
    fill: var(--red);
  }
  figure .sw-fill-hatch {
    stroke: var(--pencil);
  }
  figure .sw-fill-tint {
    fill: var(--pencil);
  }
  figure .sw-string,
  figure .sw-drop {
    stroke: var(--pencil);
  }
  /* To choose between. */
  .choices {
    display: grid;
    gap: 12px 28px;
  }
  .choices ol {
    list-style: none;
    counter-reset: choice;
    margin: 0;
    padding: 0;
    max-width: 76ch;
  }
  .choices li {
    counter-increment: choice;
    display: grid;
    grid-template-columns: 38px minmax(0, 1fr);
    padding: 10px 10px 10px 9px;
    border-bottom: 1px solid var(--line);
  }
  .choices li::before {
    content: counter(choice);
    width: 26px;
    height: 26px;
    border: 1.5px solid var(--firm);
    border-radius: 50%;
    font: 14px/23px var(--figures);
    text-align: center;
  }
  .choices li > * {
    grid-column: 2;
    justify-self: start;
    margin: 0;
  }
  .choices li > button {
    margin-top: 8px;
  }
  @container (min-width: 700px) {
    .choices li {
      grid-template-columns: 38px minmax(0, 1fr) auto;
      column-gap: 0;
    }
    .choices li > button {
      grid-column: 3;
      grid-row: 1;
      align-self: start;
      margin: 0 0 0 18px;
    }
  }
  .choices li.picked {
    border-left: 3px solid var(--pencil);
    padding-left: 6px;
    background: var(--tint);
  }
  .choices li.taken::before {
    background: var(--pencil);
    border-color: var(--pencil);
    color: var(--sheet);
  }
  .own {
    margin: 10px 0 0;
  }
  .plot {
    display: block;
    width: 100%;
    max-width: 560px;
    height: auto;
    font-size: 14px;
  }
  .plot text {
    fill: var(--soft);
    font-family: var(--figures);
    font-size: 13px;
  }
  .plot .name {
    font-family: var(--prose);
    font-size: 15px;
    font-style: italic;
  }
  .plot path {
    fill: none;
    stroke: var(--grid);
  }
  .plot .axes {
    stroke: var(--firm);
  }
  .plot .lead {
    stroke: var(--firm);
  }
  .plot .dot {
    fill: var(--ink);
  }
  .plot .face {
    fill: var(--sheet);
    stroke: var(--pencil);
    stroke-width: 1.5;
  }
  .plot .point {
    cursor: pointer;
    outline: none;
  }
  .plot .point text {
    fill: var(--pencil);
    font-size: 14px;
  }
  .plot .point:hover .face {
    fill: var(--tint);
  }
  .plot .point.taken .face,
  .plot .point[aria-pressed="true"] .face {
    fill: var(--pencil);
  }
  .plot .point.taken text,
  .plot .point[aria-pressed="true"] text {
    fill: var(--sheet);
  }
  .plot .point[aria-pressed="true"] .reach {
    stroke: var(--pencil);
    stroke-dasharray: 3 3;
  }
  .plot .point:focus-visible {
    outline: 3px solid var(--pencil);
    outline-offset: -5px;
  }
  #choices .loading {
    display: flex;
    flex-wrap: wrap;
    align-items: center;
    gap: 8px 18px;
  }

  .frame {
    position: relative;
    overflow-x: auto;
    margin: 0 0 14px;
  }
  .plan table {
    border-collapse: separate;
    border-spacing: 0;
    width: 100%;
    font-size: 16px;
    line-height: 1.35;
  }
  .plan th,
  .plan td {
    text-align: left;
    vertical-align: baseline;
    padding: 7px 10px;
    border-bottom: 1px solid var(--line);
    font-weight: 400;
  }
  .plan thead th {
    color: var(--soft);
    font-size: 15px;
    border-bottom-color: var(--firm);
    border-top: 1px solid var(--firm);
    vertical-align: bottom;
  }
  .plan .n {
    text-align: right;
    font-family: var(--figures);
    font-size: 14px;
    white-space: nowrap;
    padding-left: 4px;
    padding-right: 6px;
  }
  .plan thead .n {
    font-family: inherit;
    white-space: normal;
    min-width: 4em;
  }
  .plan td:not(.n) {
    min-width: 5.4em;
  }
  #takeoff td {
    text-wrap-style: balance;
    min-width: 7em;
  }
  #earth td:last-child {
    white-space: nowrap;
  }
  .plan th:first-child,
  .plan td:first-child {
    padding-left: 2px;
  }
  .plan tfoot th,
  .plan tfoot td {
    border-bottom: 0;
    font-weight: 600;
  }
  .plan tfoot tr:not(:last-child) > * {
    font-weight: 400;
  }
  .plan tfoot tr:first-child > * {
    border-top: 1px solid var(--ink);
  }
  #stakeout {
    container-type: inline-size;
  }
  #stakeout .n {
    font-size: 13px;
    padding-left: 3px;
    padding-right: 3px;
  }
  #stakeout thead .n {
    font-size: 14px;
  }
  @container (max-width: 559px) {
    #stakeout table:not(.long) .n {
      min-width: 0;
      padding: 7px 2px 7px 1px;
      font-size: clamp(11.8px, 3.7cqw, 13px);
    }
    #stakeout tr > :first-child {
      min-width: 0;
      padding-right: 4px;
    }
    .plan table {
      font-size: 15px;
    }
    .plan :is(th, td) {
      padding-left: 4px;
      padding-right: 4px;
      hyphens: auto;
    }
    .plan td:not(.n) {
      min-width: 0;
    }
    .plan .n {
      font-size: 13px;
    }
    #earth .n {
      white-space: normal;
    }
    .head .acts {
      gap: 4px;
    }
    .head .acts button {
      padding: 0 2px;
      flex: 1 1 30%;
      font-size: 15px;
    }
    .head .acts span {
      flex: 1 1 100%;
    }
    :is(#bill, #pins) thead .n {
      min-width: 0;
      overflow-wrap: anywhere;
    }
    #pins small {
      white-space: normal;
    }
  }
  @container (max-width: 690px) {
    /* Feet, inches and sixteenths: a mark takes a line for each of its measures. */
    #stakeout .long thead {
      display: none;
    }
    #stakeout .long tr {
      display: grid;
      grid-template-columns: 34px minmax(0, 340px);
      padding: 7px 0;
      border-bottom: 1px solid var(--line);
    }
    #stakeout .long tr > * {
      border: 0;
      padding: 0;
      font-size: 14.5px;
      line-height: 1.6;
    }
    #stakeout .long th {
      grid-row: 1 / 6;
      text-align: left;
    }
    #stakeout .long td {
      display: flex;
      justify-content: space-between;
      gap: 8px;
    }
    #stakeout .long td::before {
      content: attr(data-head);
      font: 14px/1.6 var(--prose);
      color: var(--soft);
      text-align: left;
      white-space: normal;
    }
  }
  #stakeout tbody th {
    font: 14px var(--figures);
    text-align: right;
    padding-right: 10px;
    position: sticky;
    left: 0;
    background: var(--sheet);
  }
  #stakeout thead th:first-child {
    min-width: 2.2em;
    position: sticky;
    left: 0;
    background: var(--sheet);
  }
  #stakeout tbody tr:nth-child(5n) > * {
    border-bottom-color: var(--firm);
  }
  .checks,
  .findings,
  .cautions {
    list-style: none;
    margin: 0 0 14px;
    padding: 0;
  }
  .checks {
    margin: 14px 0 0;
  }
  .checks li {
    padding: 3px 0;
    position: relative;
    font-size: 15px;
    line-height: 1.45;
    color: var(--soft);
  }
  .checks li::before {
    position: absolute;
    right: calc(100% + 16px);
  }
  .checks .good::before {
    content: "✓";
    color: var(--pencil);
  }
  .checks .bad,
  .checks .bad::before {
    color: var(--red);
  }
  .checks .bad::before {
    content: "✗";
  }
  .findings li {
    display: grid;
    grid-template-columns: 82px minmax(0, 1fr);
    padding: 8px 0;
    border-bottom: 1px solid var(--line);
  }
  .findings p,
  .cautions li {
    max-width: 68ch;
    margin: 0;
  }
  .findings .mark {
    display: inline-block;
    width: 20px;
    font-family: var(--figures);
  }
  .findings .stop b,
  .findings .warn b {
    color: var(--red);
  }
  .findings .note b {
    font-weight: 400;
    color: var(--soft);
  }
  .cautions {
    border-left: 4px double var(--red);
    padding-left: 16px;
  }
  .cautions li {
    padding: 5px 0;
  }
  .boards {
    margin: 0 0 10px;
    padding-left: 2.2em;
    max-width: 76ch;
  }
  .boards li {
    padding: 4px 0;
  }
  .order,
  .minded {
    margin: 0 0 14px;
    padding-left: 2.2em;
  }
  .minded {
    padding-left: 1.2em;
  }
  .order li,
  .minded li {
    padding: 3px 0;
    max-width: 68ch;
  }
  .order li::marker,
  .boards li::marker {
    color: var(--soft);
    font-family: var(--figures);
    font-size: 14px;
  }
  /* On a narrow page the answer lies below the book: its first sentence stays in view. On a wide one it does where it is scrolled away. */
  .peek {
    position: sticky;
    bottom: 0;
    z-index: 1;
    display: flex;
    width: calc(100% + var(--margin) + 16px);
    margin: 0 -16px 0 calc(-1 * var(--margin));
    padding: 8px 16px;
    text-align: left;
    justify-content: flex-start;
    background: var(--sheet);
    color: var(--ink);
    border: 0;
    border-top: 1px solid var(--firm);
    font-size: 15px;
    line-height: 1.35;
  }
  .peek.fault {
    color: var(--red);
  }
  .peek::after {
    content: "↓";
    margin-left: auto;
    padding-left: 12px;
    color: var(--pencil);
  }
  .written :is(input, select, textarea, summary, button) {
    scroll-margin-block: 24px 100px;
  }
  .first,
  .plan > :is(.trouble, .held) {
    scroll-margin-top: 18px;
  }
  @container (min-width: 1000px) {
    p.end {
      padding-left: var(--margin);
    }
    .book {
      display: flex;
      flex-direction: column;
    }
    .peek {
      width: auto;
      margin: auto -24px 0 calc(-1 * var(--margin));
      padding-left: var(--margin);
    }
    .peek::after {
      content: "↑";
    }
    .spread:not([data-low]) .peek {
      display: none;
    }
  }
  /* Where the window is very low, a line of it. */
  @media (max-height: 300px) {
    .peek span {
      -webkit-line-clamp: 1;
    }
  }
  .trouble {
    border: 2px solid var(--red);
    padding: 12px 16px;
    margin: 0 0 18px;
  }
  .trouble p:last-child,
  .trouble ul:last-child {
    margin-bottom: 0;
  }
  .held {
    border-left: 4px double var(--red);
    padding: 2px 0 2px 14px;
    margin: 0 0 18px;
  }
  .held.wanting {
    border-left-color: var(--pencil);
  }
  .held ul {
    list-style: none;
    padding: 0;
    margin: 0;
  }
  .held li button {
    display: block;
    text-align: left;
    line-height: 1.4;
    padding: 6px 0;
    text-decoration: none;
    color: var(--ink);
  }
  .held u {
    color: var(--red);
    text-decoration-color: var(--firm);
    text-underline-offset: 4px;
  }
  .held.wanting u {
    color: var(--pencil);
  }
  .slow {
    position: absolute;
    top: 0;
    right: 16px;
    color: var(--pencil);
    font-size: 15px;
    font-style: italic;
  }
  /* Plans side by side. */
  .plan .beside {
    table-layout: fixed;
  }
  .beside tr > :nth-child(3)::before {
    content: "① ";
  }
  .beside tr > :nth-child(4)::before {
    content: "② ";
  }
  .plan .beside td,
  .plan .beside thead th {
    min-width: 0;
    vertical-align: top;
    white-space: normal;
    overflow-wrap: anywhere;
  }
  .plan .beside thead td {
    width: 5.6em;
    border-top: 1px solid var(--firm);
    border-bottom-color: var(--firm);
  }
  .plan .beside thead th {
    color: var(--ink);
  }
  .plan .beside tbody th {
    color: var(--soft);
    font-size: 15px;
  }
  @container (max-width: 559px) {
    /* No room beside each other: what is said of one thing stands below its name. */
    .plan .beside :is(thead, tbody, tr, th, td) {
      display: block;
      width: auto;
      border: 0;
    }
    .plan .beside tr {
      border-bottom: 1px solid var(--firm);
    }
    .plan .beside tbody th {
      font-weight: 600;
      padding-bottom: 0;
    }
    .plan .beside td:empty {
      display: none;
    }
  }
  .beside .acts {
    display: block;
    margin-left: -8px;
  }
  .beside button {
    text-align: left;
  }
  .beside .same {
    color: var(--soft);
    font-style: italic;
  }
  /* Sheets, drawings, tables. */
  .papers {
    grid-column: 1 / -1;
    padding-bottom: 24px;
  }
  #paper .row {
    display: flex;
    flex-wrap: wrap;
    align-items: center;
    gap: 6px;
    padding: 8px 0 8px 88px;
    border-bottom: 1px solid var(--line);
  }
  #paper .row > span {
    flex: 0 0 82px;
    margin-left: -88px;
    color: var(--soft);
    font-size: 15px;
  }
  #paper .pick {
    margin-left: auto;
    color: var(--soft);
    font-size: 15px;
  }
  #paper select {
    min-height: 44px;
    border: 0;
    border-bottom: 1px solid var(--firm);
    background: none;
    color: var(--pencil);
    padding: 0 6px;
  }
  div.taken {
    margin-top: 16px;
  }
  .taken .acts {
    margin-bottom: 10px;
  }
  .taken iframe {
    display: block;
    width: 100%;
    height: min(82vh, 1100px);
    padding: 12px;
    border: 1px solid var(--firm);
    background: #fff;
  }
  .taken figure .paper {
    overflow: auto;
    min-height: 0;
  }
  .taken figure svg {
    width: auto;
    max-width: none;
    margin: 0 auto;
  }
  @container (min-width: 1000px) {
    .papers {
      border-left: 0;
      border-top: 1px solid var(--firm);
      box-shadow: none;
      padding-left: var(--margin);
    }
  }
  @container (max-width: 559px) {
    #paper .row {
      padding-left: 0;
    }
    #paper .row > span {
      flex-basis: 100%;
      margin: 0;
    }
    #paper .pick {
      margin-left: 0;
    }
  }
  @media print {
    :host {
      --paper: #fff;
      --sheet: #fff;
      --ink: #000;
      color-scheme: light;
    }
    .head .acts,
    .head .switch,
    .panel,
    .notice,
    .peek,
    button,
    .griptools,
    .grips,
    .keys,
    .papers,
    .pricelist,
    .quote,
    #choices:not(:has(.choices)),
    #pins:not(:has(.beside)),
    .readings :is(.out, thead td),
    .readings tbody tr:has(> .out:empty),
    .methods label:has(input:not(:checked)),
    .switch label:has(input:not(:checked)),
    details:not([open]) {
      display: none;
    }
    .plan.below {
      columns: auto;
    }
    /* What is carried to the hill comes first: what is to be built, and where. What it follows from comes after it. */
    .spread {
      display: flex;
      flex-direction: column;
    }
    .book {
      order: 1;
    }
    .end {
      order: 2;
    }
    /* As large as it was drawn, on whatever screen; where it does not fit in the rest of a page the text goes on there. */
    figure svg {
      width: auto;
      max-width: 100%;
    }
    figure {
      float: left;
      width: 100%;
    }
    .sentences li {
      margin-left: 20px;
      padding-left: 0;
      list-style: "–  ";
    }
    .sentences li::before {
      content: none;
    }
    .book,
    .written {
      background: none;
    }
    .plan,
    p.end {
      padding: 14px 0 0;
    }
    #stakeout p,
    tr:nth-child(-n + 2) {
      break-after: avoid;
    }
    tr:nth-last-child(-n + 2),
    .end {
      break-before: avoid;
    }
    section:has(table) {
      break-inside: auto !important;
    }
    /* A total stands once, under all that it is of. */
    tfoot {
      display: table-row-group;
    }
    .frame {
      overflow: visible;
    }
    .readings :is(td, th, input) {
      height: 30px !important;
    }
    select {
      appearance: none;
    }
    .switch input:checked + span,
    .choices li.taken::before {
      background: none;
      color: inherit;
      min-height: 0;
    }
  }
  .loading {
    margin: 0 0 18px;
    color: var(--soft);
  }
  /* The answer is here already: the calculator comes without a word. */
  .loading.aside-bar {
    position: absolute;
    inset: 0 0 auto;
    margin: 0;
    font-size: 0;
    line-height: 0;
  }
  .aside-bar progress {
    width: 100%;
    height: 3px;
    border: 0;
    background: none;
  }
  .rough {
    margin-top: 14px;
    color: var(--ink);
    font-size: 21px;
    line-height: 1.35;
  }
  progress {
    display: block;
    width: min(100%, 420px);
    height: 12px;
    accent-color: var(--pencil);
  }
  .end {
    padding: 14px 16px 10px;
    margin: 0;
    max-width: none;
    grid-column: 1 / -1;
    background: var(--sheet);
    color: var(--soft);
    font-size: 14px;
  }
  @media (forced-colors: active) {
    button[aria-disabled="true"] {
      color: GrayText;
    }
    button.plain {
      border: 0;
    }
    .methods input:checked + span {
      outline: 3px solid Highlight;
      outline-offset: -3px;
    }
    .switch input:checked + span,
    #paper button[aria-pressed="true"] {
      forced-color-adjust: none;
      background: SelectedItem;
      color: SelectedItemText;
    }
  }
`);
