import type { UnevenField } from './uneven-field.js';

/** A field that the ground may have, with the logarithm of its chance before anything is read. */
export interface Possible {
  readonly field: UnevenField;
  /** By how much the readings are worse than they are taken for. */
  readonly factor: number;
  readonly logPrior: number;
}

/**
 * How uneven greens are, before one is measured: lengths over which they bend, from a shelf to a green that is one bowl,
 * metres, and grades that this adds to the plane's, from hardly any to as much as a steep plane; each as likely as
 * another (set; common practice, no source).
 */
const LENGTHS = [3.5, 5, 7, 10, 14];
const GRADES = [0.003, 0.006, 0.011, 0.02, 0.036];
const SHAPES = ['smooth', 'rough'] as const;
/** One who reads with care, and one who does not: factors of the error, and their chances (set; common practice, no source). */
const FACTORS: readonly (readonly [factor: number, chance: number])[] = [
  [1, 0.6],
  [1.6, 0.3],
  [2.5, 0.1],
];

export const possibleFields = (): Possible[] =>
  SHAPES.flatMap((shape) =>
    LENGTHS.flatMap((length) =>
      GRADES.flatMap((grade) =>
        FACTORS.map(([factor, chance]) => ({
          field: { shape, length, grade },
          factor,
          logPrior: Math.log(chance),
        })),
      ),
    ),
  );
