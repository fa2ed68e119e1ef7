import { isStimpReading } from '../stimp-readings.js';
import { feetToMetres, inchesToMetres } from '../units.js';

/** Lengths, aims and speeds as people write them down. */

const METRES_PER: Readonly<Record<string, (value: number) => number>> = {
  in: inchesToMetres,
  '"': inchesToMetres,
  ft: feetToMetres,
  "'": feetToMetres,
  cm: (value) => value / 100,
  m: (value) => value,
};

const AIM = /^(\d+(?:\.\d+)?)(½)?\s*(in|"|ft|'|cm|m)\s*(left|right|l|r)$/i;
const SPEED = /^(\d+(?:\.\d+)?)\s*(ft|m)$/i;

/** Metres, positive left; null for words that are no aim. */
export const aimOfWords = (words: string): number | null => {
  if (/^(straight|0)$/i.test(words.trim())) return 0;
  const found = AIM.exec(words.trim());
  if (found === null) return null;
  const [, number, half, unit, side] = found;
  const size = METRES_PER[unit.toLowerCase()](Number(number) + (half === undefined ? 0 : 0.5));
  return /^l/i.test(side) ? size : -size;
};

/** A green speed, metres of stimp reading; null for words that are none. */
export const speedOfWords = (words: string): number | null => {
  const found = SPEED.exec(words.trim());
  if (found === null) return null;
  const stimp = METRES_PER[found[2].toLowerCase()](Number(found[1]));
  return isStimpReading(stimp) ? stimp : null;
};

const PART = String.raw`(\d+(?:\.\d+)?)\s*(in|"|ft|'|cm|m)`;
const LENGTH_WORDS = new RegExp(`^${PART}(?:\\s*${PART})?$`, 'i');

/** "9ft 2in", "2.79 m": metres; null for words that are no length. */
export const lengthOfWords = (words: string): number | null => {
  const found = LENGTH_WORDS.exec(words.trim());
  if (found === null) return null;
  const [, first, unit, second, small] = found;
  const whole = METRES_PER[unit.toLowerCase()](Number(first));
  return second === undefined ? whole : whole + METRES_PER[small.toLowerCase()](Number(second));
};

/** Speeds at which a ramp lets a ball go, m/s. */
const [SOFTEST, HARDEST] = [0.3, 6];
const RELEASE = /^(\d+(?:\.\d+)?)\s*(m|ft)\/s$/i;

/** "1.83 m/s", "6 ft/s": metres a second; null for words that are no speed at which a ramp lets a ball go. */
export const releaseOfWords = (words: string): number | null => {
  const found = RELEASE.exec(words.trim());
  if (found === null) return null;
  const release = METRES_PER[found[2].toLowerCase()](Number(found[1]));
  return release >= SOFTEST && release <= HARDEST ? release : null;
};
