import type { InputFault } from '../fault.js';
import { quoted } from '../fault.js';
import { nearestWord } from '../nearest-word.js';
import { ownValue } from '../own-value.js';
import { pacesPerUnit } from './day-length.js';

const NAMES = [
  'hole',
  'day',
  'on',
  'in',
  'side',
  'back',
  'tees',
  'left',
  'right',
  'depth',
] as const;
type Name = (typeof NAMES)[number];

export interface DayColumn {
  readonly name: Name;
  /** As the header has it, in the words of `pacesPerUnit`; empty: paces. */
  readonly unit: string;
}

/** The header of a whole file of days. */
export const HEADER = 'hole,day,on,in,side';

/** Other words that stand over such columns; common practice, no source. */
const OTHER_WORDS: Readonly<Record<string, Name>> = {
  front: 'on',
  'from front': 'on',
  'from back': 'back',
  'from side': 'in',
  round: 'day',
  no: 'hole',
  tee: 'tees',
  'from left': 'left',
  'from right': 'right',
  'l/r': 'side',
  deep: 'depth',
};

const columnOf = (cell: string): DayColumn | null => {
  const [, words, unit] = /^(.*?)\s*(?:\(([a-z']*)\))?$/.exec(cell) ?? [];
  const name = NAMES.find((one) => one === words) ?? ownValue(OTHER_WORDS, words ?? '');
  return name === undefined || pacesPerUnit(unit ?? '') === null
    ? null
    : { name, unit: unit ?? '' };
};

/** Whether a line's cells, in small letters, look as if they named columns, rightly or not quite. */
export const namesColumns = (cells: readonly string[]): boolean =>
  cells.some((cell) => columnOf(cell) !== null || nearestWord(cell, NAMES) !== undefined);

/** The order in which a line in words has its figures. */
const IN_WORDS: readonly Name[] = ['hole', 'on', 'in', 'side'];

/**
 * Whether cells, in small letters, over lines that are read in words may be passed over: they name the columns of such
 * lines in their order, or none at all.
 */
export const areNamedAsInWords = (cells: readonly string[]): boolean => {
  const names = cells.map((cell) => columnOf(cell)?.name);
  if (names.every((name) => name === undefined)) return true;
  const places = names.map((name) => (name === undefined ? -1 : IN_WORDS.indexOf(name)));
  return places.every((place, i) => place > (places[i - 1] ?? -1));
};

/**
 * The columns of a file of days by the cells of its first line, in small letters. `day` may be missing
 * when the file is read for one day, `on` when there is `back`, `side` when the cells of `in` hold it; `left` and
 * `right`, of which a line fills one, stand for both `in` and `side`.
 *
 * @throws what `fault` makes, when a column is unknown, missing or there twice.
 */
export const dayHeader = (
  cells: readonly string[],
  day: number | undefined,
  fault: (problem: string, cure: string) => InputFault,
): DayColumn[] => {
  const cure = `the first line names the columns: ${HEADER}`;
  const named = cells.map((cell): DayColumn => {
    const column = columnOf(cell);
    if (column !== null) return column;
    const near = nearestWord(cell, NAMES);
    throw fault(
      `unknown column ${quoted(cell)}`,
      near === undefined ? cure : `did you mean ${quoted(near)}? ${cure}`,
    );
  });
  const isThere = (name: Name): boolean => named.some((one) => one.name === name);
  // A side alone holds its figure, too: "5 L".
  const columns = named.map(
    (one): DayColumn => (one.name === 'side' && !isThere('in') ? { ...one, name: 'in' } : one),
  );
  const count = (name: Name): number => columns.filter((one) => one.name === name).length;
  const bySides = count('left') + count('right') > 0;
  if (bySides && count('in') + count('side') > 0) {
    throw fault('columns for left or right stand beside "in" or "side"', 'leave one of both out');
  }
  const spared: readonly Name[] = [
    ...(['tees', 'back', 'left', 'right', 'depth'] as const),
    ...(bySides ? (['in', 'side'] as const) : []),
    ...(day === undefined ? [] : (['day', 'side'] as const)),
    ...(count('back') > 0 ? (['on'] as const) : []),
  ];
  for (const name of NAMES) {
    if (count(name) === 0 && !spared.includes(name)) {
      throw fault(`the column ${quoted(name)} is missing`, cure);
    }
    if (count(name) > 1) throw fault(`the column ${quoted(name)} stands twice`, cure);
  }
  return columns;
};
