import { describe, expect, it } from 'vitest';
import {
  degreesToRadians,
  feetToMetres,
  inchesToMetres,
  METRES_PER_FOOT,
  METRES_PER_US_SURVEY_FOOT,
  metresToFeet,
  metresToInches,
  metresToPaces,
  metresToYards,
  mmToPoints,
  pacesToMetres,
  pointsToMm,
  radiansToDegrees,
  yardsToMetres,
} from '../src/units.js';

/** Each conversion against a figure of its definition. Source: NIST Special Publication 811, appendix B. */
describe('the conversions', () => {
  it.each([
    [inchesToMetres, 12, 0.3048],
    [metresToInches, 1, 39.37007874],
    [feetToMetres, 10, 3.048],
    [metresToFeet, 1, 3.280839895],
    [yardsToMetres, 100, 91.44],
    [metresToYards, 100, 109.3613298],
    [pacesToMetres, 10, 9.144],
    [metresToPaces, 9.144, 10],
    [pointsToMm, 72, 25.4],
    [mmToPoints, 25.4, 72],
    [degreesToRadians, 180, Math.PI],
    [radiansToDegrees, Math.PI / 6, 30],
  ] as const)('%o of %f', (convert, value, expected) => {
    expect(convert(value)).toBeCloseTo(expected, 7);
  });

  it('tell the US survey foot from the international one', () => {
    expect(METRES_PER_US_SURVEY_FOOT).toBeCloseTo(0.3048006096, 10);
    expect(METRES_PER_FOOT).toBe(0.3048);
  });
});
