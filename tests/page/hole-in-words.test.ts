import { expect, test } from 'vitest';
import type { HoleFigures } from '../../src/course/hole-figures.js';
import { composeHolePage } from '../../src/page/hole/hole-page.js';
import type { GroupMark, Mark } from '../../src/page/marks/marks.js';
import { measureWith, openFonts } from '../../src/print/fonts.js';
import { ownLayout } from '../print/sample-pages.js';
import { randomHole } from './hole-random.js';

const layout = ownLayout('pocket');
const measure = measureWith(openFonts());

/** The same hole over ground that goes up and down. */
const hilly = (hole: HoleFigures, seed: number): HoleFigures => ({
  ...hole,
  heights: Array.from({ length: 41 }, (_, i) => ({
    along: 8 * i,
    rise: 7 * Math.sin(i / 5 + seed),
  })),
});

const groupsOf = (marks: readonly Mark[]): GroupMark[] =>
  marks.flatMap((mark) =>
    mark.kind === 'group'
      ? [mark, ...groupsOf(mark.marks)]
      : mark.kind === 'clip'
        ? groupsOf(mark.marks)
        : [],
  );

const textsOf = (marks: readonly Mark[]): string[] =>
  marks.flatMap((mark) =>
    mark.kind === 'text'
      ? [mark.text]
      : mark.kind === 'group' || mark.kind === 'clip'
        ? textsOf(mark.marks)
        : [],
  );

const picturesOf = (hole: HoleFigures): GroupMark[] => {
  const book = {
    ...({ title: 'Links', setting: '', use: 'play', units: 'imperial' } as const),
    ...{ stimp: 3, past: 0.3, greens: [] },
  };
  const page = composeHolePage({ layout, measure, book, side: 'left', label: '2', hole });
  return groupsOf(page.marks).filter(({ alt }) => alt !== undefined);
};

const figuresIn = (words: string): string[] => words.match(/[+\u2212]?\d+/g) ?? [];

/** Arcs every 50 and the tees, which the page's table tells, are left out of the words. */
const isSpared = (figure: string, hole: HoleFigures): boolean =>
  Number(figure) % 50 === 0 ||
  hole.tees.some(({ name, length }) => {
    return name.includes(figure) || Math.round(length / 0.9144) === Number(figure);
  });

test('every distance that a hole’s picture shows is in its words (20 holes)', () => {
  let told = 0;
  let heights = 0;
  for (let seed = 195_000; seed < 195_020; seed++) {
    const hole = hilly(randomHole(seed), seed);
    const pictures = picturesOf(hole);
    const map = pictures.find(({ role }) => role === 'hole-image')!;
    const said = new Set(figuresIn(map.alt!));
    const shown = textsOf(map.marks).flatMap(figuresIn);
    for (const figure of shown) {
      if (isSpared(figure, hole)) continue;
      expect(said, `hole ${seed}: ${figure} in "${map.alt}"`).toContain(figure);
      told += 1;
    }
    for (const { alt, marks } of pictures.filter(({ role }) => role === 'figure')) {
      const rises = textsOf(marks).slice(1).flatMap(figuresIn);
      expect([...figuresIn(alt!)].sort()).toEqual([...rises].sort());
      heights += rises.length;
    }
  }
  expect(told).toBeGreaterThan(100);
  expect(heights).toBeGreaterThan(30);
});
