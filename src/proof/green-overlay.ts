import { boxOf, insideRing, type Point } from '../geometry.js';
import type { Layout } from '../layout/layout.js';
import type { GreenContent } from '../page/book-content.js';
import { type GroundFrame, onPaper } from '../page/green/ground-frame.js';
import { quadrantDirection } from '../putt/table.js';
import type { Surface } from '../surface/surface.js';
import { fallAt } from '../terrain/fall.js';
import type { UnitSystem } from '../units.js';
import { feetToMetres } from '../units.js';
import { escaped } from './html.js';

/** Length of the putt that is shown first, metres. */
const FIRST_PUTT = { imperial: feetToMetres(20), metric: 6 };

/** A putt to begin with: from below the first hole location, or from where there is green. */
export const firstPutt = (
  green: GreenContent,
  surface: Surface,
  units: UnitSystem,
): { readonly ball: Point; readonly hole: Point } => {
  const box = boxOf(green.outline);
  const middle: Point = [(box.minX + box.maxX) / 2, (box.minY + box.maxY) / 2];
  const hole = green.locations[0]?.at ?? middle;
  const { toward: fall } = fallAt(surface, hole);
  const length = FIRST_PUTT[units];
  for (const quadrant of ['right', 'left', 'below', 'above'] as const) {
    const [ux, uy] = quadrantDirection(quadrant, fall);
    const ball: Point = [hole[0] + length * ux, hole[1] + length * uy];
    if (insideRing(green.outline, ball[0], ball[1])) return { ball, hole };
  }
  return { ball: [(hole[0] + middle[0]) / 2, (hole[1] + middle[1]) / 2 + 0.5], hole };
};

const LABELS = {
  ball: 'ball',
  hole: 'hole',
  spout: 'place to pour',
  rest: 'where a ball came to rest',
} as const;

const mm = (value: number): string => value.toFixed(3);

/**
 * What lies over the green on its page: the ground that can be clicked, and ball and hole that can be
 * moved. The browser draws the putt into it; all it must know stands in `data-`.
 */
export const overlayOf = (
  green: GreenContent,
  layout: Layout,
  frame: GroundFrame,
  putt: { readonly ball: Point; readonly hole: Point },
): string => {
  const { width, height } = layout.page;
  const paper = (at: Point): string => onPaper(frame, at[0], at[1]).map(mm).join(',');
  const outline = `M${green.outline.map(paper).join('L')}Z`;
  const movable = (name: 'ball' | 'hole' | 'spout' | 'rest', drawing: string): string =>
    `<g class="movable ${name}" data-name="${name}" tabindex="0" role="button" aria-roledescription="movable point" aria-label="${LABELS[name]}" transform="translate(${paper(name === 'hole' || name === 'rest' ? putt.hole : putt.ball)})"><circle class="grip" r="4.5"/><circle class="focus" r="3"/>${drawing}</g>`;
  return [
    `<svg class="overlay" viewBox="0 0 ${width} ${height}" data-green="${escaped(green.holeId)}" data-scale="${frame.scale}" data-origin="${frame.origin.join(',')}" data-ball="${putt.ball.join(',')}" data-hole="${putt.hole.join(',')}">`,
    `<path class="ground" d="${outline}"/>`,
    '<g class="water" aria-hidden="true"></g>',
    '<g class="lying" aria-hidden="true"></g>',
    '<g class="station" aria-hidden="true"></g>',
    '<g class="putt-lines" aria-hidden="true">',
    '<path class="casing"/><path class="path"/><path class="aim-line"/>',
    '<path class="aim-mark" d="M-1.1 0H1.1M0 -1.1V1.1"/>',
    '</g>',
    movable('hole', '<circle class="rim" r="1.3"/><circle class="cup" r="0.55"/>'),
    movable('ball', '<circle class="ball-mark" r="1.05"/>'),
    movable('spout', '<path class="spout-mark" d="M0 -1.3V1.3M-1.3 0H1.3"/>'),
    movable('rest', '<path class="rest-mark" d="M-1 -1L1 1M-1 1L1 -1"/>'),
    '</svg>',
  ].join('\n');
};
