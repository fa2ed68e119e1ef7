import { sidesAt } from '../../src/course/frame.js';
import { boxOf, signedDistanceToRing } from '../../src/geometry.js';
import { HX, HY, JET_SIZE } from '../../src/surface/surface.js';
import { METRES_PER_FOOT, METRES_PER_PACE } from '../../src/units.js';
import type { TrueGreen } from './truth.js';

/**
 * Chooses the hole locations of a green as the guidance in the trade has it (USGA guidance on selecting
 * hole locations): ground under 2.5 % within 3 ft, four paces from the edge (three on a small green).
 */
export interface ChosenLocation {
  readonly name: string;
  /** Whole paces on from the front edge and in from the nearer side. */
  readonly on: number;
  readonly in: number;
  readonly side: 'left' | 'right';
  readonly x: number;
  readonly y: number;
}

const STEEPEST = 0.024;
const ROUND = 3 * METRES_PER_FOOT;
const SMALL_GREEN = 480;

const steepestRound = (green: TrueGreen, x: number, y: number): number => {
  const jet = new Float64Array(JET_SIZE);
  let steepest = 0;
  for (const radius of [0, ROUND / 2, ROUND]) {
    for (let k = 0; k < (radius === 0 ? 1 : 16); k++) {
      const a = (k * Math.PI) / 8;
      green.at(x + radius * Math.cos(a), y + radius * Math.sin(a), jet);
      steepest = Math.max(steepest, Math.hypot(jet[HX], jet[HY]));
    }
  }
  return steepest;
};

export const chooseLocations = (green: TrueGreen): ChosenLocation[] => {
  const box = boxOf(green.outline);
  const margin = (green.area < SMALL_GREEN ? 3 : 4) * METRES_PER_PACE;
  const fit: Omit<ChosenLocation, 'name'>[] = [];
  for (let on = 3; on * METRES_PER_PACE < box.maxY; on++) {
    const y = on * METRES_PER_PACE;
    const [left, right] = sidesAt(green.outline, y) ?? [0, 0];
    for (const side of ['left', 'right'] as const) {
      for (let paces = 3; paces * METRES_PER_PACE < (right - left) / 2; paces++) {
        const x =
          side === 'left' ? left + paces * METRES_PER_PACE : right - paces * METRES_PER_PACE;
        if (signedDistanceToRing(green.outline, x, y) > -margin) continue;
        if (steepestRound(green, x, y) > STEEPEST) continue;
        fit.push({ on, in: paces, side, x, y });
      }
    }
  }
  // The front-most first, then always the one that is farthest from those already chosen.
  const chosen = fit.slice(0, 1);
  while (chosen.length < 4) {
    let best: (typeof fit)[number] | undefined;
    let far = 4.5;
    for (const one of fit) {
      const near = Math.min(...chosen.map((c) => Math.hypot(c.x - one.x, c.y - one.y)));
      if (near > far) {
        far = near;
        best = one;
      }
    }
    if (best === undefined) break;
    chosen.push(best);
  }
  return chosen
    .sort((a, b) => a.y - b.y || a.x - b.x)
    .map((one, i) => ({ name: 'ABCD'[i], ...one }));
};
