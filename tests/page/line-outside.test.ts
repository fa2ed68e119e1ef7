import { describe, expect, it } from 'vitest';
import type { Point, Polygon } from '../../src/geometry.js';
import { lineOutside } from '../../src/page/green/line-outside.js';

const square = (low: number, high: number): Point[] => [
  [low, low],
  [high, low],
  [high, high],
  [low, high],
];
const line: Point[] = Array.from({ length: 21 }, (_, i): Point => [i - 10, 0]);
const ends = (pieces: readonly (readonly Point[])[]): number[][] =>
  pieces.map((piece) => [piece[0][0], piece[piece.length - 1][0]]);

describe('a line outside of areas', () => {
  it('is itself where no area lies in its way', () => {
    expect(lineOutside(line, [])).toEqual([line]);
    expect(lineOutside(line, [[square(20, 30)]])).toEqual([line]);
  });

  it('ends where it runs in, and goes on where it comes out', () => {
    expect(ends(lineOutside(line, [[square(-3, 3)]]))).toEqual([
      [-10, -3],
      [3, 10],
    ]);
  });

  it('goes on inside the hole of an area', () => {
    const ring: Polygon = [square(-6, 6), square(-2, 2)];
    expect(ends(lineOutside(line, [ring]))).toEqual([
      [-10, -6],
      [-2, 2],
      [6, 10],
    ]);
  });

  it('is nothing inside', () => {
    expect(lineOutside(line, [[square(-20, 20)]])).toEqual([]);
  });
});
