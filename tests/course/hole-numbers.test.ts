import { expect, test } from 'vitest';
import { refsOf } from '../../src/course/course-map.js';
import { numberInName, numberOfTee, wordAndNumber } from '../../src/course/hole-numbers.js';
import { nameOfTee } from '../../src/course/tee-names.js';

/** How numbers of holes are written is common practice, no source. */

test.each([
  ['7', ['7']],
  ['07', ['7']],
  ['Hole 7', ['7']],
  ['hole07', ['7']],
  ['No. 7', ['7']],
  ['#7', ['7']],
  ['7.', ['7']],
  ['7th', ['7']],
  ['7th Green', ['7']],
  ['1;10', ['1', '10']],
  ['1/10', ['1', '10']],
  ['Hole 1 & Hole 10', ['1', '10']],
  ['A7', ['A7']],
  ['a 07', ['A7']],
  ['Red 7', ['Red 7']],
  ['practice', ['practice']],
  ['0', ['0']],
  ['1972', ['1972']],
  ['', []],
])('a ref "%s" names %j', (ref, holes) => {
  expect(refsOf(ref)).toEqual(holes);
});

test.each([
  ['Hole 7', '7'],
  ['7 The Burn', '7'],
  ['7th - The Burn', '7'],
  ['Hole 7: The Burn', '7'],
  ['The Burn (7)', '7'],
  ['The Burn, Hole 7', '7'],
  ['Red 7', '7'],
  ['The Burn', null],
  ['Route 101', null],
  ['7', '7'],
])('a hole by the name of "%s" has the number %s', (name, number) => {
  expect(numberInName(name)).toBe(number);
});

test('a word before a number is told from words that say it is one', () => {
  expect(wordAndNumber('Red 7')).toEqual({ word: 'Red', number: '7' });
  expect(wordAndNumber('North Hole 07')).toEqual({ word: 'North', number: '7' });
  expect(wordAndNumber('Old Course 12')).toEqual({ word: 'Old Course', number: '12' });
  for (const text of ['Hole 7', 'No. 7', 'The Burn', '7 Red', 'A7']) {
    expect(wordAndNumber(text), text).toBeNull();
  }
});

test('a tee is called by its name without the number of its hole', () => {
  const named = (name: string, ...holes: string[]) => nameOfTee({ name }, holes);
  expect(named('7 White', '7')).toBe('White');
  expect(named('Hole 7 - White', '7')).toBe('White');
  expect(named('White 16', '7', '16')).toBe('White');
  expect(named('7 White', 'B7')).toBe('White');
  expect(['7 White', 'Hole 7 - White', 'White', 'Tee 1', 'White 2'].map(numberOfTee)).toEqual([
    '7',
    '7',
    null,
    null,
    null,
  ]);
  // Not its own number, or nothing left: the name is the set's.
  expect(named('Tee 3', '3')).toBe('Tee 3');
  expect(named('White 2', '7')).toBe('White 2');
});
