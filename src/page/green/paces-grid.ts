import { scaleLinear } from 'd3-scale';
import { type Box, boxOf, insideRing, type Ring } from '../../geometry.js';
import { metresToPaces, pacesToMetres, pointsToMm } from '../../units.js';
import { rule, stroke, text } from '../kit/draw.js';
import type { Cell } from '../kit/grid.js';
import { lineMeetsBox } from '../labels/box-meeting.js';
import type { Mark, Mm } from '../marks/marks.js';
import { TINT } from '../marks/marks.js';
import { type GroundFrame, onPaper, paperLength } from './ground-frame.js';

const STEP_PACES = 5;
const HAIRLINE = 0.11;
/** Half the width of a figure and a gap, millimetres: those of the two sides meet in the middle. */
const FIGURE_HALF = 1.5;
/** Width of a digit, of the height of the type. */
const DIGIT = 0.55;

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
  /** The paper that each figure takes with its tick. */
  readonly figureCells: readonly Cell[];
}

/** A figure with its tick, and what both take of the paper. */
interface Figure {
  readonly marks: readonly Mark[];
  readonly box: Cell;
}

/** A count of paces on beside the green, to its left (-1) or right. */
const onFigure = ([x, y]: Mm, sign: 1 | -1, paces: number, size: number): Figure => {
  const high = pointsToMm(size);
  const words = String(paces);
  const reach = 2.4 + DIGIT * high * words.length;
  const at: Mm = [x + sign * 2.4, y + high * 0.36];
  const align = sign < 0 ? ('right' as const) : ('left' as const);
  return {
    marks: [
      rule(x + sign * 0.6, y, x + sign * 1.8, y, stroke(HAIRLINE)),
      text(at, words, 'text', size, { align }),
    ],
    box: { x: sign < 0 ? x - reach : x, y: y - 0.4 * high, width: reach, height: 0.8 * high },
  };
};

/** A count of paces in, under the green (1) or over it (-1). */
const inFigure = ([x, y]: Mm, sign: 1 | -1, paces: number, size: number): Figure => {
  const high = pointsToMm(size);
  const words = String(paces);
  const wide = DIGIT * high * words.length;
  const reach = 2.4 + 0.8 * high;
  const base = sign > 0 ? y + 2.4 + 0.72 * high : y - 2.4;
  return {
    marks: [
      rule(x, y + sign * 0.6, x, y + sign * 1.8, stroke(HAIRLINE)),
      text([x, base], words, 'text', size, { align: 'centre' }),
    ],
    box: { x: x - wide / 2, y: sign > 0 ? y : y - reach, width: wide, height: reach },
  };
};

const meets = ({ box }: Figure, areas: readonly (readonly Mm[])[]): boolean =>
  areas.some(
    (area) =>
      lineMeetsBox([...area, area[0]], box) ||
      insideRing(area, box.x + box.width / 2, box.y + box.height / 2),
  );

/**
 * Paces on from the front edge, up both sides, and paces in from either side, along the bottom: from
 * the left over the left half and from the right over the right half, as hole locations are given.
 *
 * @param areas on paper that figures keep off where the other side of the green is free for them.
 */
export const pacesGrid = (
  frame: GroundFrame,
  outline: Ring,
  figureSize: number,
  areas: readonly (readonly Mm[])[] = [],
): PacesGrid => {
  const box: Box = boxOf(outline);
  const lines: Mark[] = [];
  const figures: Figure[] = [];
  const line = stroke(HAIRLINE, TINT, { cap: 'butt' });
  for (const paces of everyFive(box.maxY)) {
    const y = pacesToMetres(paces);
    const left = onPaper(frame, box.minX, y);
    const right = onPaper(frame, box.maxX, y);
    lines.push(rule(left[0], left[1], right[0], right[1], line));
    const both = [onFigure(left, -1, paces, figureSize), onFigure(right, 1, paces, figureSize)];
    const free = both.filter((one) => !meets(one, areas));
    figures.push(...(free.length > 0 ? free : both));
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
      const under = inFigure(foot, 1, paces, figureSize);
      const over = inFigure(top, -1, paces, figureSize);
      const isOver = meets(under, areas) && !meets(over, areas);
      figures.push(isOver ? over : under);
    }
  }
  return {
    lines,
    figures: figures.flatMap(({ marks }) => marks),
    figureCells: figures.map((one) => one.box),
  };
};
