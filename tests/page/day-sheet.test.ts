import { describe, expect, it } from 'vitest';
import type { Point } from '../../src/geometry.js';
import { bareLocation, type GreenContent } from '../../src/page/book-content.js';
import { bestMiss, distanceWords, fourEdges } from '../../src/page/day/place-words.js';
import { windMarks } from '../../src/page/day/wind-sign.js';
import type { PuttRegions } from '../../src/putt/lanes.js';
import { NO_TODAY } from '../event/no-today.js';

/** A round green, 30 paces deep and wide. */
const RADIUS = 15 * 0.9144;
const outline = Array.from({ length: 720 }, (_, i): Point => {
  const angle = (Math.PI * i) / 360;
  return [RADIUS * Math.cos(angle), RADIUS + RADIUS * Math.sin(angle)];
});
const greenWith = (on: number, inn: number, side: 'left' | 'right'): GreenContent =>
  ({
    outline,
    locations: [bareLocation({ name: '1', on, in: inn, side, at: [0, on * 0.9144] })],
  }) as unknown as GreenContent;

describe('the words of a place on the sheet', () => {
  it('make the depth and the width with the paces given', () => {
    expect(fourEdges(greenWith(12, 11, 'left'), {})).toEqual([
      '12 on',
      '11 left',
      '18 back',
      '18 right',
    ]);
    expect(fourEdges(greenWith(12.5, 4, 'right'), {})).toEqual([
      '12½ on',
      '4 right',
      '17½ back',
      '26 left',
    ]);
  });

  it('tell the hole, the green before and behind it, the rise and what is carried', () => {
    const found = {
      tees: 'Back',
      front: 385,
      hole: 393,
      back: 415,
      rise: -2,
      past: { kind: 'water' as const, length: 18 },
    };
    expect(distanceWords(found, { units: 'metric' })).toEqual({
      hole: '393',
      rise: '\u22122 m',
      others: ['385\u2013415', '18 past water'],
    });
    expect(distanceWords({ ...found, past: null }, { units: 'imperial' })).toEqual({
      hole: '430',
      rise: '\u22127 ft',
      others: ['421\u2013454'],
    });
  });
});

describe('the best miss', () => {
  const missing = (dx: number, dy: number): string | null => {
    const green = greenWith(15, 15, 'left');
    const [place] = green.locations;
    const best: Point = [place.at[0] + dx, place.at[1] + dy];
    const regions = { leave: { best } } as unknown as PuttRegions;
    return bestMiss({ ...green, locations: [{ ...place, regions }] }, {});
  };

  it.each([
    [0.2, -3, 'short'],
    [-2, -2.5, 'short left'],
    [3, 0.5, 'right'],
    [2, 2, 'long right'],
    [-0.5, 4, 'long'],
    [-4, -1, 'left'],
  ])('%f m across and %f m along is %s', (dx, dy, words) => {
    expect(missing(dx, dy)).toBe(words);
  });

  it('is not told off the green, nor where none is known', () => {
    expect(missing(0, -40)).toBeNull();
    expect(bestMiss(greenWith(15, 15, 'left'), {})).toBeNull();
  });
});

describe('the wind on the sheet', () => {
  const bearings = new Map([['1', 60]]);
  /** The shaft's ends, millimetres right and down of the middle. */
  const shaft = (from: number): number[][] => {
    const [mark] = windMarks({ ...NO_TODAY, bearings, wind: { speed: '9', from } }, '1', [0, 0]);
    return mark.kind === 'path' ? mark.steps.map((step) => step.slice(1) as number[]) : [];
  };

  it.each([
    [240, [0, -1]],
    [60, [0, 1]],
    [150, [-1, 0]],
    [330, [1, 0]],
  ])('from %i degrees blows on a hole that runs to 60 degrees toward %j', (from, [x, y]) => {
    const [tail, tip] = shaft(from);
    const reach = Math.hypot(tip[0] - tail[0], tip[1] - tail[1]);
    expect((tip[0] - tail[0]) / reach).toBeCloseTo(x, 9);
    expect((tip[1] - tail[1]) / reach).toBeCloseTo(y, 9);
  });

  it('has a ring to be drawn in where none is told, and nothing where the hole has no direction', () => {
    expect(windMarks({ ...NO_TODAY, bearings }, '1', [0, 0])).toHaveLength(1);
    expect(windMarks(NO_TODAY, '1', [0, 0])).toEqual([]);
  });
});
