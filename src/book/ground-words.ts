import { metresToFeet, metresToInches, type UnitSystem } from '../units.js';

/** "1.4 m" or "4.6 ft". */
export const groundLength = (metres: number, units: UnitSystem): string =>
  units === 'metric' ? `${metres.toFixed(1)} m` : `${metresToFeet(metres).toFixed(1)} ft`;

/** Heights and widths: "35 cm" or "14 in". */
export const smallLength = (metres: number, units: UnitSystem): string =>
  units === 'metric'
    ? `${(100 * metres).toFixed(0)} cm`
    : `${metresToInches(metres).toFixed(0)} in`;

/** "12.0 ft on, 3.4 ft left". */
export const placeOnGreen = (
  [x, y]: readonly [number, number, ...number[]],
  units: UnitSystem,
): string =>
  `${groundLength(Math.abs(y) < 0.015 ? 0 : y, units)} on, ${groundLength(Math.abs(x), units)} ${x < 0 ? 'left' : 'right'}`;

/** A green speed in words: "10.5 ft", "3.20 m". */
export const stimpWords = (stimp: number, units: UnitSystem): string =>
  units === 'metric' ? `${stimp.toFixed(2)} m` : `${metresToFeet(stimp).toFixed(1)} ft`;
