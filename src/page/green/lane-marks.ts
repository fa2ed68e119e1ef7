import type { PuttRegions } from '../../putt/lanes.js';
import { fillPath, lineSteps, rectSteps, stroke, strokePath } from '../kit/draw.js';
import type { Mark, Mm } from '../marks/marks.js';
import { DARK, PAPER } from '../marks/marks.js';
import { type GroundFrame, linePoints, onPaper } from './ground-frame.js';

/** A straight lane is dotted, so that it is not taken for a contour. */
const LANE = stroke(0.36, DARK, { dash: [0.01, 0.85] });
/** Side of the square at the best leave, millimetres. */
const LEAVE = 1.1;

export const laneLine = (points: readonly Mm[]): Mark => strokePath(lineSteps(points), LANE);

export const leaveMark = ([x, y]: Mm): Mark =>
  fillPath(rectSteps(x - LEAVE / 2, y - LEAVE / 2, LEAVE, LEAVE), PAPER, {
    stroke: stroke(0.3, DARK, { join: 'miter' }),
  });

/** Straight lanes of a hole location as lines out from the hole, its best leave as an open square. */
export const laneMarks = (frame: GroundFrame, regions: PuttRegions): Mark[] => [
  ...regions.lanes.map(({ axis }) => laneLine(linePoints(frame, axis))),
  ...(regions.leave === null ? [] : [leaveMark(onPaper(frame, ...regions.leave.best))]),
];
