import type { HoleFigures } from '../course/hole-figures.js';
import type { Layout } from '../layout/layout.js';
import type { HoleFrame } from '../page/hole/hole-frame.js';
import { escaped } from './html.js';

/** Where the distances are asked from first: the landing place, else the start of the line of play. */
const firstPlace = (hole: HoleFigures) => hole.landing?.at ?? hole.line[0];

/** What lies over the drawing of a hole: the ground that can be clicked, and the place that can be moved. */
export const holeOverlay = (hole: HoleFigures, layout: Layout, frame: HoleFrame): string => {
  const { width, height } = layout.page;
  const at = frame.onPaper(firstPlace(hole)).map((v) => v.toFixed(3));
  const { window } = frame;
  return [
    `<svg class="hole-overlay overlay" viewBox="0 0 ${width} ${height}" data-hole="${escaped(hole.id)}" data-at="${at.join(',')}">`,
    `<rect class="ground" x="${window.x}" y="${window.y}" width="${window.width}" height="${window.height}"/>`,
    `<g class="movable place" tabindex="0" role="button" aria-roledescription="movable point" aria-label="place" transform="translate(${at.join(',')})"><circle class="grip" r="4.5"/><circle class="focus" r="3"/><circle class="rim" r="1.3"/><circle class="cup" r="0.55"/></g>`,
    '</svg>',
  ].join('\n');
};
