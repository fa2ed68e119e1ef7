import { InputFault, quoted } from '../fault.js';
import type { Point } from '../geometry.js';
import { isStimpReading } from '../stimp-readings.js';
import { feetToMetres } from '../units.js';
import type { ProofState } from './proof-book.js';

/** No green reaches farther, metres. */
const FARTHEST = 500;

const fault = (name: string, value: string, cure: string): InputFault =>
  new InputFault({ file: 'address', place: name }, `${quoted(value)} is not understood`, cure);

const numberOf = (name: string, value: string, cure: string): number => {
  if (/^-?\d{1,6}(\.\d{0,20})?(e-\d{1,2})?$/.test(value)) return Number(value);
  throw fault(name, value, cure);
};

/** The day and the speed (feet, or metres with an m) in an address; empty means the book's own. */
export const stateOf = (query: URLSearchParams, days: readonly number[]): ProofState => {
  const dayText = query.get('day') ?? '';
  const speedText = (query.get('speed') ?? '').trim();
  let day: number | null = null;
  if (dayText !== '') {
    day = numberOf('day', dayText, 'give the number of a day');
    if (!days.includes(day)) {
      throw fault('day', dayText, `there are days ${days.join(', ')}`);
    }
  }
  if (speedText === '') return { day, stimp: null };
  const metric = /m$/i.test(speedText);
  const cure = 'a stimp reading lies between 2 and 20 ft; write metres as 3.5m';
  const value = numberOf('speed', speedText.replace(/\s*(ft|m)$/i, ''), cure);
  const stimp = metric ? value : feetToMetres(value);
  if (!isStimpReading(stimp)) {
    throw fault('speed', speedText, cure);
  }
  return { day, stimp };
};

/** "x,y", metres in the frame of the green, or millimetres on a page. */
export const pointOf = (query: URLSearchParams, name: string): Point => {
  const text = query.get(name) ?? '';
  const parts = text.split(',');
  const cure = 'give x,y in metres of the green, or in millimetres of the page';
  if (parts.length !== 2) throw fault(name, text, cure);
  const [x, y] = parts.map((part) => numberOf(name, part, cure));
  if (Math.abs(x) > FARTHEST || Math.abs(y) > FARTHEST) throw fault(name, text, cure);
  return [x, y];
};

/** Paces from the hole to each tee of a station; one where the address names none. */
export const pacesOf = (query: URLSearchParams): number => {
  const text = query.get('step') ?? '1';
  const cure = 'give paces from the hole to each tee';
  return numberOf('step', text, cure);
};
