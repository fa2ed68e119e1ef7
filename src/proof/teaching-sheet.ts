/** The look of the teaching view beside that of the proof: the green as large as the screen, words that a room can read. */
export const teachingSheet = (): string => `
.teach {
  display: grid; height: 100vh; overflow: hidden; background: #fff;
  grid-template: 'wall desk' 100% / minmax(0, 1fr) minmax(20rem, 27vw);
}
.wall { grid-area: wall; outline: none; min-height: 0; padding: 0.6vmin; touch-action: manipulation; cursor: pointer; }
.stage { display: block; width: 100%; height: 100%; }
.turned { transform-origin: center; transform-box: view-box; transition: transform 0.5s ease; }
.stage text { font: 600 4.4px 'Runnel Text', sans-serif; fill: var(--ink); stroke: #fff; stroke-width: 1.1px; paint-order: stroke; }
.upright { transform-box: view-box; }
/* The shade darkens what lies below it. */
.relief { mix-blend-mode: multiply; }
.layer, .relief { transition: opacity 0.45s ease; }
.layer[hidden], .relief[hidden] { display: inline; opacity: 0; visibility: hidden; }
.desk {
  grid-area: desk; display: flex; flex-direction: column; gap: 1.4vmin; min-height: 0; overflow: auto;
  padding: 2.2vmin; border-left: 2px solid var(--ink); background: var(--wash);
}
.teach h1 { font-size: clamp(1.8rem, 4.6vmin, 4rem); }
.told { font-size: clamp(1.4rem, 3.7vmin, 3.2rem); line-height: 1.22; font-weight: 600; margin: 0; min-height: 4.9em; flex: none; }
.stand { font-size: clamp(1.05rem, 2.2vmin, 1.9rem); font-style: italic; margin: 0; }
.steps { margin: 0; padding: 0; list-style: none; flex: 0 1 auto; min-height: 5rem; overflow: auto; font-size: clamp(1.05rem, 2.2vmin, 1.9rem); }
.steps li { border-top: var(--hair); }
.steps span { display: none; }
.steps button { width: 100%; border: 0; padding: 0.1rem 0.4rem; text-align: left; opacity: 0.6; min-height: 2.1rem; }
.steps .shown button { opacity: 1; }
.steps [aria-current] button { background: var(--ink); color: #fff; }
.does { display: flex; flex-wrap: wrap; gap: 0.5rem; margin: auto 0 0; flex: none; }
.does button { font-size: clamp(1.05rem, 2.2vmin, 1.9rem); padding: 0.3rem 0.4rem; min-height: 3rem; min-width: min-content; flex: 1 1 28%; line-height: 1.1; }
.teach .links { margin: 0; font-size: 1rem; }
.clips { position: absolute; }
@media (prefers-reduced-motion: reduce) { .turned, .layer, .relief { transition: none; } }
@media (max-height: 56rem) {
  .steps { columns: 2; column-gap: 0.8rem; }
  .steps li { break-inside: avoid; }
}
@media (max-aspect-ratio: 1/1) {
  .teach { grid-template: 'wall' minmax(0, 1fr) 'desk' auto / 100%; }
  .desk { border-left: 0; border-top: 2px solid var(--ink); max-height: 46vh; gap: 0.8vmin; }
  .told { min-height: 2.5em; }
  .steps { display: none; }
}
@media print { .desk { display: none; } .teach { display: block; } }
`;
