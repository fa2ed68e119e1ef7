import type { HoleFigures } from '../../course/hole-figures.js';
import { shownLength } from '../hole/hole-words.js';
import { plainHoleName } from '../words/hole-name.js';
import { phrase, type Telling } from '../words/words.js';

/** One line of the card: a hole, or a sum of holes. */
export interface CardRow {
  readonly kind: 'hole' | 'sum';
  readonly number: string;
  readonly name: string;
  readonly par: number | null;
  readonly index: number | null;
  /** In the units shown, whole; one a tee of the card. */
  readonly lengths: readonly (number | null)[];
}

export interface Card {
  readonly tees: readonly string[];
  readonly rows: readonly CardRow[];
}

/**
 * The tees of the card: every name that a tee of the course has, from the longest course to the
 * shortest.
 */
const teeNames = (holes: readonly HoleFigures[]): string[] => {
  const totals = new Map<string, { sum: number; count: number }>();
  for (const hole of holes) {
    for (const tee of hole.tees) {
      const total = totals.get(tee.name) ?? { sum: 0, count: 0 };
      totals.set(tee.name, { sum: total.sum + tee.length, count: total.count + 1 });
    }
  }
  return [...totals]
    .sort(([a, s], [b, t]) => t.count - s.count || t.sum - s.sum || (a < b ? -1 : 1))
    .map(([name]) => name);
};

const sumOf = (values: readonly (number | null)[]): number | null =>
  values.every((value) => value !== null) ? values.reduce((a: number, b) => a + b!, 0) : null;

const sumRow = (name: string, rows: readonly CardRow[]): CardRow => ({
  kind: 'sum',
  number: '',
  name,
  par: sumOf(rows.map((row) => row.par)),
  index: null,
  lengths: rows[0].lengths.map((_, i) => sumOf(rows.map((row) => row.lengths[i]))),
});

/** Holes that are played together, with what their sum is called; null for a whole course without loops. */
interface Group {
  readonly name: string | null;
  readonly rows: readonly CardRow[];
}

/** By their order, as far as they have words of their own. */
const ORDINALS = [1, 2, 3, 4, 5, 6] as const;

const eighteenWords = (i: number, tell: Telling): string =>
  i < ORDINALS.length
    ? phrase(tell, `card.eighteen-${ORDINALS[i]}`)
    : phrase(tell, 'card.eighteen-nth', { number: i + 1 });

const nineWords = (i: number, tell: Telling): string =>
  i < ORDINALS.length ? phrase(tell, `card.nine-${ORDINALS[i]}`) : phrase(tell, 'card.nine-nth');

/** The loops of a course: those that have names, or eighteens where it has several; else one. */
const groupsOf = (
  holes: readonly HoleFigures[],
  rows: readonly CardRow[],
  tell: Telling,
): Group[] => {
  const loops = [...new Set(holes.map((hole) => hole.loop ?? null))];
  if (loops.length > 1) {
    return loops.map((loop) => ({
      name: loop ?? phrase(tell, 'card.other-holes'),
      rows: rows.filter((_, i) => (holes[i].loop ?? null) === loop),
    }));
  }
  if (rows.length <= 18 || rows.length % 18 !== 0) return [{ name: null, rows }];
  return Array.from({ length: rows.length / 18 }, (_, i) => ({
    name: eighteenWords(i, tell),
    rows: rows.slice(18 * i, 18 * (i + 1)),
  }));
};

/** The rows of a loop with a sum after each of its nines, and its own. */
const summed = ({ name, rows }: Group, tell: Telling): CardRow[] => {
  const all: CardRow[] = [];
  for (let from = 0; from < rows.length; from += 9) {
    const nine = rows.slice(from, from + 9);
    all.push(...nine);
    if (rows.length <= 9 || nine.length < 9) continue;
    const called =
      rows.length === 18
        ? phrase(tell, from === 0 ? 'card.out' : 'card.in')
        : nineWords(from / 9, tell);
    all.push(sumRow(called, nine));
  }
  return name === null ? all : [...all, sumRow(name, rows)];
};

/**
 * The card of a course: its holes in order, a sum after each nine and each loop, and one of all where it has
 * no loops by name. Lengths are rounded hole by hole and the sums are of the rounded figures, so that the card
 * adds up; a sum stands wherever all its holes have the tee.
 */
export const cardOf = (holes: readonly HoleFigures[], tell: Telling): Card => {
  const tees = teeNames(holes);
  const rows = holes.map(
    (hole): CardRow => ({
      kind: 'hole',
      number: hole.id,
      // Its number says it already.
      name: hole.name === plainHoleName(hole.id, tell) ? '' : hole.name,
      par: hole.par,
      index: hole.strokeIndex,
      lengths: tees.map((name) => {
        const tee = hole.tees.find((one) => one.name === name);
        return tee === undefined ? null : Math.round(shownLength(tee.length, tell.units));
      }),
    }),
  );
  if (rows.length === 0) return { tees, rows };
  const groups = groupsOf(holes, rows, tell);
  const named = holes.some((hole) => (hole.loop ?? null) !== null) && groups.length > 1;
  return {
    tees,
    rows: [
      ...groups.flatMap((group) => summed(group, tell)),
      ...(named ? [] : [sumRow(phrase(tell, 'card.total'), rows)]),
    ],
  };
};
