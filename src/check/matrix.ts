import type { Point } from '../geometry.js';
import type { PathStep } from '../page/marks/marks.js';

/** x' = a x + c y + e, y' = b x + d y + f (ISO 32000-1, 8.3.3). */
export type Matrix = readonly [a: number, b: number, c: number, d: number, e: number, f: number];

export const IDENTITY: Matrix = [1, 0, 0, 1, 0, 0];

/** `first`, then `then`. */
export const multiply = (first: Matrix, then: Matrix): Matrix => {
  const [a, b, c, d, e, f] = first;
  const [p, q, r, s, t, u] = then;
  return [
    a * p + b * r,
    a * q + b * s,
    c * p + d * r,
    c * q + d * s,
    e * p + f * r + t,
    e * q + f * s + u,
  ];
};

export const apply = ([a, b, c, d, e, f]: Matrix, x: number, y: number): Point => [
  a * x + c * y + e,
  b * x + d * y + f,
];

/** The factor by which a length grows, averaged over directions. */
export const scaleOf = ([a, b, c, d]: Matrix): number => Math.sqrt(Math.abs(a * d - b * c));

const applyToStep = (matrix: Matrix, step: PathStep): PathStep => {
  switch (step[0]) {
    case 'M':
    case 'L':
      return [step[0], ...apply(matrix, step[1], step[2])];
    case 'C':
      return [
        'C',
        ...apply(matrix, step[1], step[2]),
        ...apply(matrix, step[3], step[4]),
        ...apply(matrix, step[5], step[6]),
      ];
    case 'Z':
      return step;
  }
};

export const applyToSteps = (matrix: Matrix, steps: readonly PathStep[]): PathStep[] =>
  steps.map((step) => applyToStep(matrix, step));
