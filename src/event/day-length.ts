import { METRES_PER_FOOT, METRES_PER_PACE } from '../units.js';

/** A length as people write it: 12, 12.5, 12½, 4 1/2, with paces, metres or feet behind it. */
export const LENGTH = String.raw`(\d{1,3}(?:[.,]\d{1,3})?)(\s?½|\s1/2)?\s*(paces?|p|yards?|yds?|metres?|meters?|m|feet|ft|')?`;

const WHOLE = new RegExp(`^${LENGTH}$`, 'i');

/** Paces in one of a unit as written; null for a word that is none. */
export const pacesPerUnit = (unit: string): number | null => {
  const word = unit.trim().toLowerCase();
  if (/^(|p|paces?|yards?|yds?)$/.test(word)) return 1;
  if (/^(m|metres?|meters?)$/.test(word)) return 1 / METRES_PER_PACE;
  if (/^(ft|feet|')$/.test(word)) return METRES_PER_FOOT / METRES_PER_PACE;
  return null;
};

/** The parts of `LENGTH` as paces; `unit` is meant where none is written. */
export const pacesOfParts = (
  number: string,
  half: string | undefined,
  unit: string | undefined,
  meant: string,
): number => {
  const count = Number(number.replace(',', '.')) + (half === undefined ? 0 : 0.5);
  return count * (pacesPerUnit(unit ?? meant) ?? Number.NaN);
};

/** A cell as paces; NaN when it is no length. `unit` is meant where none is written. */
export const pacesOfCell = (cell: string, unit = ''): number => {
  const found = WHOLE.exec(cell.trim());
  return found === null ? Number.NaN : pacesOfParts(found[1], found[2], found[3], unit);
};
