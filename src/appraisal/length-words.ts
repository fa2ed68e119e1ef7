import { metresToFeet, metresToInches, type UnitSystem } from '../units.js';

/** Lengths of the ground, of heights, and areas, as they are shown. */
export interface LengthWords {
  readonly length: (metres: number) => string;
  readonly small: (metres: number) => string;
  readonly signed: (metres: number) => string;
  readonly area: (squareMetres: number) => string;
}

export const lengthWordsIn = (units: UnitSystem): LengthWords => {
  const small = (metres: number): string =>
    units === 'metric'
      ? `${(1000 * metres).toFixed(0)} mm`
      : `${metresToInches(metres).toFixed(2)} in`;
  return {
    length: (metres) =>
      units === 'metric' ? `${metres.toFixed(1)} m` : `${metresToFeet(metres).toFixed(1)} ft`,
    small,
    signed: (metres) => `${metres < 0 ? '−' : '+'}${small(Math.abs(metres))}`,
    area: (squareMetres) =>
      units === 'metric'
        ? `${Math.round(squareMetres)} m²`
        : `${Math.round(squareMetres * metresToFeet(1) ** 2)} sq ft`,
  };
};
