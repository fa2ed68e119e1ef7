import type { Random } from '../../course-data/vellamoor/random.js';
import { HX, HY, JET_SIZE } from '../../src/surface/surface.js';
import type { RoughGreen } from '../accuracy/rough-greens.js';

/** Ripples of 5 mm from trough to crest, a metre from crest to crest, and rows that meet them. */
export const LENGTH = 1;
export const SIZE = 0.0025;

/** A green with waves of this half height on it, as steep as that makes them. */
export const rippled = (
  green: RoughGreen,
  turn: number,
  phase: number,
  size = SIZE,
): RoughGreen => {
  const k = (2 * Math.PI) / LENGTH;
  const [kx, ky] = [k * Math.cos(turn), k * Math.sin(turn)];
  return {
    ...green,
    at(x, y, jet) {
      green.at(x, y, jet);
      const along = kx * x + ky * y + phase;
      jet[0] += size * Math.cos(along);
      jet[HX] -= size * kx * Math.sin(along);
      jet[HY] -= size * ky * Math.sin(along);
    },
  };
};

/** Rows along a direction, to and fro, each point `loose` spacings off its place; noise of 3 mm. */
export const rows = (
  green: RoughGreen,
  random: Random,
  spacing: number,
  loose: number,
  turn: number,
) => {
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  const jet = new Float64Array(JET_SIZE);
  const spots: (readonly [number, number, number])[] = [];
  let back = false;
  for (let v = -14; v <= 14; v += spacing) {
    const row: (readonly [number, number, number])[] = [];
    for (let u = -14; u <= 14; u += spacing) {
      const [pu, pv] = [
        u + loose * spacing * random.normal(),
        v + loose * spacing * random.normal(),
      ];
      const [x, y] = [c * pu - s * pv, 10 + s * pu + c * pv];
      green.at(x, y, jet);
      row.push([x, y, jet[0] + 0.003 * random.normal()]);
    }
    spots.push(...(back ? row.reverse() : row));
    back = !back;
  }
  const [x, y, z] = [0, 1, 2].map((k) => Float64Array.from(spots, (spot) => spot[k]));
  return { x, y, z, outline: green.outline, kind: 'points' as const };
};
