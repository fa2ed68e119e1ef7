import { lengthOf, type Point } from '../geometry.js';
import { placeAlong } from './play-line.js';

/** A place of the line of play with its height over the start, metres. */
export interface HeightAlong {
  readonly along: number;
  readonly rise: number;
}

/**
 * Heights along a line over a height at its start, every `step` metres and at its end; places without ground
 * are left out, and without a height of the start all are.
 */
export const lineHeights = (
  line: readonly Point[],
  heightAt: (at: Point) => number | null,
  start: number | null,
  step: number,
): HeightAlong[] => {
  if (start === null) return [];
  const length = lengthOf(line);
  // The last step but one stands clear of the end.
  const count = Math.max(1, Math.ceil(length / step - 0.2));
  return [...Array.from({ length: count }, (_, i) => i * step), length].flatMap((along) => {
    const height = heightAt(placeAlong(line, along).at);
    return height === null ? [] : [{ along, rise: height - start }];
  });
};
