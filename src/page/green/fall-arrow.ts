import { scaleLinear } from 'd3-scale';
import { fillPath, ringSteps } from '../kit/draw.js';
import type { Mm, PathMark } from '../marks/marks.js';
import { DARK } from '../marks/marks.js';

/** Millimetres on level ground, and where a longer one would crowd its neighbours. */
const SHORTEST = 1.7;
const LONGEST = 4.6;
/** Millimetres more for a grade of 1. */
const GROWTH = 62;
/** Length on paper, millimetres: grows with grade. */
const arrowLength = scaleLinear([0, (LONGEST - SHORTEST) / GROWTH], [SHORTEST, LONGEST]).clamp(
  true,
);

/**
 * A dart that points downhill: a slender shaft that widens to a solid head. `toward` is a unit vector
 * on paper (y down); the dart is centred on `at`.
 */
export const fallArrow = (at: Mm, toward: Mm, grade: number): PathMark => {
  const length = arrowLength(grade);
  const head = 0.85 + 0.14 * length;
  const halfHead = 0.3 + 0.09 * length;
  const halfShaft = 0.05 + 0.022 * length;
  const [dx, dy] = toward;
  const put = (along: number, across: number): Mm => [
    at[0] + dx * along - dy * across,
    at[1] + dy * along + dx * across,
  ];
  const tail = -length / 2;
  const neck = length / 2 - head;
  return fillPath(
    ringSteps([
      put(tail, -0.045),
      put(neck, -halfShaft),
      put(neck - 0.12, -halfHead),
      put(length / 2, 0),
      put(neck - 0.12, halfHead),
      put(neck, halfShaft),
      put(tail, 0.045),
    ]),
    DARK,
  );
};
