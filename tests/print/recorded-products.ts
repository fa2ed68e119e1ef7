import { composeFirstSheet } from '../../src/page/front/first-sheet.js';
import { rule, stroke, text } from '../../src/page/kit/draw.js';
import { cellGroup } from '../../src/page/kit/read-aloud.js';
import type { Mark, Page } from '../../src/page/marks/marks.js';
import { measureWith, openFonts } from '../../src/print/fonts.js';
import { type PdfOptions, writePdf } from '../../src/print/pdf.js';
import { writeSheets } from '../../src/print/sheet-pdf.js';
import { NAMES, OLD_GREEK } from './names.js';
import { ownLayout, samplePage, samplePages } from './sample-pages.js';

/** Files of every kind, made from invented pages, that outside programs have read; see tests/live. */
export interface RecordedProduct {
  readonly file: string;
  readonly layout: string;
  /** Null for sheets. */
  readonly edition: PdfOptions['edition'] | null;
  readonly bytes: Uint8Array;
  /** Lines of text that the file holds, where that is what it is for. */
  readonly words: readonly string[] | null;
  readonly rows: readonly (readonly string[])[] | null;
}

/** The layouts that the print room ships; a fixed list, so that a new layout leaves the record standing. */
const LAYOUTS = ['pocket', 'a6', 'fold-up', 'practice-large', 'committee'] as const;
const EDITIONS = ['screen', 'plain', 'press'] as const;

/** A table as the break tables are set: aim in bold with its side, pace, right-aligned figures. */
const ROWS: readonly (readonly string[])[] = Array.from({ length: 24 }, (_, i) => [
  String([3, 6, 10, 15, 20, 30][i % 6]),
  `${i}″`,
  `${(i * 7) % 40}½`,
  `~${i + 2}½′`,
  'no pace',
  `${i / 10 + 1} m`,
]);

const tablePage = (): Page => {
  const marks: Mark[] = ROWS.flatMap((row, i) => {
    const base = 20 + i * 5;
    return [
      ...row.map((cell, c) =>
        cellGroup(
          { row: i, column: c },
          text([18 + c * 15, base], cell, c % 2 === 1 ? 'text-bold' : 'text', 7.5, {
            align: 'right',
          }),
        ),
      ),
      rule(10, base + 1.2, 98, base + 1.2, stroke(0.12)),
    ];
  });
  return { ...samplePage(0), marks: [{ kind: 'group', role: 'table', alt: 'A table', marks }] };
};

const NAME_LIST: readonly string[] = [...Object.values(NAMES).flat(), ...OLD_GREEK];

const namesPage = (): Page => ({
  ...samplePage(0),
  marks: NAME_LIST.map((name, i) =>
    text([12, 10 + i * 6], name, i % 2 === 0 ? 'title' : 'text', 9),
  ),
});

export const makeRecordedProducts = async (): Promise<RecordedProduct[]> => {
  const fonts = openFonts();
  const measure = measureWith(fonts);
  const words = { fonts, title: 'Prüfung', language: 'en' };
  const products: RecordedProduct[] = [];
  for (const name of LAYOUTS) {
    const layout = ownLayout(name);
    const pages = samplePages(layout, 9);
    for (const edition of EDITIONS) {
      products.push({
        file: `${name}-${edition}.pdf`,
        layout: name,
        edition,
        bytes: await writePdf(pages, layout, { ...words, edition }),
        words: null,
        rows: null,
      });
    }
    for (const plan of layout.sheets) {
      products.push({
        file: `${name}-${plan.name}.pdf`,
        layout: name,
        edition: null,
        bytes: await writeSheets(pages, layout, plan, {
          ...words,
          first: (sheet) => composeFirstSheet(layout, plan, sheet, { measure }),
        }),
        words: null,
        rows: null,
      });
    }
  }
  const pocket = ownLayout('pocket');
  for (const edition of EDITIONS) {
    const write = (page: Page): Promise<Uint8Array> =>
      writePdf(
        [page],
        { ...pocket, binding: { ...pocket.binding, method: 'loose' } },
        { ...words, edition },
      );
    products.push(
      {
        file: `names-${edition}.pdf`,
        layout: 'pocket',
        edition,
        bytes: await write(namesPage()),
        words: NAME_LIST,
        rows: null,
      },
      {
        file: `table-${edition}.pdf`,
        layout: 'pocket',
        edition,
        bytes: await write(tablePage()),
        words: null,
        rows: ROWS,
      },
    );
  }
  return products;
};
