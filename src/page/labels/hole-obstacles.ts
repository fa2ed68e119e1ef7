import type { HoleFigures } from '../../course/hole-figures.js';
import { insideRing } from '../../geometry.js';
import type { HoleFrame } from '../hole/hole-frame.js';
import type { Cell } from '../kit/grid.js';
import type { Mm } from '../marks/marks.js';
import { ringOnPaper } from './hole-wanted-labels.js';

/** Steps in which a leader's way is looked at. */
const LOOK = 0.5;

/** What labels on a hole's drawing keep off: the edges of its hazards and of its green. */
export const hazardEdges = (figures: HoleFigures, frame: HoleFrame): Mm[][] =>
  figures.features
    .filter(({ kind }) => kind === 'bunker' || kind === 'water' || kind === 'green')
    .flatMap((feature) => {
      const ring = ringOnPaper(feature, frame);
      return ring.length === 0 ? [] : [[...ring, ring[0]]];
    });

export const woodRings = (figures: HoleFigures, frame: HoleFrame): Mm[][] =>
  figures.features
    .filter(({ kind }) => kind === 'wood')
    .map((feature) => ringOnPaper(feature, frame))
    .filter((ring) => ring.length > 2);

/** How much of the level way from a point to an x lies inside rings, to half a millimetre. */
export const throughRings = (rings: readonly Mm[][], [x, y]: Mm, to: number): number => {
  const count = Math.max(1, Math.ceil(Math.abs(to - x) / LOOK));
  const step = (to - x) / count;
  let inside = 0;
  for (let i = 0; i < count; i++) {
    const at = x + (i + 0.5) * step;
    if (rings.some((ring) => insideRing(ring, at, y))) inside += Math.abs(step);
  }
  return inside;
};

/** The paper of the signs on a hole's drawing. */
export const symbolBoxes = (figures: HoleFigures, frame: HoleFrame): Cell[] => {
  const points: Mm[] = [
    ...figures.landmarks.map((one) => frame.onPaper(one.at)),
    ...figures.tees.map((one) => frame.onPaper(one.at)),
    ...figures.features.flatMap(({ kind, shape }) =>
      kind === 'tree' && shape.kind === 'point' ? [frame.onPaper(shape.at)] : [],
    ),
    ...(figures.landing === null ? [] : [frame.onPaper(figures.landing.at)]),
    ...(figures.runOut === null ? [] : [frame.onPaper(figures.runOut.at)]),
  ];
  return points.map(([x, y]) => ({ x: x - 1.1, y: y - 1.1, width: 2.2, height: 2.2 }));
};
