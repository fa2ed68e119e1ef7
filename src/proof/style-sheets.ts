import type { Inks } from '../layout/layout.js';
import { hexOf } from '../print/inks.js';

/** Sizes of the leaves on screen and on paper; one for each layout. */
export const pageSheet = ({
  page,
}: {
  readonly page: { readonly width: number; readonly height: number };
}): string => `
@page { size: ${page.width}mm ${page.height}mm; margin: 0; }
:root { --leaf-width: ${page.width}mm; --leaf-height: ${page.height}mm; --leaf-shape: ${page.width} / ${page.height}; }
`;

/**
 * The proof's own look, that of a map's margin: one ink and its tint on paper, hairlines, a neat line
 * round the sheet, the figures large.
 */
export const proofSheet = (inks: Inks): string => `
@font-face { font-family: 'Runnel Text'; src: url('/fonts/text.ttf'); font-weight: 400; }
@font-face { font-family: 'Runnel Text'; src: url('/fonts/text-bold.ttf'); font-weight: 600; }
@font-face { font-family: 'Runnel Text'; src: url('/fonts/text-italic.ttf'); font-style: italic; }
@font-face { font-family: 'Runnel Title'; src: url('/fonts/title.ttf'); font-weight: 500; }
@font-face { font-family: 'Runnel Title'; src: url('/fonts/title-bold.ttf'); font-weight: 700; }
:root {
  --ink: ${hexOf({ ink: 'dark', tone: 0.92 }, inks)};
  --tint: ${hexOf({ ink: 'tint', tone: 1 }, inks)};
  --wash: ${hexOf({ ink: 'tint', tone: 0.12 }, inks)};
  --hair: 0.75px solid var(--ink);
  --pen: 1;
}
.large { --pen: 0.55; }
* { box-sizing: border-box; font-variant-numeric: tabular-nums lining-nums !important; }
html { height: 100%; }
body {
  margin: 0; min-height: 100%; color: var(--ink); background: var(--wash);
  font: 400 16px/1.35 'Runnel Text', sans-serif;
}
.proof {
  display: grid; min-height: 100vh; padding: 10px;
  grid-template: 'head head head' auto 'register leaves putt' 1fr / 3.1rem minmax(0, 1fr) 17.5rem;
}
/* A neat line: a heavy rule and a hairline inside it. */
.proof::before {
  content: ''; position: fixed; inset: 5px; border: 2px solid var(--ink); outline: 0.75px solid var(--ink);
  outline-offset: -6px; pointer-events: none; z-index: 2;
}
.cartouche {
  grid-area: head; display: flex; flex-wrap: wrap; align-items: baseline; gap: 0.2rem 1.6rem;
  padding: 0.55rem 1.1rem 0.5rem; border-bottom: var(--hair);
}
h1 { margin: 0; font: 700 1.75rem/1 'Runnel Title', serif; }
.state, .links { margin: 0; }
.state { font-style: italic; }
.links { margin-left: auto; }
a { color: inherit; text-decoration-thickness: 0.75px; text-underline-offset: 0.18em; }
a:hover { text-decoration-thickness: 2px; }
.chooser { display: flex; flex-wrap: wrap; align-items: baseline; gap: 0.2rem 1.2rem; }
select, input:not([type='radio']), button {
  font: inherit; font-weight: 600; color: inherit; background: none; border: 0; border-radius: 0;
  border-bottom: 1.5px solid var(--ink); padding: 0.1rem 0.2rem;
}
input::placeholder { color: var(--ink); opacity: 0.6; font-weight: 400; }
button { border: 1.5px solid var(--ink); padding: 0.1rem 0.7rem; cursor: pointer; }
button:hover, button:active { background: var(--ink); color: #fff; }
:focus-visible { outline: 2.5px solid var(--ink); outline-offset: 3px; }
.skip { position: absolute; left: -99rem; }
.skip:focus { left: 1rem; top: 1rem; z-index: 3; background: #fff; padding: 0.3rem 0.6rem; }
.register { grid-area: register; border-right: var(--hair); }
.register ol { list-style: none; margin: 0; padding: 0; position: sticky; top: 10px; }
.register a {
  display: block; padding: 0.08rem 0; margin-left: 4px; text-align: center; text-decoration: none;
  font: 700 1.12rem/1.5 'Runnel Title', serif; border-bottom: var(--hair);
}
.register a:hover { background: #fff; }
.register a[aria-current] { background: var(--ink); color: #fff; }
.register a:focus-visible { outline-offset: -4px; outline-color: currentColor; }
main { grid-area: leaves; outline: none; }
.proof main { display: flex; flex-wrap: wrap; justify-content: center; align-content: flex-start; gap: 1.1rem; padding: 1.1rem; }
.leaf { margin: 0; }
.proof .leaf { --leaf-high: max(min(calc(100vh - 8.2rem), calc(var(--leaf-height) * 1.75)), 26rem); height: auto; max-width: 100%; }
.proof .leaf[data-kind='green'] { order: -1; }
.paper { position: relative; background: #fff; border: var(--hair); }
/* By its width, so that a page is whole on a narrow screen, too. */
.proof .paper { width: calc(var(--leaf-high) * var(--leaf-shape)); aspect-ratio: var(--leaf-shape); max-width: 100%; }
.large .leaf[data-kind='green'] .paper { width: calc(max(190vh, 60rem) * var(--leaf-shape)); max-width: none; }
.large .leaf[data-kind='green'] { overflow: auto; }
.waits { margin: 0; padding: 2rem; font-style: italic; }
.paper > svg { display: block; width: 100%; height: 100%; }
/* A finger on bare ground moves the window; a tap sets, and what is taken hold of follows. */
.overlay { position: absolute; inset: 0; touch-action: pan-y pinch-zoom; }
figcaption { font-style: italic; font-size: 0.85rem; padding-top: 0.15rem; }
.ground { fill: transparent; cursor: crosshair; }
.movable { cursor: move; outline: none; touch-action: none; }
.movable .grip { fill: transparent; }
.movable .focus { fill: none; stroke: none; }
.movable .focus { r: calc(3px * var(--pen)); }
.movable:focus-visible .focus { stroke: var(--ink); stroke-width: calc(0.7px * var(--pen)); }
.movable:hover .focus { stroke: var(--ink); stroke-width: calc(0.3px * var(--pen)); }
.rim { r: calc(1.3px * var(--pen)); fill: #fff; stroke: var(--ink); stroke-width: calc(0.45px * var(--pen)); }
.cup { r: calc(0.55px * var(--pen)); fill: var(--ink); }
.ball-mark { r: calc(1.05px * var(--pen)); fill: #fff; stroke: var(--ink); stroke-width: calc(0.5px * var(--pen)); }
.putt-lines { fill: none; stroke: var(--ink); stroke-linecap: round; stroke-linejoin: round; pointer-events: none; }
.casing { stroke: #fff; stroke-width: calc(1.7px * var(--pen)); }
.path { stroke-width: calc(0.75px * var(--pen)); }
.aim-line { stroke-width: calc(0.32px * var(--pen)); stroke-dasharray: 1.2 0.8; stroke-linecap: butt; }
.aim-mark { stroke-width: calc(0.5px * var(--pen)); }
.aim-mark[hidden] { display: none; }
.water { fill: none; stroke: var(--tint); stroke-linecap: round; pointer-events: none; }
.stream { stroke: var(--ink); opacity: 0.85; }
.stream.frayed { stroke: var(--tint); }
.strand { stroke: var(--ink); stroke-width: 0.15px; stroke-dasharray: 0.9 0.5; }
.met { fill: var(--ink); stroke: #fff; stroke-width: 0.8px; paint-order: stroke; font: 600 2.7px 'Runnel Text', sans-serif; }
.spout-mark { fill: none; stroke: var(--ink); stroke-width: calc(0.45px * var(--pen)); }
.lying { fill: #fff; stroke: var(--ink); stroke-width: calc(0.3px * var(--pen)); pointer-events: none; }
.lying circle { r: calc(0.8px * var(--pen)); }
.lying path { fill: none; stroke-dasharray: 0.5 0.6; }
.station { stroke: #fff; stroke-width: calc(0.2px * var(--pen)); pointer-events: none; }
.tee { r: calc(0.45px * var(--pen)); fill: var(--ink); }
.marker { r: calc(0.4px * var(--pen)); fill: var(--tint); }
.rest-mark { fill: none; stroke: var(--ink); stroke-width: calc(0.5px * var(--pen)); }
.movable.spout, .movable.rest, .rolls { display: none; }
.resting .movable.rest { display: inline; }
.resting .rolls { display: block; }
.pouring .movable.spout { display: inline; }
.water-rows { list-style: none; margin: 0 0 0.7rem; padding: 0; font-size: 0.85rem; white-space: pre-wrap; }
.proof main { border-right: var(--hair); }
.putt { grid-area: putt; padding: 0.9rem 1.1rem; }
.putt { position: sticky; top: 10px; align-self: start; }
.enlarge { margin: 0 0 0.8rem; }
[aria-pressed='true'] { background: var(--ink); color: #fff; }
h2 { margin: 0 0 0.5rem; font: 700 1.35rem/1 'Runnel Title', serif; }
fieldset { border: 0; margin: 0 0 0.7rem; padding: 0; }
legend { font-style: italic; padding: 0; }
fieldset label { display: inline-block; margin-right: 0.9rem; padding: 0.15rem 0; }
input[type='radio'] { appearance: none; width: 0.85em; height: 0.85em; margin: 0 0.25em 0 0; border: 1.5px solid var(--ink); border-radius: 50%; vertical-align: -0.08em; }
input[type='radio']:checked { background: radial-gradient(var(--ink) 45%, transparent 50%); }
dl { margin: 0; }
dl > div { display: flex; align-items: baseline; justify-content: space-between; gap: 0.8rem; border-top: var(--hair); padding: 0.2rem 0; }
dd { margin: 0; text-align: right; }
dt { font-style: italic; }
.figures dd { font: 700 2rem/1.15 'Runnel Title', serif; }
.facts { border-bottom: var(--hair); margin-bottom: 0.7rem; }
.figures + .facts { border-bottom: 0; margin-bottom: 0; }
.said { font-weight: 600; min-height: 1.35em; margin: 0.4rem 0; }
.keys { font-size: 0.85rem; margin: 0.6rem 0 0; }
kbd { font: inherit; font-weight: 600; border-bottom: 1.5px solid var(--ink); padding: 0 0.15em; }
.plain main { display: flex; flex-wrap: wrap; gap: 1.1rem; padding: 1.1rem; justify-content: safe center; }
.plain .paper { width: var(--leaf-width); height: var(--leaf-height); }
/* The whole course fills the window; in a narrow one it stays large enough to read and is moved sideways. */
@media screen {
  .plain .leaf[data-kind='course'] { width: 100%; overflow-x: auto; }
  .plain .leaf[data-kind='course'] .paper { width: max(100%, 76rem); height: auto; aspect-ratio: var(--leaf-shape); }
}
/* One below the other: the page that a putt or a place is set on, what is told of it, then the other pages. */
@media screen and (max-width: 60rem) {
  .proof { display: flex; flex-direction: column; }
  .proof main { display: contents; }
  .proof .leaf { order: 3; padding: 1.1rem 0 0; max-width: 100%; align-self: center; }
  .proof .leaf[data-kind='green'], .proof main:not(:has([data-kind='green'])) .leaf:has(.overlay) { order: 1; }
  .putt { order: 2; }
  .putt [data-shows='said'], .putt:not(:has([data-shows='said'])) [data-shows='place'] {
    position: fixed; inset: auto 8px 8px; z-index: 1; margin: 0; padding: 0.45rem 1.1rem; background: #fff; border-top: var(--hair);
  }
  .proof { padding-bottom: 3.4rem; }
  .register { border: 0; border-bottom: var(--hair); }
  .register ol { display: flex; flex-wrap: wrap; }
  .register a { min-width: 2.2rem; margin: 0; }
  .putt { position: static; border: 0; border-bottom: var(--hair); }
  .figures { display: grid; grid-template-columns: 1fr 1fr; gap: 0 1.5rem; }
}
@media print {
  html, body, .proof, main, .proof main, .plain main { display: block; margin: 0; padding: 0; background: none; min-height: 0; height: auto; }
  .proof::before, .cartouche, .register, .putt, .skip, figcaption, .overlay { display: none !important; }
  .leaf { break-after: page; break-inside: avoid; }
  .leaf:last-child { break-after: auto; }
  .proof .paper, .plain .paper { width: var(--leaf-width); height: var(--leaf-height); max-width: none; border: 0; overflow: hidden; }
}
`;
