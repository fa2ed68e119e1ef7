import { type Box, boxOf, insideRing } from '../../geometry.js';
import { degreesToRadians } from '../../units.js';
import { circleSteps, fillPath, lineSteps, ringSteps, stroke, strokePath } from '../kit/draw.js';
import type { Mark, Mm, PathStep } from '../marks/marks.js';
import { DARK, PAPER } from '../marks/marks.js';

/** Points of a lattice of rows set off by half a step, inside a ring and a window. */
const lattice = (ring: readonly Mm[], step: number, window: Box): Mm[] => {
  const box = boxOf(ring);
  const points: Mm[] = [];
  const rise = step * 0.866;
  const first = Math.floor(Math.max(box.minY, window.minY) / rise);
  const last = Math.ceil(Math.min(box.maxY, window.maxY) / rise);
  for (let row = first; row <= last; row++) {
    const y = row * rise;
    const start = Math.floor(Math.max(box.minX, window.minX) / step);
    const end = Math.ceil(Math.min(box.maxX, window.maxX) / step);
    for (let column = start; column <= end; column++) {
      const x = (column + (row % 2 === 0 ? 0 : 0.5)) * step;
      if (insideRing(ring, x, y)) points.push([x, y]);
    }
  }
  return points;
};

/** Sand: dots on a lattice, as engravers draw it. */
export const sandMarks = (ring: readonly Mm[], window: Box): Mark[] => {
  const dots = lattice(ring, 0.62, window).flatMap(([x, y]): PathStep[] => circleSteps(x, y, 0.11));
  return [
    fillPath(ringSteps(ring), PAPER),
    ...(dots.length === 0 ? [] : [fillPath(dots, DARK)]),
    strokePath(ringSteps(ring), stroke(0.22)),
  ];
};

/** A crown seen from above: an outline, heavier on the side away from the light. */
export const treeMarks = (at: Mm, radius: number): Mark[] => {
  const [x, y] = at;
  const shade: Mm[] = Array.from({ length: 9 }, (_, i) => {
    const a = degreesToRadians(-25 + (i * 140) / 8);
    return [x + radius * 0.62 * Math.cos(a), y + radius * 0.62 * Math.sin(a)];
  });
  return [
    fillPath(circleSteps(x, y, radius), PAPER, { stroke: stroke(0.16) }),
    strokePath(lineSteps(shade), stroke(0.2)),
  ];
};

/** A wood: crowns on a lattice, shifted by a fixed pattern so that no rows show. */
export const woodMarks = (ring: readonly Mm[], window: Box): Mark[] =>
  lattice(ring, 2, window).flatMap(([x, y], i) => {
    const shift = ((i * 7) % 5) / 5 - 0.4;
    const lift = ((i * 3) % 7) / 7 - 0.43;
    return treeMarks([x + 0.5 * shift, y + 0.5 * lift], 0.75 + 0.07 * ((i * 5) % 4));
  });

/** Signs of landmarks; each differs in shape, not in colour. */
export const landmarkMarks = (at: Mm, sign: string): Mark[] => {
  const [x, y] = at;
  switch (sign) {
    case 'tree':
      return treeMarks(at, 1.05);
    case 'sprinkler':
      return [
        fillPath(circleSteps(x, y, 0.62), PAPER, { stroke: stroke(0.2) }),
        fillPath(circleSteps(x, y, 0.24), DARK),
      ];
    case 'plate':
      return [
        fillPath(
          [
            ['M', x - 0.62, y - 0.4],
            ['L', x + 0.62, y - 0.4],
            ['L', x + 0.62, y + 0.4],
            ['L', x - 0.62, y + 0.4],
            ['Z'],
          ],
          DARK,
          { stroke: stroke(0.25, PAPER) },
        ),
      ];
    default:
      return [
        fillPath(
          [['M', x, y - 0.75], ['L', x + 0.6, y + 0.45], ['L', x - 0.6, y + 0.45], ['Z']],
          DARK,
          { stroke: stroke(0.25, PAPER) },
        ),
      ];
  }
};
