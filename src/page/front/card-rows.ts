import type { HoleFigures } from '../../course/hole-figures.js';
import type { UnitSystem } from '../../units.js';
import { shownLength } from '../hole/hole-words.js';

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

/**
 * The card of a course: its holes in order, a sum after each nine and one of all. Lengths are rounded
 * hole by hole and the sums are of the rounded figures, so that the card adds up.
 */
export const cardOf = (holes: readonly HoleFigures[], units: UnitSystem): Card => {
  const tees = teeNames(holes);
  const rows = holes.map(
    (hole): CardRow => ({
      kind: 'hole',
      number: hole.id,
      name: hole.name,
      par: hole.par,
      index: hole.strokeIndex,
      lengths: tees.map((name) => {
        const tee = hole.tees.find((one) => one.name === name);
        return tee === undefined ? null : Math.round(shownLength(tee.length, units));
      }),
    }),
  );
  if (rows.length === 0) return { tees, rows };
  const nines: CardRow[] = [];
  const names = rows.length === 18 ? ['out', 'in'] : ['first nine', 'second nine', 'third nine'];
  for (let from = 0; from < rows.length; from += 9) {
    const nine = rows.slice(from, from + 9);
    nines.push(...nine);
    if (rows.length > 9 && nine.length === 9) {
      nines.push(sumRow(names[from / 9] ?? 'nine holes', nine));
    }
  }
  return { tees, rows: [...nines, sumRow('total', rows)] };
};
