import { describe, expect, it } from 'vitest';
import { loadLayout } from '../../src/layout/layout-file.js';
import type { BookContent } from '../../src/page/book-content.js';
import { composeCover } from '../../src/page/front/cover-page.js';
import { textMarksOf } from '../../src/page/marks/mark-texts.js';
import { measureWith, openFonts } from '../../src/print/fonts.js';
import { readGreen } from '../../src/terrain/read-green.js';
import { FIT_FOR_TABLES } from '../fit-for-tables.js';
import { plane } from '../surface/analytic.js';

const measure = measureWith(openFonts());
const OUTLINE: [number, number][] = [
  [-10, 0],
  [10, 0],
  [10, 20],
  [-10, 20],
];
const settings = { stimp: 3, past: 0.3 };

/** A book of one green whose water leaves by so many outlets in turn. */
const bookWith = (shares: readonly number[]): BookContent => ({
  title: 'Links',
  setting: '',
  use: 'play',
  units: 'imperial',
  greens: [
    {
      holeId: '7',
      name: 'A green',
      par: 4,
      outline: OUTLINE,
      reading: {
        ...readGreen(plane(OUTLINE, 0, 0.02), { contourInterval: 0.05 }),
        outlets: shares.map((share, i) => ({
          at: [i * 4, 0] as const,
          kind: 'edge' as const,
          share,
          kept: share,
          draws: 24,
        })),
      },
      worth: FIT_FOR_TABLES,
      drains: [],
      locations: [],
      ...settings,
    },
  ],
  ...settings,
});

const coverWords = (book: BookContent, layout = loadLayout('fold-up')): string =>
  textMarksOf(composeCover({ book, layout, measure, side: 'right', label: '1' }).marks)
    .map(({ text }) => text)
    .join(' ');

describe('the key on the cover of greens without keys of their own', () => {
  it('tells heights, heavy lines, arrows, dots and squares', () => {
    const words = coverWords(bookWith([1]));
    for (const told of [
      'height above the lowest',
      'Heavy line',
      'Arrow: downhill',
      'Dots:',
      'Square:',
    ]) {
      expect(words).toContain(told);
    }
    expect(words).not.toContain('% at a mouth');
  });

  it('tells the shares at the mouths where the water takes turns', () => {
    expect(coverWords(bookWith([0.8, 0.2]))).toContain('% at a mouth: how likely');
  });

  it('leaves the last signs out where not all have room, not all of them', () => {
    const fold = loadLayout('fold-up');
    const cover = fold.pages.cover!.map((one) =>
      one.module === 'greens-key' ? { ...one, rows: [12, 19] as const } : one,
    );
    const words = coverWords(bookWith([0.8, 0.2]), { ...fold, pages: { ...fold.pages, cover } });
    expect(words).toContain('Arrow: downhill');
    expect(words).not.toContain('% at a mouth');
  });
});
