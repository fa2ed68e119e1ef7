import type { Point } from './geometry.js';

/** One number after the other, in a list that is as long as they are. */
const flat = (points: readonly Point[]): number[] => {
  const numbers = new Array<number>(2 * points.length);
  for (let i = 0; i < points.length; i++) {
    numbers[2 * i] = points[i][0];
    numbers[2 * i + 1] = points[i][1];
  }
  return numbers;
};

/**
 * Keeps points in a quarter of what they take as points; gives what brings them, made anew at each call, the same numbers to the bit.
 */
export const packedPoints = (points: readonly Point[]): (() => Point[]) => bringing(flat(points));

/** Of a function of its own: a closure holds all that one made beside it asks for. */
const bringing = (numbers: readonly number[]) => (): Point[] =>
  Array.from({ length: numbers.length / 2 }, (_, i): Point => [numbers[2 * i], numbers[2 * i + 1]]);
