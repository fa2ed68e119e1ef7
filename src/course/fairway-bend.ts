import { distance, type Point, type Ring } from '../geometry.js';
import { cornersOf } from './corners.js';

/** A hole shorter than this is played in one stroke: its line is straight, metres. */
const LEAST_LENGTH = 230;
/** Sections across the straight line stand this far apart, metres. */
const STEP = 10;
/** Beyond the tee and before the green no fairway is looked for, metres. */
const FROM_TEE = 90;
const FROM_GREEN = 25;
/** How far beside the straight line a fairway of the hole may lie, metres. */
const REACH = 160;
/** A line that leaves its fairway by no more than this needs no corner, metres. */
const TOLERANCE = 18;

/** Where the line across at `along` is on the fairways: stretches [from, to] to the right of the straight line. */
const stretchesAt = (fairways: readonly Ring[], along: number): (readonly [number, number])[] =>
  fairways.flatMap((ring) => {
    const cuts: number[] = [];
    for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
      const [a, b] = [ring[j], ring[i]];
      if (a[1] > along === b[1] > along) continue;
      cuts.push(a[0] + ((along - a[1]) / (b[1] - a[1])) * (b[0] - a[0]));
    }
    cuts.sort((a, b) => a - b);
    const stretches: (readonly [number, number])[] = [];
    for (let i = 0; i + 1 < cuts.length; i += 2) stretches.push([cuts[i], cuts[i + 1]]);
    return stretches;
  });

/**
 * The corners of a hole whose line was drawn straight from tee to green across a dog-leg: the middle of its
 * fairway, section by section, simplified. Empty when the straight line keeps to the fairway, or there is none.
 *
 * @param fairways the outlines of the hole's fairways, in the plane of `tee` and `green`, metres.
 */
export const bendAlongFairway = (tee: Point, green: Point, fairways: readonly Ring[]): Point[] => {
  const length = distance(tee, green);
  if (length < LEAST_LENGTH || fairways.length === 0) return [];
  const ahead: Point = [(green[0] - tee[0]) / length, (green[1] - tee[1]) / length];
  const turned = fairways.map((ring) =>
    ring.map(([x, y]): Point => {
      const [dx, dy] = [x - tee[0], y - tee[1]];
      return [dx * ahead[1] - dy * ahead[0], dx * ahead[0] + dy * ahead[1]];
    }),
  );
  const middles: Point[] = [[0, 0]];
  let off = 0;
  let sections = 0;
  for (let along = FROM_TEE; along <= length - FROM_GREEN; along += STEP) {
    const stretches = stretchesAt(turned, along).filter(
      ([from, to]) => Math.abs((from + to) / 2) <= REACH,
    );
    if (stretches.length === 0) continue;
    const last = middles[middles.length - 1][0];
    const middleOf = ([from, to]: readonly [number, number]): number => (from + to) / 2;
    const nearest = stretches.reduce((best, one) =>
      Math.abs(middleOf(one) - last) < Math.abs(middleOf(best) - last) ? one : best,
    );
    sections += 1;
    if (nearest[0] > TOLERANCE / 2 || nearest[1] < -TOLERANCE / 2) off += 1;
    middles.push([middleOf(nearest), along]);
  }
  // A few sections off the line are the drawing's; a dog-leg leaves its fairway for a good part of the way.
  if (sections < 5 || off < 3 || off < 0.12 * sections) return [];
  middles.push([0, length]);
  return cornersOf(middles, TOLERANCE)
    .slice(1, -1)
    .map(
      ([x, y]): Point => [
        tee[0] + x * ahead[1] + y * ahead[0],
        tee[1] - x * ahead[0] + y * ahead[1],
      ],
    );
};
