import { type TrueGreen, trueGreens } from '../../course-data/vellamoor/truth.js';
import { boxOf, growBox, type Point, type Ring } from '../../src/geometry.js';
import type { Surface } from '../../src/surface/surface.js';

/** A circle of a radius with its lowest point at the origin, so that y = 0 is its front. */
export const roundGreen = (radius: number): Ring =>
  Array.from({ length: 120 }, (_, i): Point => {
    const turn = (2 * Math.PI * i) / 120 - Math.PI / 2;
    return [radius * Math.cos(turn), radius + radius * Math.sin(turn)];
  });

/** The true surface of a demo green. */
export const trueSurface = (green: TrueGreen): Surface => ({
  outline: green.outline,
  collar: 2,
  box: growBox(boxOf(green.outline), 2),
  trust: null,
  at: green.at,
});

export const playedGreens: readonly TrueGreen[] = trueGreens.filter((g) => g.id !== 'practice');

/** Normal deviates by Box and Muller from a linear congruential generator: the same on every run. */
export const normals = (seed: number): (() => number) => {
  let state = seed >>> 0;
  const uniform = (): number => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return (state + 0.5) / 4_294_967_296;
  };
  return () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
};
