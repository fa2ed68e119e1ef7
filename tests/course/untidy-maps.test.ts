import { describe, expect, test } from 'vitest';
import { checkMap } from '../../src/course/check-map.js';
import { mapOfCourse } from '../../src/course/courses-in-map.js';
import { readMap } from '../../src/course/read-map.js';
import { settleMap } from '../../src/course/settle-map.js';
import { atDepth } from '../depth.js';
import { isRightHole } from './right-hole.js';
import { UNTIDY, type UntidyKind } from './untidy-corpus.js';
import type { UntidyMap } from './untidy-course.js';
import { FORMS, type MapForm, writtenAs } from './untidy-writers.js';
import { wanderingCourse } from './wandering-course.js';

interface Outcome {
  /** Holes answered wrongly without a word about them. */
  readonly silent: string[];
  /** Holes answered wrongly, or not at all, and told. */
  readonly told: string[];
  readonly words: string;
}

const outcomeOf = (kind: UntidyKind, truth: UntidyMap, form: MapForm): Outcome => {
  const read = readMap(writtenAs(form, truth), form);
  const { map, holes, findings } = settleMap(mapOfCourse(read, kind.course ?? null));
  const all = [...findings, ...checkMap(map)];
  const words = all.map((one) => `${one.problem}; ${one.cure}`).join('\n');
  const silent: string[] = [];
  const told: string[] = [];
  for (const hole of truth.holes) {
    const said = holes.find((one) => one.id === hole.id);
    if (isRightHole(map, hole.id, hole, 40)) continue;
    const doubted = (said?.look.length ?? 0) > 0 || new RegExp(`\\bhole ${hole.id}\\b`).test(words);
    (doubted ? told : silent).push(`${hole.id}: ${JSON.stringify(said)}`);
  }
  for (const { id } of holes) {
    if (!truth.holes.some((hole) => hole.id === id)) silent.push(`${id} is no hole`);
  }
  return { silent, told, words };
};

/** The quick run takes two forms of each kind, by turns, so that every form meets half of the kinds. */
const FORMS_TAKEN = atDepth(1, FORMS.length);

/** Seeds that nothing was tuned on; the others up to 42340 were judged by hand. */
const WANDERING = Array.from({ length: atDepth(4, 40) }, (_, i) => 42300 + i);

test.each(WANDERING)(
  'a wandering course with faults by lot is right or told of, seed %i',
  { tags: 'deep' },
  (seed) => {
    const made = (own: number) => wanderingCourse(own, 45);
    const outcome = outcomeOf({ name: 'wandering', made }, made(seed), FORMS[seed % FORMS.length]);
    expect(outcome.silent).toEqual([]);
    expect(outcome.told.length).toBeLessThan(2);
  },
);

test.each(FORMS)('a tee between two loops goes to the one that lacks its name, as %s', (form) => {
  const kind = UNTIDY.find(({ name }) => name === 'three loops of nine by name')!;
  const { silent, told } = outcomeOf(kind, kind.made(41033), form);
  expect([silent, told]).toEqual([[], []]);
});

test('many holes that a map lacks are told in one line', () => {
  const kind = UNTIDY.find(({ name }) => name === 'nothing wrong')!;
  const tidy = kind.made(700);
  const lacking = (...gone: readonly number[]): string[] => {
    const features = tidy.features.filter((one) => !gone.includes(Number(one.tags.ref)));
    const { findings } = settleMap(readMap(writtenAs('osm', { ...tidy, features }), 'osm'));
    return findings.flatMap(({ problem }) => (/has no hole/.test(problem) ? [problem] : []));
  };
  expect(lacking()).toEqual([]);
  expect(lacking(4)).toEqual(['the map has no hole 4']);
  expect(lacking(2, 3, 5, 6, 7, 8, 18)).toEqual(['the map has no holes 2, 3, 5 to 8, 18']);
});

describe.each(UNTIDY.map((kind, k) => [kind.name, kind, k] as const))(
  '%s',
  { tags: 'deep' },
  (_, kind, k) => {
    const forms = FORMS.map((form, i) => [form, i] as const);
    const taken = forms.filter((__, i) => (i + k) % FORMS.length < FORMS_TAKEN);
    test.each(taken)('as %s', (form, i) => {
      for (const seed of [700 + i]) {
        const outcome = outcomeOf(kind, kind.made(seed), form);
        expect(outcome.silent, `${seed}`).toEqual([]);
        expect(outcome.told, `${seed}`).toEqual([]);
        if (kind.says !== undefined) expect(outcome.words, `${seed}`).toMatch(kind.says);
      }
    });
  },
);
