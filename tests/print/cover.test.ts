import { describe, expect, test } from 'vitest';
import { preflight } from '../../src/check/preflight.js';
import { readBook } from '../../src/check/read-book.js';
import { checkRules } from '../../src/check/rules-check.js';
import { wholeOf } from '../../src/file-bytes.js';
import { spineOf } from '../../src/layout/cover-spine.js';
import type { CoverPlan, Layout } from '../../src/layout/layout.js';
import { parseLayout } from '../../src/layout/load-layout.js';
import { composeBookCover } from '../../src/page/front/book-cover.js';
import type { BookCover } from '../../src/page/marks/book-cover.js';
import { writeCovers } from '../../src/print/cover-pdf.js';
import { measureWith, openFonts } from '../../src/print/fonts.js';
import { ownLayout } from './sample-pages.js';

const fonts = openFonts();
const measure = measureWith(fonts);
const words = { fonts, title: 'Links', language: 'en' };
const layout = ownLayout('pocket-glued');
const plan = layout.cover!;

const BOOK = {
  title: 'Links',
  setting: 'by the sea',
  use: 'play' as const,
  units: 'imperial' as const,
  stimp: 3,
  past: 0.3,
  greens: [],
  imprint: {
    edition: null,
    buyer: 'Autumn meeting',
    publisher: 'Slack Water Press',
    copyright: null,
    contact: [],
    surveyed: null,
    price: null,
    isbn: { written: '978-0-306-40615-7', ean: '9780306406157' },
    addOn: '51299',
    made: null,
    logo: null,
    about: null,
  },
};

const coverOf = (pages: number, of: CoverPlan = plan, inside: Layout = layout): BookCover =>
  composeBookCover(BOOK, inside, of, spineOf(pages, inside, of).width, measure);

const failing = async (covers: readonly BookCover[], pages: number, of = plan) => {
  const spine = spineOf(pages, layout, of);
  const bytes = wholeOf(
    await writeCovers(
      covers.map((one) => () => one),
      layout,
      of,
      spine,
      words,
    ),
  );
  const book = await readBook(bytes, 'cover.pdf');
  const failed = preflight(book).filter(({ verdict }) => verdict === 'fail');
  return { bytes, book, failed: failed.map((one) => `${one.rule}: ${one.words}`) };
};

describe('the spine of a cover', () => {
  test('is the block by its leaves and the board twice: figures by hand', () => {
    // 100 pages are 50 leaves of 80 g/m2 x 1.5 cm3/g = 0.12 mm (ISO 534), 6 mm; the board 240 x 1.25 = 0.3 mm.
    expect(spineOf(100, layout, plan).width).toBeCloseTo(6.6, 9);
    // An odd page is a leaf all the same.
    expect(spineOf(99, layout, plan)).toMatchObject({ pages: 100 });
    expect(layout.binding.stock).toBe('uncoated book paper, 80 g/m², volume 1.5');
  });

  test('has title and publisher where it is wide enough, and neither where it is not', () => {
    expect(coverOf(100).spineMarks).toHaveLength(2);
    expect(coverOf(40).spineMarks).toHaveLength(0);
  });
});

describe('a cover in one piece', () => {
  test('passes the check, with the sizes of both pages and of the spine', async () => {
    // Every width from the first that takes words on: sizes of type go in steps of half a point.
    for (const pages of [40, 62, 66, 70, 74, 78, 82, 84, 90, 300]) {
      const { book, failed } = await failing([coverOf(pages)], pages);
      expect(failed).toEqual([]);
      const [{ trim, bleed, drawn }] = book.pages;
      const mm = (points: number): number => (points * 25.4) / 72;
      const spine = (pages / 2) * 0.12 + 0.6;
      expect(mm(trim!.maxX - trim!.minX)).toBeCloseTo(2 * 107.95 + spine, 2);
      expect(mm(trim!.maxY - trim!.minY)).toBeCloseTo(177.8, 2);
      expect(mm(trim!.minX - bleed!.minX)).toBeCloseTo(3, 2);
      // The ground goes to the end of the bleed on all sides.
      const ground = drawn.paints[0].box;
      for (const side of ['minX', 'minY', 'maxX', 'maxY'] as const) {
        expect(ground[side]).toBeCloseTo(bleed![side], 2);
      }
      const { conditions } = checkRules(book);
      expect(conditions.play.met).toBe(true);
    }
  });

  test('turns its edges in where a board is stiff', async () => {
    const stiff = { ...plan, wrap: 15 };
    const { book, failed } = await failing([coverOf(84, stiff)], 84, stiff);
    expect(failed).toEqual([]);
    const [{ trim, drawn }] = book.pages;
    const [back, front] = [...drawn.placed].sort((a, b) => a.trim.minX - b.trim.minX);
    const mm = (points: number): number => (points * 25.4) / 72;
    expect(mm(back.trim.minX - trim!.minX)).toBeCloseTo(15, 2);
    expect(mm(trim!.maxX - front.trim.maxX)).toBeCloseTo(15, 2);
    expect(mm(back.trim.minY - trim!.minY)).toBeCloseTo(15, 2);
    expect([back.number, front.number]).toEqual([2, 1]);
  });

  test('one for each of several buyers is a page of the file', async () => {
    const { book, failed } = await failing([coverOf(84), coverOf(84)], 84);
    expect(failed).toEqual([]);
    expect(book.pages).toHaveLength(2);
  });

  test('fails with a spine of another book, and with words that leave it', async () => {
    const other = await failing([coverOf(90)], 84);
    expect(other.failed.join()).toMatch(/spine: the spine is 6 mm wide; 84 pages .* 5\.64 mm/);
    const cover = coverOf(84);
    const moved = cover.spineMarks.map((mark) =>
      mark.kind === 'text' ? { ...mark, at: [mark.at[0] + 2, mark.at[1]] as const } : mark,
    );
    const run = await failing([{ ...cover, spineMarks: moved }], 84);
    expect(run.failed.join()).toMatch(/spine: "Links" is less than 1 mm inside the spine/);
  });

  test('has its buyer for a bookmark, and its number where it has none', async () => {
    const covers = ['Ebb & Flow', null].map((buyer) => ({ ...coverOf(84), buyer }));
    const { bytes } = await failing(covers, 84);
    const file = Buffer.from(bytes).toString('latin1');
    expect([...file.matchAll(/\/Title \(([^)]*)\)\s*\/Parent/g)].map(([, title]) => title)).toEqual(
      ['Ebb & Flow', 'cover 2'],
    );
  });

  test('fails without enough bleed', async () => {
    const scant = { ...plan, bleed: 2 };
    const { failed } = await failing([coverOf(84, scant)], 84, scant);
    expect(failed).toEqual(['boxes: bleed of less than 3 mm']);
  });
});

describe('the date of a file', () => {
  test('is told by its information, its metadata and its record, and is a fixed one without', async () => {
    const spine = spineOf(84, layout, plan);
    const told = async (date: object): Promise<string> => {
      const bytes = wholeOf(
        await writeCovers([() => coverOf(84)], layout, plan, spine, {
          ...words,
          ...date,
        }),
      );
      return Buffer.from(bytes).toString('latin1');
    };
    const dated = await told({ date: '2027-05-03T09:30:00Z' });
    // Twice in the information, and twice on the page, which tells when its data is of.
    expect(dated.match(/\(D:20270503093000Z00'00'\)/g)).toHaveLength(4);
    expect(dated).toContain('<xmp:CreateDate>2027-05-03T09:30:00Z</xmp:CreateDate>');
    const [bare, again] = [await told({}), await told({})];
    expect(again).toBe(bare);
    expect(bare).toContain("D:20000101000000Z00'00'");
    const idOf = (file: string): string | undefined => /\/ID \[ ?<(\w+)>/.exec(file)?.[1];
    expect(idOf(dated)).toBeDefined();
    expect(idOf(dated)).not.toBe(idOf(bare));
  });
});

describe('a layout with a cover', () => {
  const text = (binding: string): string => `name: own
title: Own
page: { width: 100, height: 150, margins: { top: 6, bottom: 6, inner: 10, outer: 6 } }
grid: { columns: 2, rows: 4 }
binding: ${binding}
cover:
  paper: 0.25
  front: [{ module: title, columns: [1, 2], rows: [1, 2] }]
  back: [{ module: about, columns: [1, 2], rows: [1, 5] }]
pages:
  cover: [{ module: title, columns: [1, 2], rows: [1, 2] }]
`;

  test('is glued, and its modules stand on the grid', () => {
    expect(() => parseLayout(text('{ method: wire-o }'), 'own.yaml')).toThrow(
      /cover: .* its binding is wire-o; set the binding's method to perfect/,
    );
    expect(() => parseLayout(text('{ method: perfect }'), 'own.yaml')).toThrow(
      /cover\.back\[0\]\.rows: \[1, 5\] does not fit/,
    );
    const paper = '{ name: thin, grammage: 60 }';
    expect(() => parseLayout(text(`{ method: perfect, paper: ${paper} }`), 'own.yaml')).toThrow(
      /binding\.paper.*volume/,
    );
  });
});
