import { describe, expect, it } from 'vitest';
import type { GreenContent } from '../../src/page/book-content.js';
import { planBook } from '../../src/page/book-pages.js';
import { greenFrame } from '../../src/page/green/green-image.js';
import { scaleBarModule } from '../../src/page/green/green-page.js';
import { pacesGrid } from '../../src/page/green/paces-grid.js';
import { inBlocks } from '../../src/page/kit/blocks-per-page.js';
import { cellOf } from '../../src/page/kit/grid.js';
import type { GreenPageContext } from '../../src/page/kit/page-modules.js';
import type { Mark, PathMark, TextMark } from '../../src/page/marks/marks.js';
import { measureWith, openFonts } from '../../src/print/fonts.js';
import { ownLayout } from '../print/sample-pages.js';
import { circleRing } from '../surface/analytic.js';

/** What a ruler on the page would find, worked out by hand. */

const flat = (marks: readonly Mark[]): Mark[] =>
  marks.flatMap((mark) => ('marks' in mark ? flat(mark.marks) : [mark]));
const texts = (marks: readonly Mark[]): TextMark[] =>
  flat(marks).filter((mark): mark is TextMark => mark.kind === 'text');
const paths = (marks: readonly Mark[]): PathMark[] =>
  flat(marks).filter((mark): mark is PathMark => mark.kind === 'path');

/** Left and right end of a path, millimetres. */
const extent = ({ steps }: PathMark): [number, number] => {
  const xs = steps.flatMap((step) => (step[0] === 'Z' ? [] : [step[1] as number]));
  return [Math.min(...xs), Math.max(...xs)];
};

const layout = ownLayout('pocket');
/** Round greens: one that the page holds at 1:480, and one for which it must be smaller. */
const [SMALL, LARGE] = [12, 30];

const bar = (radius: number, units: 'imperial' | 'metric') => {
  const outline = circleRing(radius, 0, radius);
  const context = {
    layout,
    side: 'right',
    label: '1',
    measure: () => 0,
    book: { units },
    green: { outline, holeId: '1', name: 'First' } as unknown as GreenContent,
  } as unknown as GreenPageContext;
  const marks = scaleBarModule(context, { x: 10, y: 150, width: 90, height: 8 });
  const pieces = paths(marks).map(extent);
  const image = layout.pages.green!.find(({ module }) => module === 'green-image')!;
  const { scale } = greenFrame(context.green, cellOf(layout, 'right', image), layout.green.scale);
  return { pieces, words: texts(marks), scale };
};

describe('the scale bar', () => {
  it.each([
    [SMALL, 'imperial', 20 * 0.9144],
    [SMALL, 'metric', 20],
    [LARGE, 'imperial', 20 * 0.9144],
    [LARGE, 'metric', 20],
  ] as const)('of a green of %i m is as long as its ground, %s', (radius, units, metres) => {
    const { pieces, words, scale } = bar(radius, units);
    expect(scale === 480).toBe(radius === SMALL);
    const length = (1000 * metres) / scale;
    expect(pieces.length).toBe(4);
    pieces.forEach(([from, to], i) => {
      expect(from).toBeCloseTo(10 + (i * length) / 4, 6);
      expect(to).toBeCloseTo(10 + ((i + 1) * length) / 4, 6);
    });
    const said =
      units === 'metric'
        ? `20 m = ${Number(length.toFixed(1))} mm on paper, 1:${scale}`
        : `20 yd = ${Number((length / 25.4).toFixed(2))} in on paper, 1:${scale}`;
    expect(words.map(({ text }) => text)).toEqual(['0', '5', '10', '15', '20', said]);
    words.slice(0, 5).forEach(({ at }, i) => {
      expect(at[0]).toBeCloseTo(10 + (i * length) / 4, 6);
    });
  });
});

describe('the paces beside a green', () => {
  it('stand every five yards on from the front, and in from either side', () => {
    const outline = circleRing(SMALL, 0, SMALL);
    const frame = { scale: 500, origin: [50, 100] as const };
    const { figures } = pacesGrid(frame, outline, 6);
    const words = texts(figures);
    const on = words.filter(({ at }) => at[1] < 100).sort((a, b) => b.at[1] - a.at[1]);
    // 24 m are 26.2 yards: 0 to 25, on either side; two millimetres of paper are a metre.
    expect([...new Set(on.map(({ text }) => text))].filter((text) => text !== '0')).toEqual([
      '5',
      '10',
      '15',
      '20',
      '25',
    ]);
    const rowOf = (text: string): number => on.find((word) => word.text === text)!.at[1];
    expect(rowOf('10') - rowOf('25')).toBeCloseTo(15 * 0.9144 * 2, 6);
    const inward = words.filter(({ at }) => at[1] > 102);
    const [left, right] = ['left', 'right'].map((side) =>
      inward.filter(({ at }) => (side === 'left' ? at[0] < 50 : at[0] > 50)),
    );
    expect(left.map(({ text }) => text)).toEqual(['5', '10']);
    expect(left[0].at[0]).toBeCloseTo(50 - 24 + 5 * 0.9144 * 2, 6);
    expect(right[0].at[0]).toBeCloseTo(50 + 24 - 5 * 0.9144 * 2, 6);
  });
});

describe('blocks on pages', () => {
  const split = (heights: readonly number[], room: number, gap: number): number[][] =>
    inBlocks(heights, (height) => height, room, gap);

  it('keep their gap, and fill a page to its last tenth', () => {
    expect(split([4, 4, 4], 10, 2)).toEqual([[4, 4], [4]]);
    expect(split([4, 4, 4], 9.9, 2)).toEqual([[4], [4], [4]]);
    expect(split([4, 3, 3], 10, 0)).toEqual([[4, 3, 3]]);
    expect(split([12, 1], 10, 2)).toEqual([[12], [1]]);
    expect(split([], 10, 2)).toEqual([]);
  });
});

describe('a cell of the print grid', () => {
  const page = { width: 100, height: 150, margins: { top: 10, bottom: 20, inner: 12, outer: 6 } };
  const plain = { ...layout, page, grid: { ...layout.grid, columns: 4, rows: 6, gutter: 2 } };
  const placement = { module: 'any', columns: [2, 3], rows: [3, 6] } as const;

  it('lies between the margins, the inner one at the binding', () => {
    // 82 mm less three gutters are four columns of 19 mm; 120 mm are six rows of 20 mm.
    expect(cellOf(plain, 'right', placement)).toEqual({ x: 33, y: 50, width: 40, height: 80 });
    expect(cellOf(plain, 'left', placement)).toEqual({ x: 27, y: 50, width: 40, height: 80 });
  });
});

describe('the sides of a book', () => {
  it('begin with a right-hand page, whose binding is at its left', () => {
    const book = {
      title: 'Links',
      setting: '',
      use: 'practice',
      units: 'imperial',
      stimp: 3,
      past: 0.3,
      greens: [],
    } as const;
    const plan = planBook(book, layout, measureWith(openFonts()));
    expect(plan.length).toBeGreaterThan(1);
    plan.forEach(({ side }, i) => {
      expect(side).toBe(i % 2 === 0 ? 'right' : 'left');
    });
  });
});
