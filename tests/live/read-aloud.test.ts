import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import type { Layout } from '../../src/layout/layout.js';
import { composeBook } from '../../src/page/book-pages.js';
import { composeDay } from '../../src/page/day/day-pages.js';
import type { CellPlace, GroupMark, Mark, Page, TextMark } from '../../src/page/marks/marks.js';
import { measureWith, openFonts } from '../../src/print/fonts.js';
import { writePdf } from '../../src/print/pdf.js';
import { fullestBook, fullestDay, fullestGround } from '../page/fullest-pages.js';
import { ownLayout, ownLayoutNames } from '../print/sample-pages.js';
import { type StructTable, structTables } from './struct-tables.js';

/**
 * The screen edition of every layout that is shipped, on its fullest pages, as poppler's `pdfinfo -struct-text` reads it:
 * each table against what is drawn, cell by cell, blank for blank; and what is drawn against where it is drawn.
 */
const folder = mkdtempSync(join(tmpdir(), 'runnel-aloud-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const fonts = openFonts();
const measure = measureWith(fonts);

/** The large type that a reader with poor sight asks for, on the largest page that is shipped. */
const LARGE_TYPE = 'practice-large, large type';
const layoutOf = (name: string): Layout => {
  if (name !== LARGE_TYPE) return ownLayout(name);
  const layout = ownLayout('practice-large');
  const { small, text, table, heading, title } = layout.type;
  const larger = { small: small * 1.3, text: text * 1.3, table: table * 1.3 };
  return { ...layout, type: { ...layout.type, ...larger, heading, title } };
};

const pagesOf = async (layout: Layout): Promise<Page[]> => {
  const ground = await fullestGround(layout);
  if (layout.pages['day-sheet'] !== undefined) {
    return composeDay(fullestDay(ground, layout), layout, measure);
  }
  const book = fullestBook(ground, layout);
  // The first two have tables of putts, the third none; poppler's time grows faster than what it reads.
  const [one, two, bare] = book.greens;
  const greens = [one.locations.length < two.locations.length ? two : one, bare];
  const ids = new Set([...greens.map(({ holeId }) => holeId), '2']);
  const holes = book.holes?.filter(({ id }) => ids.has(id));
  // Pages of break maps hold no table, and poppler takes its time over them.
  const { 'break-map': _, ...kinds } = layout.pages;
  const content = { ...book, greens, ...(holes && { holes }) };
  return composeBook(content, { ...layout, pages: kinds }, measure);
};

interface DrawnCell extends CellPlace {
  readonly texts: readonly TextMark[];
}

interface DrawnTable {
  readonly caption: string;
  /** The groups of marks that make it: one, or parts that are read as one. */
  readonly groups: readonly (readonly DrawnCell[])[];
}

const inside = (marks: readonly Mark[]): Mark[] =>
  marks.flatMap((mark) =>
    mark.kind === 'group' || mark.kind === 'clip' ? [mark, ...inside(mark.marks)] : [mark],
  );

const groupsOf = (marks: readonly Mark[], role: GroupMark['role']): GroupMark[] =>
  inside(marks).filter((mark): mark is GroupMark => mark.kind === 'group' && mark.role === role);

const textsOf = (marks: readonly Mark[]): TextMark[] =>
  inside(marks).filter((mark): mark is TextMark => mark.kind === 'text');

const wordsOf = (texts: readonly TextMark[]): string => texts.map(({ text }) => text).join(' ');

const tablesOn = ({ marks }: Page): DrawnTable[] => {
  const parts = new Map<string, { caption: string; groups: DrawnCell[][] }>();
  const tables: { caption: string; groups: DrawnCell[][] }[] = [];
  for (const group of groupsOf(marks, 'table')) {
    const begun = group.part === undefined ? undefined : parts.get(group.part);
    const table = begun ?? { caption: '', groups: [] };
    if (begun === undefined) tables.push(table);
    if (group.part !== undefined) parts.set(group.part, table);
    const captions = groupsOf(group.marks, 'caption').map(({ marks: all }) =>
      wordsOf(textsOf(all)),
    );
    table.caption = [table.caption, ...captions].filter((words) => words !== '').join(' ');
    table.groups.push(
      groupsOf(group.marks, 'cell').map((one) => ({ ...one.cell!, texts: textsOf(one.marks) })),
    );
  }
  return tables;
};

/** What the table holds, row by row, with a blank for each cell that it has not. */
const rowsOf = ({ groups }: DrawnTable): string[][] => {
  const cells = groups.flat();
  const width = Math.max(...cells.map(({ column, columns = 1 }) => column + columns));
  return groups.flatMap((part) => {
    const rows = [...new Set(part.map(({ row }) => row))].sort((a, b) => a - b);
    return rows.map((row) =>
      Array.from({ length: width }, (_, column) =>
        wordsOf(
          part
            .filter((one) => one.row === row && one.column === column)
            .flatMap((one) => one.texts),
        ),
      ),
    );
  });
};

const middle = (texts: readonly TextMark[], axis: 0 | 1): number => {
  const places = texts.flatMap(({ at, text, face, size, align }) => {
    if (axis === 1) return [at[1]];
    const width = measure(text, face, size);
    const left = at[0] - (align === 'right' ? width : align === 'centre' ? width / 2 : 0);
    return [left, left + width];
  });
  return (Math.min(...places) + Math.max(...places)) / 2;
};

/** Cells of one column that do not stand in it, or of one row: where a later one is drawn before an earlier one. */
const misplaced = ({ groups }: DrawnTable): string[] =>
  groups.flatMap((cells) => {
    const drawn = cells.filter(({ texts, columns = 1 }) => texts.length > 0 && columns === 1);
    return drawn.flatMap((a) =>
      drawn
        .filter(
          (b) =>
            (a.row === b.row &&
              a.column < b.column &&
              middle(a.texts, 0) >= middle(b.texts, 0) - 0.5) ||
            (a.column === b.column && a.row < b.row && middle(a.texts, 1) >= middle(b.texts, 1)),
        )
        .map((b) => `"${wordsOf(a.texts)}" and "${wordsOf(b.texts)}"`),
    );
  });

const read = (stem: string, pdf: Uint8Array): string => {
  const file = join(folder, `${stem}.pdf`);
  writeFileSync(file, pdf);
  const { status, stdout, stderr } = spawnSync('pdfinfo', ['-struct-text', file], {
    encoding: 'utf8',
    maxBuffer: 1 << 28,
  });
  expect([status, stderr]).toEqual([0, '']);
  return stdout;
};

/** A text string in what is read stands between quotes as it is; runs of spaces are one. */
const plain = (words: string): string => words.replace(/\s+/g, ' ').trim();
const plainTable = ({ caption, rows }: StructTable): StructTable => ({
  caption: plain(caption),
  rows: rows.map((row) => row.map(plain)),
});

/** Layouts whose pages hold no table. */
const WITHOUT = ['quiz', 'fold-up'];

describe('tables as a screen reader has them', () => {
  it.each([...ownLayoutNames(), LARGE_TYPE])(
    '%s: as they are drawn, blank for blank',
    async (name) => {
      const layout = layoutOf(name);
      const pages = await pagesOf(layout);
      const drawn = pages.flatMap(tablesOn);
      expect(drawn.flatMap(misplaced)).toEqual([]);
      const pdf = await writePdf(pages, layout, {
        ...{ fonts, title: 'Aloud', language: 'en', edition: 'screen' },
      });
      const found = structTables(read(name.replaceAll(/\W/g, '-'), pdf)).map(plainTable);
      expect(found).toEqual(
        drawn.map((table) => plainTable({ caption: table.caption, rows: rowsOf(table) })),
      );
      if (WITHOUT.includes(name)) expect(found).toEqual([]);
      else expect(found.flatMap(({ rows }) => rows.flat()).length).toBeGreaterThan(20);
      const isOfPutts =
        layout.pages.tables !== undefined || layout.pages['day-tables'] !== undefined;
      // Ends of greens leave blanks in tables of putts.
      if (isOfPutts) expect(found.flatMap(({ rows }) => rows.flat())).toContain('');
    },
    480_000,
  );
});
