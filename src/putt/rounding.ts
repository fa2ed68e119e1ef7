import { metresToFeet, metresToInches, type UnitSystem } from '../units.js';
import type { Side } from './putt.js';

/** A figure as it is read on the green: no finer than a player can aim or feel. */
export interface AimReading {
  /** The side of the hole's centre to aim at, seen from the ball. */
  readonly side: Side;
  /** Figure and unit: "11 in", "3½ ft"; "28 cm", "1.1 m". Empty-handed putts read "0". */
  readonly figure: string;
}

const INCHES_TO_HALF_FEET = 36;
/** What is laid by a rule is told in inches farther than an aim: two tees a pace from the hole lie 51 in apart. */
const INCHES_LAID = 78;
/** From here on whole feet: nobody aims to half a foot so far beside the hole. */
const TO_WHOLE_FEET = 9.75;

/** Halves as a fraction mark: 3.5 becomes "3½", 0.5 becomes "½". */
const inHalves = (halves: number): string => {
  const whole = Math.floor(halves / 2);
  const half = halves % 2 === 1 ? '½' : '';
  return whole === 0 && half !== '' ? half : `${whole}${half}`;
};

const feetInHalves = (feet: number): string => `${inHalves(Math.round(feet * 2))} ft`;

/**
 * Aim beside the hole, from the solved offset in metres (positive left): whole inches under 3 ft, then
 * half feet, whole feet from 10 ft on; metric, whole centimetres under 90 cm, then tenths of a metre. What rounds to nothing is
 * straight.
 */
export const aimReading = (offset: number, units: UnitSystem): AimReading => {
  const size = Math.abs(offset);
  const side: Side = offset > 0 ? 'left' : 'right';
  if (!Number.isFinite(size)) return { side, figure: 'away' };
  if (units === 'metric') {
    const centimetres = Math.round(size * 100);
    if (centimetres === 0) return { side: 'straight', figure: '0' };
    if (centimetres < 90) return { side, figure: `${centimetres} cm` };
    return { side, figure: `${(Math.round(size * 10) / 10).toFixed(1)} m` };
  }
  const inches = Math.round(metresToInches(size));
  if (inches === 0) return { side: 'straight', figure: '0' };
  if (inches < INCHES_TO_HALF_FEET) return { side, figure: `${inches} in` };
  const feet = metresToFeet(size);
  return { side, figure: feet < TO_WHOLE_FEET ? feetInHalves(feet) : `${Math.round(feet)} ft` };
};

/**
 * Where something is laid, metres, not signed: half inches under 78 in, then half
 * feet; metric, whole centimetres under 1 m.
 */
export const layingReading = (length: number, units: UnitSystem): string => {
  const size = Math.abs(length);
  if (units === 'metric') {
    const centimetres = Math.round(size * 100);
    return centimetres < 100 ? `${centimetres} cm` : `${size.toFixed(2)} m`;
  }
  const halves = Math.round(2 * metresToInches(size));
  return halves < 2 * INCHES_LAID ? `${inHalves(halves)} in` : feetInHalves(metresToFeet(size));
};

/**
 * Pace, the length of the level putt in metres: half feet under 10 ft, then whole feet; metric, tenths
 * of a metre under 5 m, then halves.
 */
export const paceReading = (pace: number, units: UnitSystem): string => {
  if (units === 'metric') {
    const tenths = pace < 5 ? Math.round(pace * 10) : Math.round(pace * 2) * 5;
    return `${(tenths / 10).toFixed(1)} m`;
  }
  const feet = metresToFeet(pace);
  return feet < TO_WHOLE_FEET ? feetInHalves(feet) : `${Math.round(feet)} ft`;
};

/**
 * Pace as what it is more (+) or less (\u2212) than the putt's own length, metres: half feet under 3 ft, then whole
 * feet; metric, tenths of a metre under 1 m, halves under 10 m, then whole metres.
 */
export const paceChangeReading = (pace: number, length: number, units: UnitSystem): string => {
  const change = pace - length;
  const sign = change > 0 ? '+' : '\u2212';
  const size = Math.abs(change);
  if (units === 'metric') {
    const tenths = size < 1 ? Math.round(size * 10) : Math.round(size * 2) * 5;
    if (tenths >= 100) return `${sign}${Math.round(size)}`;
    return tenths === 0 ? '0' : `${sign}${(tenths / 10).toFixed(1)}`;
  }
  const feet = metresToFeet(size);
  const halves = feet < 2.75 ? Math.round(feet * 2) : 2 * Math.round(feet);
  return halves === 0 ? '0' : `${sign}${inHalves(halves)}`;
};

/** Length of a putt, metres: half feet or tenths of a metre, shown only where there are any. */
export const lengthReading = (length: number, units: UnitSystem): string =>
  units === 'metric' ? `${Number(length.toFixed(1))} m` : feetInHalves(metresToFeet(length));
