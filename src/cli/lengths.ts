import { InputFault, quoted } from '../fault.js';
import type { Point } from '../geometry.js';
import { INPUT_LIMITS } from '../input-limits.js';
import { ownValue } from '../own-value.js';
import { isStimpReading, STIMP_READINGS } from '../stimp-readings.js';
import {
  METRES_PER_FOOT,
  METRES_PER_INCH,
  METRES_PER_PACE,
  METRES_PER_YARD,
  metresToFeet,
} from '../units.js';

const METRES_PER_UNIT: Readonly<Record<string, number>> = {
  in: METRES_PER_INCH,
  '"': METRES_PER_INCH,
  ft: METRES_PER_FOOT,
  "'": METRES_PER_FOOT,
  yd: METRES_PER_YARD,
  paces: METRES_PER_PACE,
  pace: METRES_PER_PACE,
  mm: 0.001,
  cm: 0.01,
  m: 1,
};

type BareUnit = 'in' | 'ft' | 'cm' | 'm';

/** Metres over zero; null for what is no such length. */
const lengthOf = (value: string, bare: BareUnit): number | null => {
  const match =
    value.length > INPUT_LIMITS.length
      ? null
      : /^\s*(\d+(?:\.\d*)?|\.\d+)\s*([a-z"']*)\s*$/i.exec(value);
  const factor =
    match === null
      ? undefined
      : ownValue(METRES_PER_UNIT, match[2] === '' ? bare : match[2].toLowerCase());
  const metres = match === null || factor === undefined ? Number.NaN : Number(match[1]) * factor;
  return metres > 0 ? metres : null;
};

/** "12in", "1 ft", "30cm", "10" (in the bare unit): metres, over zero. */
export const lengthArgument = (option: string, value: string, bare: BareUnit): number => {
  const metres = lengthOf(value, bare);
  if (metres !== null) return metres;
  throw new InputFault(
    { file: 'command line', place: option },
    `${quoted(value)} is not a length over zero`,
    'write a number and its unit: 12in, 1ft, 30cm, 0.3m',
  );
};

/** "X,Y" as a point. */
export const pointArgument = (option: string, value: string): Point => {
  const parts = value.split(',').map((part) => part.trim());
  const [x, y] = parts.map(Number);
  if (parts.length !== 2 || parts.includes('') || !Number.isFinite(x) || !Number.isFinite(y)) {
    throw new InputFault(
      { file: 'command line', place: option },
      `${quoted(value)} is not a point`,
      'write X,Y in metres of the survey',
    );
  }
  return [x, y];
};

/** "12,5,left": paces on, paces in, side. */
export const pacesArgument = (
  option: string,
  text: string,
): { on: number; in: number; side: 'left' | 'right' } => {
  const [on, paces, side, ...more] = text
    .split(/[\s,;]+/)
    .filter((part) => part !== '' && part !== 'on' && part !== 'from');
  const numbers = [Number(on), Number(paces)];
  if (more.length === 0 && numbers.every((n) => n >= 0) && (side === 'left' || side === 'right')) {
    return { on: numbers[0], in: numbers[1], side };
  }
  throw new InputFault(
    { file: 'command line', place: option },
    `${quoted(text)} is no hole location`,
    `write paces on, paces in and the side: ${option} 12,5,left`,
  );
};

/** A bare number this small is hardly feet: no green is so slow, and many are as fast in metres. */
const METRIC_BELOW = 5;

const [SLOWEST] = STIMP_READINGS;

/** A green speed, metres of stimp reading; a bare number is in feet by definition, whatever the units shown. */
export const stimpArgument = (option: string, value: string): number => {
  const stimp = lengthOf(value, 'ft');
  if (stimp === null) {
    throw new InputFault(
      { file: 'command line', place: option },
      `${quoted(value)} is not a green speed`,
      'write the stimp reading: 11.5 (feet) or 3.5m',
    );
  }
  if (stimp >= SLOWEST && Number(value) < METRIC_BELOW) {
    throw new InputFault(
      { file: 'command line', place: option },
      `${quoted(value)} could be metres (${metresToFeet(Number(value)).toFixed(1)} ft) or feet`,
      `write ${value.trim()}m or ${value.trim()}ft`,
    );
  }
  if (isStimpReading(stimp)) return stimp;
  throw new InputFault(
    { file: 'command line', place: option },
    `${quoted(value)} is no stimp reading`,
    'readings lie between 2 and 20 ft (0.6 and 6.1 m); write 11.5 (feet) or 3.5m',
  );
};
