import { fillPath, ringSteps } from '../kit/draw.js';
import type { Mm, PathMark } from '../marks/marks.js';
import { DARK } from '../marks/marks.js';

/** Length on paper, millimetres: grows with grade, held where it would crowd its neighbours. */
export const arrowLength = (grade: number): number => Math.min(4.6, 1.7 + 62 * grade);

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
