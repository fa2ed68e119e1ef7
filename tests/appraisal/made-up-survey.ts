import type { Survey } from '../../src/survey/survey.js';

/** Uniform numbers in [0, 1) from a seed: mulberry32. */
export const uniform = (seed: number): (() => number) => {
  let a = seed >>> 0;
  return () => {
    a = (a + 0x6d2b79f5) >>> 0;
    let t = a;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
  };
};

/** Standard normal numbers: Box and Muller. */
export const normal =
  (next: () => number): (() => number) =>
  () =>
    Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next());

export const CENTRE = [388_000, 3_608_000] as const;

export interface Plan {
  /** Height over a place, metres from the centre. */
  readonly ground: (x: number, y: number) => number;
  readonly spacing: number;
  readonly noise: number;
  readonly seed: number;
  /** Half the side of the ground that is surveyed. */
  readonly reach: number;
  readonly skip?: (x: number, y: number) => boolean;
  readonly spoil?: readonly (readonly [x: number, y: number, off: number])[];
}

/** Points on a jittered grid round `CENTRE`. */
export const madeUpSurvey = (plan: Plan): Survey => {
  const next = uniform(plan.seed);
  const gauss = normal(next);
  const points: [number, number, number][] = [];
  for (let i = -plan.reach; i <= plan.reach; i += plan.spacing) {
    for (let j = -plan.reach; j <= plan.reach; j += plan.spacing) {
      const x = i + (next() - 0.5) * 0.6 * plan.spacing;
      const y = j + (next() - 0.5) * 0.6 * plan.spacing;
      const z = plan.ground(x, y) + plan.noise * gauss();
      if (plan.skip?.(x, y) !== true) points.push([x, y, z]);
    }
  }
  for (const [x, y, off] of plan.spoil ?? []) points.push([x, y, plan.ground(x, y) + off]);
  return {
    source: 'made up',
    kind: 'points',
    x: Float64Array.from(points, (p) => CENTRE[0] + p[0]),
    y: Float64Array.from(points, (p) => CENTRE[1] + p[1]),
    z: Float64Array.from(points, (p) => p[2]),
    statedSigma: null,
    breaklines: [],
    cellSize: null,
  };
};
