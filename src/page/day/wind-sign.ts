import type { Today } from '../../event/today.js';
import type { Wind } from '../../event/wind.js';
import { degreesToRadians } from '../../units.js';
import { circleSteps, lineSteps, stroke, strokePath } from '../kit/draw.js';
import type { Mark, Mm } from '../marks/marks.js';
import { DARK } from '../marks/marks.js';
import { phrase, type Worded } from '../words/words.js';

const RADIUS = 2;
const BARB = 1.3;

/** "wind 12mph from 240°". */
export const windWords = ({ speed, from }: Wind, tell: Worded): string =>
  phrase(tell, 'day.wind-from', { speed, bearing: from });

/**
 * The wind as the player meets it, the line of approach pointing up: an arrow the way that it blows. Where
 * no wind is told, a ring to draw it in.
 */
export const windMarks = ({ wind, bearings }: Today, holeId: string, [x, y]: Mm): Mark[] => {
  const bearing = bearings.get(holeId);
  if (bearing === undefined) return [];
  const ring = strokePath(circleSteps(x, y, RADIUS), stroke(0.12, DARK, { dash: [0.4, 0.4] }));
  if (wind === null) return [ring];
  const toward = degreesToRadians(wind.from + 180 - bearing);
  const [dx, dy] = [Math.sin(toward), -Math.cos(toward)];
  const tip: Mm = [x + RADIUS * dx, y + RADIUS * dy];
  const barb = (turn: number): Mm => [
    tip[0] - BARB * (dx * Math.cos(turn) - dy * Math.sin(turn)),
    tip[1] - BARB * (dy * Math.cos(turn) + dx * Math.sin(turn)),
  ];
  return [
    strokePath(lineSteps([[x - RADIUS * dx, y - RADIUS * dy], tip]), stroke(0.35)),
    strokePath(lineSteps([barb(0.5), tip, barb(-0.5)]), stroke(0.35)),
  ];
};
