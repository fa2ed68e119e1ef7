import type { SharedInformation } from './shared-errors.js';
import { LEAST_SIDE, type TriedStep, triedStep } from './walk-steps.js';

/**
 * A step stands out only on a line that leaves hardly a point on its wrong side: half a metre beside it a step that is
 * clear is lost in the noise. So lines are tried more closely than those by which the size is told that could be found,
 * and those that stand out most more closely still.
 */
const TURNS = 32;
const SHIFT = 0.5;
/** So many lines, no two of them nearly the same, are turned and shifted by parts of that. */
const REFINED = 12;
const PARTS = [-2, -1, 0, 1, 2];
const PART = 0.25;

interface Places {
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** The points that are looked at. */
  readonly source: Int32Array;
}

/** The information on steps across the direction at an angle; its offsets rise. */
export type Across = (angle: number, offsets: readonly number[]) => SharedInformation;

const triedAcross = (
  across: Across,
  angle: number,
  offsets: readonly number[],
  variance: number,
): TriedStep[] => {
  const { information, score } = across(angle, offsets);
  return offsets.flatMap((offset, c) =>
    triedStep(information[c], score[c], variance, { after: null, line: { angle, offset } }),
  );
};

/** Offset of the line that has another angle and passes the middle of the points as near. */
const turned = (
  { angle, offset }: NonNullable<TriedStep['line']>,
  [mx, my]: readonly [number, number],
  by: number,
): number =>
  offset +
  (Math.cos(angle + by) - Math.cos(angle)) * mx +
  (Math.sin(angle + by) - Math.sin(angle)) * my;

/** Straight steps along lines all over the points, and about those that stand out most. */
export const straightSearch = (across: Across, at: Places, variance: number): TriedStep[] => {
  const { x, y, source } = at;
  const found: TriedStep[] = [];
  for (let turn = 0; turn < TURNS; turn++) {
    const angle = (Math.PI * turn) / TURNS;
    const [c, s] = [Math.cos(angle), Math.sin(angle)];
    const along = Float64Array.from(source, (p) => c * x[p] + s * y[p]).sort();
    const low = along[Math.floor(LEAST_SIDE * along.length)];
    const high = along[Math.floor((1 - LEAST_SIDE) * along.length)];
    const offsets: number[] = [];
    for (let offset = low; offset <= high; offset += SHIFT) offsets.push(offset);
    found.push(...triedAcross(across, angle, offsets, variance));
  }
  const middle = [x, y].map((v) => source.reduce((sum, p) => sum + v[p] / source.length, 0));
  const chosen: NonNullable<TriedStep['line']>[] = [];
  for (const { line } of found.slice().sort((a, b) => b.clear - a.clear)) {
    if (chosen.length === REFINED) break;
    const isNew = (one: NonNullable<TriedStep['line']>): boolean =>
      line !== null &&
      (Math.abs(one.angle - line.angle) > 0.6 * (Math.PI / TURNS) ||
        Math.abs(one.offset - line.offset) > 0.6 * SHIFT);
    if (line !== null && chosen.every(isNew)) chosen.push(line);
  }
  for (const line of chosen) {
    for (const part of PARTS) {
      const by = (part * PART * Math.PI) / TURNS;
      const offset = turned(line, [middle[0], middle[1]], by);
      const offsets = PARTS.map((one) => offset + one * PART * SHIFT);
      found.push(...triedAcross(across, line.angle + by, offsets, variance));
    }
  }
  return found;
};
