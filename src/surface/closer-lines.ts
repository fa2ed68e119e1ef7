import type { Point } from '../geometry.js';
import { orderOf } from './order-of-values.js';
import { SHIFT, type StraightLine, type TriedStep, TURNS } from './walk-steps.js';

/** What a fit leaves of heights: places, and the residual times its weight. */
interface Left {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly off: Float64Array;
}

/** Beside each line that was tried this many are looked at, in turn and in shift: half of the distance to the next. */
const CLOSER = 4;
/** Of the lines that were tried so many, the clearest by what is looked at beside them, are weighed in full. */
const WEIGHED = 32;

const across = ([x, y]: Point, angle: number): number => x * Math.cos(angle) + y * Math.sin(angle);

/** For lines of one angle: half of what is left on their raised side less half of that on the other. */
const scoresAt = ({ x, y, off }: Left, angle: number): ((offset: number) => number) => {
  const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
  const along = x.map((v, p) => v * cos + y[p] * sin);
  const order = orderOf(along, -1);
  const places = along.sort();
  const below = new Float64Array(order.length + 1);
  for (let rank = 0; rank < order.length; rank++) below[rank + 1] = below[rank] + off[order[rank]];
  return (offset) => {
    let [low, high] = [0, places.length];
    while (low < high) {
      const middle = (low + high) >> 1;
      if (places[middle] > offset) high = middle;
      else low = middle + 1;
    }
    return below[order.length] / 2 - below[low];
  };
};

/**
 * The clearest lines between those that were tried: half a metre beside a step little of it shows. What a step would
 * gain along each is known from what the fit leaves of the heights, and about how well from the line beside it.
 *
 * @param tried steps along lines `SHIFT` and a `TURNS`th of a half turn apart.
 * @param about a place near the middle of the points, from which turned lines keep their distance.
 */
export const closerLines = (
  tried: readonly TriedStep[],
  left: Left,
  about: Point,
): StraightLine[] => {
  const scores = new Map<number, (offset: number) => number>();
  const best = tried.flatMap(({ line, sd }) => {
    if (line === null) return [];
    const from = line.offset - across(about, line.angle);
    let most: { readonly line: StraightLine; readonly clear: number } | null = null;
    for (let turn = 0; turn < CLOSER; turn++) {
      const angle = line.angle + ((turn - CLOSER / 2 + 0.5) * Math.PI) / (TURNS * CLOSER);
      const scoreAt = scores.get(angle) ?? scoresAt(left, angle);
      scores.set(angle, scoreAt);
      for (let shift = 0; shift < CLOSER; shift++) {
        const offset = from + ((shift - CLOSER / 2 + 0.5) * SHIFT) / CLOSER + across(about, angle);
        const clear = Math.abs(scoreAt(offset)) * sd;
        if (most === null || clear > most.clear) most = { line: { angle, offset }, clear };
      }
    }
    return most ?? [];
  });
  return best
    .sort((a, b) => b.clear - a.clear)
    .slice(0, WEIGHED)
    .map(({ line }) => line);
};
