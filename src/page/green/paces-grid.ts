import { scaleLinear } from 'd3-scale';
import { type Box, boxOf, type Ring } from '../../geometry.js';
import { metresToPaces, pacesToMetres, pointsToMm } from '../../units.js';
import { rule, stroke, text } from '../kit/draw.js';
import type { Mark } from '../marks/marks.js';
import { TINT } from '../marks/marks.js';
import { type GroundFrame, onPaper, paperLength } from './ground-frame.js';

const STEP_PACES = 5;
const HAIRLINE = 0.11;
/** Half the width of a figure and a gap, millimetres: those of the two sides meet in the middle. */
const FIGURE_HALF = 1.5;

/** Paces at which lines are drawn, over so many metres. */
const everyFive = (metres: number): number[] => {
  const paces = metresToPaces(metres);
  return scaleLinear([0, paces], [0, metres]).ticks(paces / STEP_PACES);
};

export interface PacesGrid {
  /** To be clipped to the green. */
  readonly lines: readonly Mark[];
  /** Figures round it. */
  readonly figures: readonly Mark[];
}

/**
 * Paces on from the front edge, up both sides, and paces in from either side, along the bottom: from
 * the left over the left half and from the right over the right half, as hole locations are given.
 */
export const pacesGrid = (frame: GroundFrame, outline: Ring, figureSize: number): PacesGrid => {
  const box: Box = boxOf(outline);
  const lines: Mark[] = [];
  const figures: Mark[] = [];
  const line = stroke(HAIRLINE, TINT, { cap: 'butt' });
  const drop = pointsToMm(figureSize) * 0.36;
  for (const paces of everyFive(box.maxY)) {
    const y = pacesToMetres(paces);
    const left = onPaper(frame, box.minX, y);
    const right = onPaper(frame, box.maxX, y);
    lines.push(rule(left[0], left[1], right[0], right[1], line));
    for (const [x, sign, align] of [
      [left[0], -1, 'right'],
      [right[0], 1, 'left'],
    ] as const) {
      figures.push(rule(x + sign * 0.6, left[1], x + sign * 1.8, left[1], stroke(HAIRLINE)));
      figures.push(
        text([x + sign * 2.4, left[1] + drop], String(paces), 'text', figureSize, { align }),
      );
    }
  }
  const middle = (box.minX + box.maxX) / 2;
  // Two figures and the space between them: on a small image the two counts meet in the middle.
  const room = pointsToMm(figureSize) * 1.3;
  const taken: number[] = [];
  for (const [edge, sign] of [
    [box.minX, 1],
    [box.maxX, -1],
  ] as const) {
    for (const paces of everyFive((middle - edge) * sign).slice(1)) {
      const x = edge + sign * pacesToMetres(paces);
      if (paperLength(frame, (middle - x) * sign) < FIGURE_HALF) break;
      const foot = onPaper(frame, x, box.minY);
      const top = onPaper(frame, x, box.maxY);
      lines.push(rule(foot[0], foot[1], top[0], top[1], line));
      if (taken.some((other) => Math.abs(other - foot[0]) < room)) continue;
      taken.push(foot[0]);
      figures.push(rule(foot[0], foot[1] + 0.6, foot[0], foot[1] + 1.8, stroke(HAIRLINE)));
      figures.push(
        text([foot[0], foot[1] + 2.4 + 2 * drop], String(paces), 'text', figureSize, {
          align: 'centre',
        }),
      );
    }
  }
  return { lines, figures };
};
