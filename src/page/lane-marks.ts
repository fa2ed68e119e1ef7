import type { PuttRegions } from '../putt/lanes.js';
import { fillPath, lineSteps, rectSteps, stroke, strokePath } from './draw.js';
import { type GroundFrame, linePoints, onPaper } from './ground-frame.js';
import type { Mark } from './marks.js';
import { DARK, PAPER } from './marks.js';

/** Dotted, so that a lane is not taken for a contour. Millimetres. */
const LANE = 0.36;
const DOTS = [0.01, 0.85];
/** Side of the square at the best leave, millimetres. */
const LEAVE = 1.1;

/** Straight lanes of a hole location as lines out from the hole, its best leave as an open square. */
export const laneMarks = (frame: GroundFrame, regions: PuttRegions): Mark[] => {
  const lanes = regions.lanes.map(({ axis }) =>
    strokePath(lineSteps(linePoints(frame, axis)), stroke(LANE, DARK, { dash: DOTS })),
  );
  if (regions.leave === null) return lanes;
  const [x, y] = onPaper(frame, ...regions.leave.best);
  const square = rectSteps(x - LEAVE / 2, y - LEAVE / 2, LEAVE, LEAVE);
  return [...lanes, fillPath(square, PAPER, { stroke: stroke(0.3, DARK, { join: 'miter' }) })];
};
