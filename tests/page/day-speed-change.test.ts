import { describe, expect, it } from 'vitest';
import { loadLayout } from '../../src/layout/layout-file.js';
import type { GreenContent, LocationContent } from '../../src/page/book-content.js';
import { bareLocation } from '../../src/page/book-content.js';
import { daySpeedChangeModule } from '../../src/page/day/day-speed-change.js';
import type { DayPageContext } from '../../src/page/kit/page-modules.js';
import { textMarksOf } from '../../src/page/marks/mark-texts.js';
import type { BreakTable } from '../../src/putt/putt.js';
import { feetToMetres, inchesToMetres } from '../../src/units.js';

const FEET = feetToMetres(1);
const layout = loadLayout('day');
const cell = { x: 5, y: 150, width: 97, height: 7 };

/** A table of the given aims, inches; null is a putt that no pace holds. */
const tableOf = (stimp: number, inches: readonly (number | null)[]): BreakTable =>
  ({
    settings: { stimp: stimp * FEET, past: 0.3 },
    cells: inches.map((aim) =>
      aim === null
        ? { outcome: 'no-pace', putt: null }
        : { outcome: 'solved', putt: { aimOffset: inchesToMetres(aim) } },
    ),
  }) as unknown as BreakTable;

const placeWith = (
  own: readonly (number | null)[],
  other: typeof own,
  step = 1,
): LocationContent => ({
  ...bareLocation({ name: '1', on: 8, in: 5, side: 'left', at: [0, 7] }),
  table: tableOf(10, own),
  atSpeeds: [tableOf(10 + step, other)],
});

const wordsOn = (
  locations: readonly LocationContent[],
  units: 'imperial' | 'metric' = 'imperial',
  use = layout.use,
): string[] => {
  const book = {
    units,
    greens: locations.map((one) => ({ locations: [one] }) as unknown as GreenContent),
  };
  const context = { layout: { ...layout, use }, book } as unknown as DayPageContext;
  return textMarksOf(daySpeedChangeModule(context, cell)).map(({ text }) => text);
};

describe('what a foot of speed changes, on the sheet of the day', () => {
  const aims = [4, -6, 8, 10, -12, 15, 20, -25, 30, 35, 40, -60];

  it('is how much farther from the hole the aims are, at five sizes', () => {
    const faster = aims.map((aim) => aim * 1.1);
    expect(wordsOn([placeWith(aims, faster)])).toEqual([
      'aim beside the hole',
      ...['6″', '12″', '24″', '3′', '5′'],
      '1 ft faster: farther from it by',
      ...['+1″', '+1″', '+2″', '+4″', '+6″'],
    ]);
    const slower = aims.map((aim) => aim * 0.9);
    expect(wordsOn([placeWith(aims, slower, -1)]).slice(6)).toEqual([
      '1 ft slower: farther from it by',
      ...['\u22121″', '\u22121″', '\u22122″', '\u22124″', '\u22126″'],
    ]);
  });

  it('says the unit where its figures do not', () => {
    const [head, first] = wordsOn([placeWith(aims, aims)], 'metric');
    expect([head, first]).toEqual(['aim beside the hole, cm', '15']);
  });

  it('is told from and to where the middle half of the putts differ', () => {
    const half = aims.map((aim, i) => aim * (i % 2 === 0 ? 1.05 : 1.2));
    const told = wordsOn([placeWith(aims, half), placeWith(aims, half)]).slice(7);
    expect(told).toEqual(['+0–1″', '+1–2″', '+1–5″', '+2–7″', '+3–12″']);
  });

  it('leaves out aims of less than 3 in and more than 10 ft, and putts without a pace', () => {
    const own = [...aims, 2, 130, 20, null];
    const other = [...aims.map((aim) => aim * 1.1), 8, 400, null, 20];
    expect(wordsOn([placeWith(own, other)]).slice(7)).toEqual(['+1″', '+1″', '+2″', '+4″', '+6″']);
  });

  it('is not told of few putts, of unlike steps, of one speed, or to a Committee’s sheet', () => {
    const faster = aims.map((aim) => aim * 1.1);
    const place = placeWith(aims, faster);
    expect(wordsOn([placeWith(aims.slice(1), faster.slice(1))])).toEqual([]);
    expect(wordsOn([place, placeWith(aims, faster, 2)])).toEqual([]);
    expect(wordsOn([{ ...place, atSpeeds: [] }])).toEqual([]);
    expect(wordsOn([place], 'imperial', 'committee')).toEqual([]);
  });
});
