import { describe, expect, it } from 'vitest';
import { namedIn } from '../../src/book/named-holes.js';
import type { Course } from '../../src/course/course.js';
import { numberedName } from '../../src/course/hole-numbers.js';
import { plainHoleName } from '../../src/page/words/hole-name.js';
import { parseWords } from '../../src/page/words/read-words.js';

const IDS = ['7', 'A7', 'practice', 'practice 2', 'north putting'];
const course = {
  title: 'Links',
  holes: [
    ...IDS.map((id) => ({ id, name: numberedName(id) })),
    { id: '8', name: 'Slipway' },
    { id: '9', name: 'Hole 8' },
  ],
} as unknown as Course;

const words = (...lines: readonly string[]) =>
  parseWords(
    ['language: sv', 'words:', ...lines.map((line) => `  ${line}`)].join('\n'),
    'ord.yaml',
  );

describe('holes without names of their own', () => {
  it('are called in English by the words that are printed', () => {
    for (const id of IDS) expect(plainHoleName(id, {})).toBe(numberedName(id));
    expect(namedIn(course, {})).toBe(course);
  });

  it('are called as the book’s language does, and names that are given stay', () => {
    const named = namedIn(
      course,
      words(
        'hole.numbered: Hål {number}',
        'hole.practice: Övningsgreen',
        'hole.other-green: "Green {name}"',
      ),
    );
    expect(named.holes.map(({ name }) => name)).toEqual([
      ...['Hål 7', 'Hål A7', 'Övningsgreen', 'Green Practice 2', 'Green North putting'],
      ...['Slipway', 'Hole 8'],
    ]);
  });
});
