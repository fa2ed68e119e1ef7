import { InputFault, quoted } from '../fault.js';
import { METRES_PER_YARD } from '../units.js';

/** Where the tee markers stand today. */
export interface TodaysTees {
  /** The tees played, by their name on the card; null: the longest. */
  readonly name: string | null;
  /** How far they stand behind their mark on the card, metres; negative: before it. */
  readonly behind: number;
}

const SHIFT = /^(.*?)\s*(?:([+\u2212-]\s*\d{1,3}(?:\.\d{1,2})?)\s*(m|yd|yds|yards)?)?$/i;

/**
 * "Moor", "+6", "Moor -10", "-5m": yards where no unit is written.
 *
 * @throws what `fault` makes.
 */
export const todaysTees = (text: string, fault: (problem: string) => InputFault): TodaysTees => {
  const [, name, shift, unit] = SHIFT.exec(text.trim().slice(0, 80)) ?? [];
  if (name === undefined || /\d\s*$/.test(name)) throw fault(`${quoted(text)} names no tees`);
  const amount = Number((shift ?? '0').replace('\u2212', '-').replaceAll(/\s/g, ''));
  return {
    name: name === '' ? null : name,
    behind: unit?.toLowerCase() === 'm' ? amount : amount * METRES_PER_YARD,
  };
};

/**
 * Tees of the whole course and of single holes: "Moor", "Moor, 7:+6, 12:Shore -4". What is said of a hole
 * stands over what is said of all.
 */
export const teesOfCourse = (
  text: string,
  place: string,
): { readonly all: TodaysTees; readonly ofHole: ReadonlyMap<string, TodaysTees> } => {
  const fault = (problem: string): InputFault =>
    new InputFault({ file: 'command line', place }, problem, 'write as in: Moor, 7:+6, 12:-10');
  const ofHole = new Map<string, TodaysTees>();
  let all: TodaysTees = { name: null, behind: 0 };
  for (const part of text.split(',')) {
    const [hole, tees] = part.includes(':') ? part.split(/:(.*)/) : [null, part];
    if (hole === null) all = todaysTees(tees, fault);
    else ofHole.set(hole.trim(), todaysTees(tees, fault));
  }
  return { all, ofHole };
};
