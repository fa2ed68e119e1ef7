import { describe, expect, it } from 'vitest';
import type { SheetPlan } from '../../src/layout/layout.js';
import { impose } from '../../src/print/impose.js';
import { foldedPieces, leavesOf, readBook } from './fold-simulation.js';
import { ownLayout, ownLayoutNames } from './sample-pages.js';

const POCKET = { width: 107.95, height: 177.8 };
const A6 = { width: 105, height: 148 };
const PANEL = { width: 55.5, height: 104.5 };
const LARGE = { width: 196, height: 260 };
const PAPER = 0.12;

const plan = (given: Pick<SheetPlan, 'paper' | 'scheme' | 'up' | 'duplex'>): SheetPlan => ({
  name: 'test',
  gutter: 0,
  inks: 'home',
  marks: true,
  ...given,
});

const cases: readonly (readonly [string, typeof POCKET, SheetPlan])[] = (
  [
    ['pocket 1-up Letter', POCKET, 'letter', 'leaves', 1],
    ['pocket 1-up A4', POCKET, 'a4', 'leaves', 1],
    ['pocket 2-up Letter', POCKET, 'letter', 'leaves', 2],
    ['pocket 2-up A4', POCKET, 'a4', 'leaves', 2],
    ['pocket 2-up Legal, piles', POCKET, 'legal', 'stack', 2],
    ['pocket 4-up SRA3, piles', POCKET, 'sra3', 'stack', 4],
    ['pocket saddle Letter', POCKET, 'letter', 'saddle', 2],
    ['pocket saddle SRA3, two pieces', POCKET, 'sra3', 'saddle', 4],
    ['A6 4-up A4', A6, 'a4', 'leaves', 4],
    ['A6 4-up A4, piles', A6, 'a4', 'stack', 4],
    ['A6 saddle A4, two pieces', A6, 'a4', 'saddle', 4],
    ['A6 saddle SRA3, four pieces', A6, 'sra3', 'saddle', 8],
    ['fold-up Letter', PANEL, 'letter', 'fold-up', 10],
    ['fold-up A4', PANEL, 'a4', 'fold-up', 10],
    ['large 1-up A4', LARGE, 'a4', 'leaves', 1],
  ] as const
).flatMap(([name, page, paper, scheme, up]) =>
  (['long edge', 'short edge', 'one side'] as const)
    .filter((duplex) => !(scheme === 'saddle' && duplex === 'one side'))
    .map((duplex) => [`${name}, ${duplex}`, page, plan({ paper, scheme, up, duplex })] as const),
);

/** Every layout that is shipped, on every sheet that it has. */
const shipped = ownLayoutNames().flatMap((name) => {
  const layout = ownLayout(name);
  return layout.sheets.map((sheets) => [`${name}, ${sheets.name}`, layout, sheets] as const);
});

describe('the sheets that are shipped', () => {
  it.each(shipped)('%s: cut, folded and read, pages come in their order', (_, layout, sheets) => {
    const { page, binding } = layout;
    const sides = sheets.duplex === 'one side' ? 1 : 2;
    let folded = 0;
    for (let count = 1; count <= 4 * sheets.up * sides + 1; count++) {
      const imposition = impose(count, page, sheets, binding);
      const read = readBook(imposition, page, sheets.scheme, sheets.duplex);
      expect(read.slice(0, count)).toEqual(Array.from({ length: count }, (__, i) => i));
      expect(read.slice(count).every((one) => one === null)).toBe(true);
      folded += 1;
    }
    expect(folded).toBeGreaterThan(8);
  });

  it('are of every scheme and paper that there is', () => {
    const of = (key: 'scheme' | 'paper') => [...new Set(shipped.map(([, , plan]) => plan[key]))];
    expect(of('scheme').sort()).toEqual(['fold-up', 'leaves', 'saddle', 'stack']);
    expect(of('paper').sort()).toEqual(['a4', 'legal', 'letter', 'sra3']);
  });
});

describe('imposition', () => {
  it.each(cases)(
    '%s: cut, folded and read, 1 to 400 pages come in their order',
    (_, page, sheets) => {
      for (let count = 1; count <= 400; count++) {
        const imposition = impose(count, page, sheets, { paper: PAPER });
        const read = readBook(imposition, page, sheets.scheme, sheets.duplex);
        const pages = read.slice(0, count);
        const wrong = pages.findIndex((p, i) => p !== i);
        if (wrong >= 0) throw new Error(`${count} pages: page ${pages[wrong]} is read as ${wrong}`);
        const blanks = read.slice(count);
        if (blanks.some((p) => p !== null)) throw new Error(`${count} pages: one comes twice`);
        // No more paper than the pages need.
        const onSheet = sheets.up * (sheets.duplex === 'one side' ? 1 : 2);
        if (imposition.sheets.length !== Math.ceil(count / onSheet)) {
          throw new Error(`${count} pages: ${imposition.sheets.length} sheets`);
        }
        if (sheets.scheme === 'saddle' && blanks.length > 3) {
          throw new Error(`${count} pages: ${blanks.length} blank ones in the book`);
        }
      }
      expect(cases.length).toBeGreaterThan(40);
    },
  );

  it.each(cases)('%s: every page lies whole on the paper and on no other', (_, page, sheets) => {
    const { width, height, sheets: all } = impose(37, page, sheets, { paper: PAPER });
    for (const { front, back } of all) {
      for (const side of [front, back ?? []]) {
        side.forEach((a, i) => {
          expect(a.x).toBeGreaterThan(-0.06);
          expect(a.y).toBeGreaterThan(-0.06);
          expect(a.x + page.width).toBeLessThan(width + 0.06);
          expect(a.y + page.height).toBeLessThan(height + 0.06);
          for (const b of side.slice(i + 1)) {
            const apart =
              Math.abs(a.x - b.x) > page.width - 1e-6 || Math.abs(a.y - b.y) > page.height - 1e-6;
            expect(apart).toBe(true);
          }
        });
      }
    }
  });

  it('creep grows evenly from the cover inward, toward the fold, alike on both faces', {
    tags: 'long',
  }, () => {
    for (const up of [2, 4] as const) {
      for (const duplex of ['long edge', 'short edge'] as const) {
        const sheets = plan({ paper: 'sra3', scheme: 'saddle', up, duplex });
        for (let count = 4; count <= 400; count += 4) {
          const imposition = impose(count, POCKET, sheets, { paper: PAPER });
          const pieces = imposition.sheets
            .flatMap((s) => foldedPieces(leavesOf(s, imposition, POCKET, duplex), POCKET))
            .slice(0, count / 4);
          pieces.forEach(({ left, right }, nest) => {
            const creep = nest * PAPER;
            for (const face of [left.front, left.back]) expect(face.moved).toBeCloseTo(creep, 9);
            for (const face of [right.front, right.back]) expect(face.moved).toBeCloseTo(-creep, 9);
          });
        }
      }
    }
  });

  it('refuses what does not fit, in one line', () => {
    const two = plan({ paper: 'a4', scheme: 'leaves', up: 4, duplex: 'long edge' });
    expect(() => impose(8, POCKET, two, { paper: PAPER })).toThrow(
      '4 pages of 107.95 x 177.8 mm do not fit on A4; use a larger paper or fewer pages on a side',
    );
    // By 2 mm: A6 and a little on each side.
    const close = { width: 106, height: 148.5 };
    expect(() => impose(8, close, two, { paper: PAPER })).toThrow('do not fit on A4');
    const odd = plan({ paper: 'a4', scheme: 'saddle', up: 3, duplex: 'long edge' });
    expect(() => impose(8, A6, odd, { paper: PAPER })).toThrow('cannot be folded in two');
    const single = plan({ paper: 'a4', scheme: 'saddle', up: 2, duplex: 'one side' });
    expect(() => impose(8, A6, single, { paper: PAPER })).toThrow('printed on both sides');
  });

  it('folds through the middle of pieces, between the rows and the columns of a fold-up', () => {
    const saddle = plan({ paper: 'a4', scheme: 'saddle', up: 4, duplex: 'long edge' });
    const folded = impose(16, A6, saddle, { paper: PAPER });
    expect(folded.folds.length).toBe(2);
    for (const [x1, y1, x2, y2] of folded.folds) {
      // Two pieces of 210 x 148 mm stand one over the other on an upright A4.
      expect([x1, x2]).toEqual([105, 105]);
      expect(y2 - y1).toBe(148);
    }
    const strip = plan({ paper: 'a4', scheme: 'fold-up', up: 10, duplex: 'long edge' });
    const { width, height, folds } = impose(20, PANEL, strip, { paper: PAPER });
    const left = (width - 5 * PANEL.width) / 2;
    const low = height / 2 - PANEL.height;
    const [across, ...upright] = folds;
    const expected = [
      [left, height / 2, width - left, height / 2],
      ...[1, 2, 3, 4].map((i) => [
        left + i * PANEL.width,
        low,
        left + i * PANEL.width,
        low + 2 * PANEL.height,
      ]),
    ];
    [across, ...upright].forEach((fold, i) => {
      fold.forEach((value, k) => {
        expect(value).toBeCloseTo(expected[i][k], 9);
      });
    });
    expect(folds.length).toBe(5);
    expect(
      impose(8, A6, plan({ paper: 'a4', scheme: 'leaves', up: 4, duplex: 'long edge' }), {
        paper: PAPER,
      }).folds,
    ).toEqual([]);
  });
});
