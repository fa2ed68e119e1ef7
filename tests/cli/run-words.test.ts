import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { PDFDocument } from 'pdf-lib';
import { afterAll, describe, expect, test } from 'vitest';
import { makeDayProducts } from '../../src/book/day-products.js';
import { greenPageProduct } from '../../src/book/green-product.js';
import { requireWordsSet } from '../../src/book/load-notes.js';
import { fileDate, readBuyers, runWords } from '../../src/cli/run-words.js';
import { openFonts } from '../../src/print/fonts.js';
import { ownLayout, samplePages } from '../print/sample-pages.js';

describe('the date of a run', () => {
  test('is that of the day that files are for, where it is a date, else of SOURCE_DATE_EPOCH', () => {
    expect(fileDate('2027-05-03', '0')).toBe('2027-05-03T00:00:00Z');
    expect(fileDate('Friday 13', '1000000000')).toBe('2001-09-09T01:46:40Z');
    expect(fileDate('2027-02-29', undefined)).toBeUndefined();
    expect(() => fileDate(undefined, 'today')).toThrow('is no moment');
  });

  test('stands in the file of a day, and in that of one page', async () => {
    const layout = { ...ownLayout('day'), sheets: [] };
    const words = { fonts: openFonts(), date: '2027-05-03T09:30:00Z' };
    const pages = samplePages(layout, 1);
    const day = await makeDayProducts('day-1', pages, layout, {
      ...words,
      title: 'Links',
      language: 'en',
    });
    const setting = { language: 'en', ...words, layout, courseTitle: 'Links', holeId: '1' };
    const green = await greenPageProduct(pages[0], setting);
    for (const { bytes } of [...day, green]) {
      const read = await PDFDocument.load(bytes, { updateMetadata: false });
      expect(read.getCreationDate()?.toISOString()).toBe('2027-05-03T09:30:00.000Z');
    }
  });

  test('is that of the command line, else of SOURCE_DATE_EPOCH, else none', () => {
    expect(runWords({}, undefined)).toEqual({});
    expect(runWords({}, '')).toEqual({});
    expect(runWords({ date: '2028-02-29' }, '0')).toEqual({
      date: '2028-02-29T00:00:00Z',
      made: '2028-02-29',
    });
    // The first billion of seconds ended on 9 September 2001 (any almanac of Unix time).
    expect(runWords({}, '1000000000')).toMatchObject({ date: '2001-09-09T01:46:40Z' });
    expect(runWords({ date: '2027-05-03T09:30:00Z' }, undefined)).toMatchObject({
      date: '2027-05-03T09:30:00Z',
      made: '2027-05-03',
    });
  });

  test.each(['2027-02-29', '2027-13-01', '3 May 2027', '', '2027-05-03T25:00:00Z'])(
    '"%s" is none',
    (date) => {
      expect(() => runWords({ date }, undefined)).toThrow(/--date: ".*" is no date; write/);
    },
  );

  test.each(['-1', '1e9', 'today', '999999999999'])('SOURCE_DATE_EPOCH=%s is none', (seconds) => {
    expect(() => runWords({}, seconds)).toThrow(/SOURCE_DATE_EPOCH: ".*" is no moment/);
  });

  test('edition and buyer are lines of words', () => {
    expect(runWords({ edition: ' Second ', buyer: 'Us' }, undefined)).toEqual({
      edition: 'Second',
      buyer: 'Us',
    });
    expect(() => runWords({ buyer: '  ' }, undefined)).toThrow(/--buyer: it is empty/);
    expect(() => runWords({ edition: 'x'.repeat(201) }, undefined)).toThrow(/201 letters/);
  });
});

describe('a table of buyers', () => {
  const folder = mkdtempSync(join(tmpdir(), 'buyers-'));
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  const table = (text: string): string => {
    const file = join(folder, 'buyers.csv');
    writeFileSync(file, text);
    return file;
  };

  test('is read in its order, quoted commas and a mark of bytes among them', () => {
    expect(readBuyers(table('\ufeffno,Buyer\r\n1,"Salt, and sons"\r\n\r\n2,Ebb Club\r\n'))).toEqual(
      ['Salt, and sons', 'Ebb Club'],
    );
  });

  test.each([
    ['name\nUs\n', /line 1: no column "buyer"/],
    ['buyer\n', /names 0 buyers/],
    ['no;buyer\n1;Us\n2;\n', /line 3: it is empty/],
    // A name cut at its comma would stand on a cover.
    ['buyer\nSalt, Ann\n', /line 2: 2 cells, under 1 columns; .*"Doe, Jo"/],
    ['buyer,no,Buyer\nUs,1,Us\n', /line 1: column "buyer" stands twice/],
    ['buyer\n"Ebb\nClub"\n', /line 2: a quote begins here and does not end/],
  ])('%j is refused', (text, words) => {
    expect(() => readBuyers(table(text))).toThrow(words);
  });

  test('with a letter that no face has is told by its line', () => {
    const fonts = openFonts();
    const file = table('buyer\nEbb Club\nIvo \u{1f600}\n');
    expect(() => readBuyers(file, (buyer) => requireWordsSet(buyer, fonts))).toThrow(
      /line 3: .*U\+1F600/,
    );
  });

  test('that is not there is told', () => {
    expect(() => readBuyers(join(folder, 'none.csv'))).toThrow(/there is no such table/);
  });
});
