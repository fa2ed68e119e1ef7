import { describe, expect, test } from 'vitest';
import { checkMap } from '../../src/course/check-map.js';
import type { CourseMap } from '../../src/course/course-map.js';
import { mapOfCourse } from '../../src/course/courses-in-map.js';
import { siteOfHole } from '../../src/course/hole-site.js';
import { readMap } from '../../src/course/read-map.js';
import { settleMap } from '../../src/course/settle-map.js';
import { atDepth } from '../depth.js';
import { isRightHole } from './right-hole.js';
import { GROUNDS, type Grounds, HABITS, type RingHole, ringCourse } from './ring-course.js';
import { FORMS, writtenAs } from './untidy-writers.js';

/** The book's number of a hole: loops that no word names may bear any letter, each the same over its holes. */
const idsOf = (map: CourseMap, ids: readonly string[], holes: readonly RingHole[]): string[] => {
  const letters = new Map<string, string>();
  return holes.map((hole) => {
    const loop = /^\?(\d+):(\d+)$/.exec(hole.id);
    if (loop === null) return hole.id;
    const [, key, number] = loop;
    if (!letters.has(key)) {
      const own = ids.find(
        (id) => id.slice(1) === number && siteOfHole(map, id, null).green?.tags.uid === hole.green,
      );
      letters.set(key, own?.slice(0, 1) ?? '?');
    }
    return `${letters.get(key)}${number}`;
  });
};

/** Wrong without a word, and wrong and told, of one map. */
const judged = (grounds: Grounds, habit: (typeof HABITS)[number], seed: number) => {
  const truth = ringCourse(grounds, habit, seed);
  const read = readMap(writtenAs(FORMS[seed % FORMS.length], truth), 'map');
  const course = grounds === 'thirty-six by boundaries' ? 'old ring' : null;
  const { map, holes, findings } = settleMap(mapOfCourse(read, course));
  const words = [...findings, ...checkMap(map)].map((one) => one.problem).join('\n');
  const known = holes.map((one) => one.id);
  const ids = idsOf(map, known, truth.holes);
  const wrong = truth.holes.flatMap((hole, i) =>
    isRightHole(map, ids[i], hole, 45) ? [] : [ids[i]],
  );
  const isTold = (id: string): boolean =>
    (holes.find((one) => one.id === id)?.look.length ?? 0) > 0 ||
    new RegExp(`\\bhole ${id}\\b`).test(words);
  return {
    count: known.length - truth.holes.length,
    silent: wrong.filter((id) => !isTold(id)),
    told: wrong.filter(isTold),
  };
};

/** Seeds from 115300 on judge; those from 115000 to 115113 were looked at while the settling was mended. */
const SEEDS = Array.from({ length: atDepth(1, 2, 4) }, (_, i) => 115_300 + i);

const TAKEN = GROUNDS.map((one, g) => [one, g] as const).filter(([, g]) =>
  atDepth(g % 3 === 0, true),
);

describe.each(TAKEN)('%s', { tags: 'deep' }, (grounds, g) => {
  const habits = HABITS.filter((_, h) => atDepth(h === (5 * g) % HABITS.length, true));
  test.each(habits.map((habit) => [habit.name, habit] as const))('drawn %s', (_, habit) => {
    for (const seed of SEEDS) {
      const { count, silent, told } = judged(grounds, habit, seed + g);
      expect({ count, silent }, `${seed + g}`).toEqual({ count: 0, silent: [] });
      // Where two rings lie close a pair of holes may be exchanged, and it is told (seed 115308: of 36 holes two).
      expect(told.length, `${seed + g}: ${told}`).toBeLessThanOrEqual(2);
    }
  });
});

test('loops by letters, by colours in the names and by the walks are each a loop of the card', () => {
  const loopsOf = (grounds: Grounds): (string | null)[] => {
    const text = writtenAs('geojson', ringCourse(grounds, HABITS[0], 115_070));
    return [...new Set(settleMap(readMap(text, 'map')).holes.map((hole) => hole.loop))];
  };
  expect(loopsOf('twenty-seven by letters')).toEqual(['A', 'B', 'C']);
  expect(loopsOf('twenty-seven by colours in the name')).toEqual(['Blue', 'Gold', 'Red']);
  expect(loopsOf('twenty-seven without a word')).toEqual(['A', 'B', 'C']);
  expect(loopsOf('twenty-seven in a row')).toEqual([null]);
});

test('a tee among those of two holes goes to the one that lacks its colour', () => {
  // Two tees by the starts of two lines 30 m apart; the red one of hole 2 lies nearer to hole 1.
  const at = (x: number, y: number) => [7 + x / 77_000, 46 + y / 111_320];
  const feature = (properties: object, type: string, coordinates: unknown) => ({
    type: 'Feature',
    properties,
    geometry: { type, coordinates },
  });
  const line = (ref: string, x: number) =>
    feature({ golf: 'hole', ref }, 'LineString', [at(x, 0), at(x, 300)]);
  const tee = (colour: string, x: number, y: number) =>
    feature({ golf: 'tee', colour }, 'Point', at(x, y));
  const tees = [tee('white', 0, 0), tee('red', 1, 9), tee('white', 30, 0), tee('red', 13, 2)];
  const features = [line('1', 0), line('2', 30), ...tees];
  const text = JSON.stringify({ type: 'FeatureCollection', features });
  const { map, holes } = settleMap(readMap(text, 'map'));
  for (const id of ['1', '2']) {
    expect(
      siteOfHole(map, id, null)
        .tees.map((one) => one.name)
        .sort(),
    ).toEqual(['Red', 'White']);
  }
  expect(holes[1].look.join()).toMatch(/as near to hole 1/);
  for (const { look } of holes) expect(new Set(look).size).toBe(look.length);
});

test('a tee of several colours is one of each set, where its hole has no other of that colour', () => {
  const habit = HABITS.find(({ name }) => name === 'with tees as points, several colours to one')!;
  const text = writtenAs('geojson', ringCourse('nine', habit, 115_050));
  const { map } = settleMap(readMap(text, 'map'));
  const { tees } = siteOfHole(map, '4', null);
  expect(tees.map((tee) => tee.name).sort()).toEqual(['Red', 'White', 'Yellow']);
  const [white, yellow] = ['White', 'Yellow'].map((name) => tees.find((tee) => tee.name === name)!);
  expect(yellow.shape).toEqual(white.shape);
  expect(yellow.id).not.toBe(white.id);
  const own = text.replace('"red"', '"red;white"');
  const again = siteOfHole(settleMap(readMap(own, 'map')).map, '1', null).tees;
  expect(again.map((tee) => tee.name).sort()).toEqual(['Red', 'White', 'Yellow']);
});
