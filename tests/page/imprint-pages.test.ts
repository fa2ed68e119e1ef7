import { describe, expect, test } from 'vitest';
import type { Imprint } from '../../src/course/course.js';
import { loadLayout } from '../../src/layout/layout-file.js';
import type { BookContent } from '../../src/page/book-content.js';
import { planBook } from '../../src/page/book-pages.js';
import { barCodeMarks } from '../../src/page/front/bar-code.js';
import { composeBackCover } from '../../src/page/front/imprint-page.js';
import { textMarksOf } from '../../src/page/marks/mark-texts.js';
import type { Mark, PathMark } from '../../src/page/marks/marks.js';
import { measureWith, openFonts } from '../../src/print/fonts.js';
import { pointsToMm } from '../../src/units.js';
import { blankGreen } from './blank-greens.js';

const measure = measureWith(openFonts());
const layout = loadLayout('pocket');
const ISBN = { written: '978-0-306-40615-7', ean: '9780306406157' };

const IMPRINT: Imprint = {
  edition: 'First edition',
  buyer: 'Autumn meeting',
  publisher: 'Us',
  copyright: null,
  contact: ['here', 'there'],
  surveyed: 'May 2027',
  price: '£ 14',
  isbn: ISBN,
  addOn: '51299',
  made: null,
  logo: null,
  about: 'All of it.',
};

const bookWith = (imprint: Imprint | undefined): BookContent => ({
  title: 'Links',
  setting: 'by the sea',
  use: 'play',
  units: 'imperial',
  stimp: 3,
  past: 0.3,
  greens: [],
  ...(imprint === undefined ? {} : { imprint }),
});

const pathsOf = (marks: readonly Mark[]): PathMark[] =>
  marks.flatMap((mark) =>
    mark.kind === 'path' ? [mark] : mark.kind === 'group' ? pathsOf(mark.marks) : [],
  );

interface Bar {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** The bars as they are drawn, from the left, and the paper under them. */
const drawnBars = (marks: readonly Mark[]): { readonly bars: Bar[]; readonly paper: Bar } => {
  const boxes = pathsOf(marks).map(({ steps }): Bar[] => {
    const points = steps.flatMap((step) => (step[0] === 'M' || step[0] === 'L' ? [step] : []));
    return Array.from({ length: points.length / 4 }, (_, i): Bar => {
      const corners = points.slice(4 * i, 4 * i + 4);
      const [x, y] = [1, 2].map((k) => corners.map((corner) => corner[k] as number));
      return {
        left: Math.min(...x),
        right: Math.max(...x),
        top: Math.min(...y),
        bottom: Math.max(...y),
      };
    });
  });
  return { paper: boxes[0][0], bars: boxes[1] };
};

/** Number sets A, of odd parity, by digit: widths of space, bar, space, bar (ISO/IEC 15420, table of number sets). */
const SET_A = '3211 2221 2122 1411 1132 1231 1114 1312 1213 3112'.split(' ');
/** Which of the six left digits come from set B, by the first digit. */
const FIRST = 'AAAAAA AABABB AABBAB AABBBA ABAABB ABBAAB ABBBAA ABABAB ABABBA ABBABA'.split(' ');

const reversed = (word: string): string => [...word].reverse().join('');

/** The digits that bars stand for: a reader of its own, by the tables of the standard. */
const readBars = (bars: readonly Bar[]): string => {
  const unit = (bars[29].right - bars[0].left) / 95;
  const widths = bars.flatMap((bar, i) => [
    ...(i === 0 ? [] : [bar.left - bars[i - 1].right]),
    bar.right - bar.left,
  ]);
  const modules = widths.map((width) => {
    expect(Math.abs(width / unit - Math.round(width / unit))).toBeLessThan(1e-6);
    return Math.round(width / unit);
  });
  const group = (from: number): string => modules.slice(from, from + 4).join('');
  let sets = '';
  let digits = '';
  for (let i = 0; i < 6; i++) {
    const word = group(3 + 4 * i);
    const inA = SET_A.indexOf(word);
    sets += inA >= 0 ? 'A' : 'B';
    digits += inA >= 0 ? inA : SET_A.indexOf(reversed(word));
  }
  for (let i = 0; i < 6; i++) digits += SET_A.indexOf(group(32 + 4 * i));
  return `${FIRST.indexOf(sets)}${digits}`;
};

describe('a bar code', () => {
  const cell = { x: 10, y: 100, width: 80, height: 40 };
  const drawn = (over: object = {}, addOn: string | null = null) =>
    barCodeMarks({ isbn: ISBN, addOn }, { ...cell, ...over }, layout, measure);

  test('reads back by the tables of the standard, its light strips on paper of its own', () => {
    for (const isbn of [ISBN, { written: '979-9-00-000001-1', ean: '9799000000011' }]) {
      const { bars, paper } = drawnBars(barCodeMarks({ isbn, addOn: null }, cell, layout, measure));
      expect(bars).toHaveLength(30);
      expect(readBars(bars)).toBe(isbn.ean);
      const unit = (bars[29].right - bars[0].left) / 95;
      expect(unit).toBeCloseTo(0.33, 9);
      expect(bars[0].left - paper.left).toBeGreaterThanOrEqual(11 * unit - 1e-9);
      expect(paper.right - bars[29].right).toBeGreaterThanOrEqual(7 * unit - 1e-9);
      expect(bars[2].bottom - bars[2].top).toBeCloseTo(22.85, 6);
      expect(bars[0].bottom - bars[2].bottom).toBeCloseTo(5 * 0.33, 6);
    }
  });

  test('has its add-on 7 to 12 modules behind it, and the digits of both', () => {
    const marks = drawn({}, '51299');
    const { bars, paper } = drawnBars(marks);
    const gap = (bars[30].left - bars[29].right) / 0.33;
    expect(gap).toBeGreaterThanOrEqual(7 - 1e-9);
    expect(gap).toBeLessThanOrEqual(12 + 1e-9);
    expect((bars.at(-1)!.right - bars[30].left) / 0.33).toBeCloseTo(47, 6);
    expect(paper.right - bars.at(-1)!.right).toBeGreaterThanOrEqual(5 * 0.33 - 1e-9);
    expect(textMarksOf(marks).map(({ text }) => text)).toEqual([
      'ISBN 978-0-306-40615-7',
      '9',
      '780306',
      '406157',
      '51299',
    ]);
  });

  test('grows smaller down to 0.8 in less room, and is refused below that', () => {
    const small = drawnBars(drawn({ width: 30 }));
    const unit = (small.bars[29].right - small.bars[0].left) / 95;
    expect(unit).toBeGreaterThanOrEqual(0.8 * 0.33 - 1e-9);
    expect(unit).toBeLessThan(0.33);
    expect(readBars(small.bars)).toBe(ISBN.ean);
    expect(() => drawn({ width: 29 })).toThrow(/bar-code: .*29\.0 x 40\.0 mm is too small/);
    expect(() => drawn({ height: 20 })).toThrow(/too small for a bar code; give it/);
  });

  test('is refused in an ink that red light does not see', () => {
    const inks = { ...layout.inks, dark: { name: 'Red', cmyk: [0, 1, 1, 0.1] as const } };
    expect(() =>
      barCodeMarks({ isbn: ISBN, addOn: null }, cell, { ...layout, inks }, measure),
    ).toThrow(/inks\.dark: a bar code in this ink/);
  });
});

describe('a cover that says much', () => {
  const LONG = {
    edition: 'Second edition, with four greens surveyed again, for the hundred and first season',
    buyer: 'For the members and guests of the Autumn Meeting of the Outer Skerries Bowling Society',
  };
  test.each(['fold-up', 'pocket', 'pocket-wire', 'a6', 'committee', 'practice-large'])(
    'of %s keeps its lines off each other',
    (name) => {
      const own = loadLayout(name);
      const greens = Array.from({ length: 12 }, (_, i) =>
        blankGreen({ id: `${i + 1}`, name: 'Green', locations: 0 }, own),
      );
      const setting =
        'Eighteen holes and a practice green on the crescent of an island on no chart';
      const book = { ...bookWith({ ...IMPRINT, ...LONG }), setting, greens };
      const title = 'The Old Harbour and Outer Skerries Links';
      const [cover] = planBook({ ...book, title }, own, measure);
      const texts = textMarksOf(cover.compose().marks);
      const told = texts.map(({ text }) => text).join(' ');
      expect(told).toContain(LONG.edition);
      expect(told).toContain(LONG.buyer);
      const boxes = texts.map(({ at, text, face, size, align }) => {
        const width = measure(text, face, size);
        const x = at[0] - (align === 'right' ? width : align === 'centre' ? width / 2 : 0);
        const high = pointsToMm(size);
        return {
          text,
          minX: x,
          maxX: x + width,
          minY: at[1] - 0.62 * high,
          maxY: at[1] + 0.1 * high,
        };
      });
      const meeting = boxes.flatMap((a, i) =>
        boxes
          .slice(i + 1)
          .filter((b) => a.minX < b.maxX && b.minX < a.maxX && a.minY < b.maxY && b.minY < a.maxY)
          .map((b) => `${a.text} | ${b.text}`),
      );
      expect(meeting).toEqual([]);
      const { height, margins } = own.page;
      expect(Math.max(...boxes.map(({ maxY }) => maxY))).toBeLessThan(
        height - margins.bottom + 0.5,
      );
    },
  );
});

describe('imprint and back cover', () => {
  const kindsOf = (imprint: Imprint | undefined): string[] =>
    planBook(bookWith(imprint), layout, measure).map(({ kind }) => kind);

  test('are pages of a book that says who sells it, the back the last that the binding makes', () => {
    const kinds = kindsOf(IMPRINT);
    expect(kinds.slice(0, 2)).toEqual(['cover', 'how-to-read']);
    expect(kinds).toContain('imprint');
    expect(kinds.at(-1)).toBe('back-cover');
    expect(kinds.length % 4).toBe(0);
    const { publisher, copyright, isbn, price, about } = { ...IMPRINT };
    expect([publisher, copyright, isbn, price, about]).toBeDefined();
    const unsold = { ...IMPRINT, publisher: null, isbn: null, price: null, about: null };
    expect(kindsOf({ ...unsold, contact: [] })).not.toContain('imprint');
    expect(kindsOf(undefined)).not.toContain('back-cover');
  });

  describe('below the surveys', () => {
    /** A sold book of so many greens, one page each, and a page of notes for each that is asked for. */
    const soldWith = (greens: number, imprint: Imprint = IMPRINT) => {
      const blank = (id: number) =>
        blankGreen({ id: `${id}`, name: `Hole ${id}`, locations: 0 }, layout);
      const book = bookWith(imprint);
      return planBook(
        { ...book, greens: Array.from({ length: greens }, (_, i) => blank(i + 1)) },
        layout,
        measure,
      );
    };
    const told = (pages: ReturnType<typeof soldWith>, kind: string): string =>
      pages
        .filter((page) => page.kind === kind)
        .flatMap(({ compose }) => textMarksOf(compose().marks).map(({ text }) => text))
        .join(' ');

    test('is an imprint whose own page would take a further sheet', () => {
      const kept = [1, 2, 3, 4].map((greens) => {
        const pages = soldWith(greens);
        const kinds = pages.map(({ kind }) => kind);
        // Cover, how to read, greens, surveys, imprint, back: pages for notes are what the binding adds.
        const alone = greens + 5;
        expect(kinds.length).toBe(Math.ceil((alone % 4 === 1 ? alone - 1 : alone) / 4) * 4);
        for (const words of ['Published by', 'Autumn meeting', ISBN.written]) {
          expect(told(pages, 'surveys').includes(words)).toBe(alone % 4 === 1);
          expect(told(pages, 'imprint').includes(words)).toBe(alone % 4 !== 1);
        }
        return kinds.includes('imprint');
      });
      expect(kept.filter((one) => !one)).toHaveLength(1);
    });

    test('is none that finds no room there, or has a logo', () => {
      const kinds = (imprint: Imprint): string[] => soldWith(4, imprint).map(({ kind }) => kind);
      expect(kinds(IMPRINT)).not.toContain('imprint');
      expect(kinds({ ...IMPRINT, contact: Array(60).fill('a line') })).toContain('imprint');
    });
  });

  test('tell all that the imprint says', () => {
    const pages = planBook(bookWith({ ...IMPRINT, made: '3 May 2027' }), layout, measure);
    const words = pages
      .map(({ compose }) => textMarksOf(compose().marks).map(({ text }) => text))
      .map((texts) => texts.join('|'));
    for (const told of ['First edition', 'Autumn meeting']) {
      expect(words[0]).toContain(told);
      expect(words.find((page) => page.includes('Published by'))).toContain(told);
    }
    const imprint = words.find((page) => page.includes('Published by'))!;
    for (const told of ['Us', 'May 2027', '3 May 2027', '£ 14', 'here', 'there', ISBN.written]) {
      expect(imprint).toContain(told);
    }
    // A book without a survey does not speak of one.
    expect(imprint).toContain('aid to practice');
    expect(imprint).not.toContain('as it was surveyed');
    const back = words.at(-1)!;
    for (const told of ['All of it.', '£ 14', `ISBN ${ISBN.written}`, '51299']) {
      expect(back).toContain(told);
    }
  });

  test('a back cover without an ISBN has no bar code', () => {
    const context = { layout, measure, side: 'left' as const, label: '8' };
    const book = bookWith({ ...IMPRINT, isbn: null, addOn: null });
    const words = textMarksOf(composeBackCover({ ...context, book }).marks);
    expect(words.some(({ text }) => text.startsWith('ISBN'))).toBe(false);
  });
});
