import { BARE_STEP } from '../../appraisal/spacing.js';
import type { Point } from '../../geometry.js';
import { fillPath, hatch, rectSteps, stroke } from '../kit/draw.js';
import { DARK, type Mark, PAPER, type PathStep } from '../marks/marks.js';
import { type GroundFrame, onPaper } from './ground-frame.js';

/** Level strokes on bare paper: ground that the survey has no points on. */
export const bareSign = (steps: readonly PathStep[]): Mark[] => [
  fillPath(steps, PAPER),
  hatch(steps, 0, 1.7, stroke(0.16, DARK, { dash: [0.16, 0.9], cap: 'round' })),
];

/** Squares side by side in one row are one rectangle. */
const runsOf = (bare: readonly Point[]): { readonly at: Point; readonly count: number }[] => {
  const runs: { at: Point; count: number }[] = [];
  for (const at of bare) {
    const last = runs.at(-1);
    const goesOn =
      last !== undefined &&
      Math.abs(at[1] - last.at[1]) < BARE_STEP / 4 &&
      Math.abs(at[0] - last.at[0] - last.count * BARE_STEP) < BARE_STEP / 4;
    if (goesOn) last.count += 1;
    else runs.push({ at, count: 1 });
  }
  return runs;
};

/** Blanks ground without points and gives it its sign; squares come row by row, each of side `BARE_STEP`. */
export const bareMarks = (frame: GroundFrame, bare: readonly Point[]): Mark[] => {
  if (bare.length === 0) return [];
  const side = (BARE_STEP * 1000) / frame.scale;
  const steps = runsOf(bare).flatMap(({ at, count }) => {
    const [x, y] = onPaper(frame, at[0] - BARE_STEP / 2, at[1] + BARE_STEP / 2);
    return rectSteps(x, y, count * side, side);
  });
  return bareSign(steps);
};
