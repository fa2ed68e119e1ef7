import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { PDFiumLibrary } from '@hyzyla/pdfium';
import { PNG } from 'pngjs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { preflight } from '../../src/check/preflight.js';
import { type ReadBook, readBook } from '../../src/check/read-book.js';
import { checkRules } from '../../src/check/rules-check.js';
import { rasterise } from '../../src/print/raster.js';
import { runCaptured } from '../cli/run-captured.js';
import { type SmallCourse, smallCourse } from '../cli/small-course.js';
import { writeTinyCourse } from '../cli/tiny-course.js';
import { atDepth } from '../depth.js';
import { shareFits } from '../fitted-demo.js';
import { compareGolden, compareGreyGolden, forgottenGoldens } from '../print/golden.js';
import { wordsOfSvg, wordsOfText } from '../print/page-words.js';
import { ownLayout, ownLayoutNames } from '../print/sample-pages.js';

/** Pixels to an inch of the pictures of pages and of sheets. */
const PAGE_DPI = 72;
const SHEET_DPI = 40;

/**
 * Layouts of whole books; the pages of a day have tests of their own, and those of the pocket book in other bindings
 * are its own (load-layout).
 */
const ALL = ownLayoutNames().filter(
  (name) => ownLayout(name).pages.cover !== undefined && !name.startsWith('pocket-'),
);
/** In the quick run one of them; of the others fullest-pages holds the pages and `recorded` the bytes. */
const BOOKS = ALL.filter((name) => atDepth(['pocket'], ALL).includes(name));

/** Golden pictures of those layouts; the others of the folder belong to the tests of single pages. */
const OWN = new RegExp(`^(${BOOKS.join('|')})-`);

/** The first page of each kind: names without their number. */
const kindsOf = (files: readonly string[]): string[] => {
  const seen = new Set<string>();
  const names = files.map((file) => file.replace(/\.png$/, '')).sort();
  return names.filter((name) => {
    const kind = name.replace(/-\d+.*$/, '');
    return seen.has(kind) ? false : seen.add(kind) !== undefined;
  });
};

describe('a book of the demo in every layout', () => {
  let course: SmallCourse;
  /** Where the pages themselves do not matter. */
  let tiny: string;
  beforeAll(() => {
    course = smallCourse([1]);
    shareFits(course.out);
    tiny = join(course.root, 'tiny');
    writeTinyCourse(tiny, '10ft');
  });
  afterAll(() => course.remove());

  it.each(BOOKS)(
    '%s: its pages look as they did, and every file passes the check',
    { tags: 'deep' },
    async (name) => {
      // Both units are looked at.
      const metric = name === 'a6';
      // A folded sheet of one green is larger than Rule 4.3a lets it be in play.
      const use = ownLayout(name).binding.method === 'fold-up' ? 'practice' : ownLayout(name).use;
      const { code, stderr } = await runCaptured([
        'book',
        course.folder,
        ...['--use', use, '--layout', name, '--out', course.out, '--png', String(PAGE_DPI)],
        ...(name === 'pocket' ? ['--svg'] : []),
        ...['--units', metric ? 'metric' : 'imperial'],
      ]);
      expect(code, stderr).toBe(0);
      const folder = join(course.out, 'links');
      const pictures = join(folder, `${name}-png`);
      const differences: (string | null)[] = [];
      for (const id of kindsOf(readdirSync(pictures))) {
        const image = PNG.sync.read(readFileSync(join(pictures, `${id}.png`)));
        const page = `${name}-${id}`;
        differences.push(compareGolden(import.meta.url, page, image));
        if (id.startsWith('green')) {
          differences.push(compareGreyGolden(import.meta.url, page, image));
        }
      }
      const [plan] = ownLayout(name).sheets;
      const sheets = readFileSync(join(folder, `${name}-${plan.name}.pdf`));
      const drawn = await rasterise(sheets, SHEET_DPI, [0, 2]);
      differences.push(compareGolden(import.meta.url, `${name}-first-sheet`, drawn[0]));
      differences.push(compareGolden(import.meta.url, `${name}-sheet`, drawn[1]));
      expect(differences.filter((words) => words !== null)).toEqual([]);

      const files = readdirSync(folder).filter(
        (f) => f.startsWith(`${name}-`) || f === `${name}.pdf`,
      );
      for (const file of files.filter((f) => f.endsWith('.pdf'))) {
        const book: ReadBook = await readBook(readFileSync(join(folder, file)), file);
        const failed = preflight(book).filter((finding) => finding.verdict === 'fail');
        expect(failed.map((f) => `${file}: ${f.rule}, page ${f.page}: ${f.words}`)).toEqual([]);
        const { conditions } = checkRules(book);
        expect(conditions[use].reasons.map((reason) => `${file}: ${reason}`)).toEqual([]);
        expect(conditions.committee.met).toBe(use === 'committee');
      }
    },
  );

  it('has no golden picture that no page is held against', { tags: 'deep' }, () => {
    expect(forgottenGoldens(import.meta.url, OWN)).toEqual([]);
  });

  it('the words taken out of the tables are the words of the tables', async () => {
    const folder = join(course.out, 'links');
    const ids = readdirSync(join(folder, 'pocket-svg')).map((file) => file.replace(/\.svg$/, ''));
    const library = await PDFiumLibrary.init();
    const document = await library.loadDocument(readFileSync(join(folder, 'pocket.pdf')));
    const extracted = [...document.pages()].map((page) => wordsOfText(page.getText()));
    document.destroy();
    library.destroy();
    expect(extracted.length).toBe(ids.length);
    for (const id of ids.filter((one) => /^(tables|card|conversions)/.test(one))) {
      const words = wordsOfSvg(readFileSync(join(folder, 'pocket-svg', `${id}.svg`), 'utf8'));
      expect(words.length).toBeGreaterThan(20);
      expect(extracted).toContainEqual(words);
    }
  });

  it('says that break tables and green readings are measured detail', async () => {
    const book = await readBook(
      readFileSync(join(course.out, 'links', 'pocket.pdf')),
      'pocket.pdf',
    );
    const { reasons } = checkRules(book).conditions.committee;
    for (const what of ['slope', 'contours', 'fall', 'drainage', 'spots', 'putts']) {
      expect(reasons.some((reason) => reason.includes(`(${what})`))).toBe(true);
    }
  });

  it('--use refuses what does not fit, and writes nothing', { tags: 'long' }, async () => {
    const out = join(course.root, 'refused');
    const ask = (layout: string, use: string) =>
      runCaptured(['book', tiny, '--layout', layout, '--use', use, '--out', out]);
    const large = await ask('practice-large', 'play');
    expect(large.code).toBe(2);
    expect(large.stderr).toContain(
      'does not fit play under Rule 4.3a: green images larger than 1:480',
    );
    const detailed = await ask('pocket', 'committee');
    expect(detailed.code).toBe(2);
    expect(detailed.stderr).toContain('does not fit play under Model Local Rule G-11');
    expect(detailed.stderr).toContain('use the layout "committee"');
    expect(readdirSync(out).filter((name) => name !== '.cache')).toEqual([]);
  });

  it('a layout of the user’s own needs no code; what it mistypes is named in one line', async () => {
    const own = readFileSync(new URL('../../layouts/pocket.yaml', import.meta.url), 'utf8')
      .replace('name: pocket', 'name: mine')
      .replace('width: 107.95', 'width: 100')
      .replace('speedSteps: [1]', 'speedSteps: []')
      .replace(/^sheets:\n(?: {2}- .*\n)+/m, '');
    const file = join(course.root, 'mine.yaml');
    const out = join(course.root, 'own');
    const make = async (text: string) => {
      writeFileSync(file, text);
      return runCaptured(['book', tiny, '--layout', file, '--out', out]);
    };
    const narrow = await make(own.replace('speedSteps: []', 'speedSteps: [1]'));
    expect(narrow.code).toBe(2);
    expect(narrow.stderr).toContain('the aims at 2 green speeds need tables 91.4 mm wide');
    const made = await make(own);
    expect(made.code, made.stderr).toBe(0);
    const book = await readBook(readFileSync(join(out, 'tiny', 'mine.pdf')), 'mine.pdf');
    expect(checkRules(book).pages[0].width).toBeCloseTo(100, 3);
    const typo = await make(own.replace('module: band-key', 'module: bandkey'));
    expect(typo.code).toBe(2);
    expect(typo.stderr).toContain(
      'there is no module "bandkey" for this kind of page; use one of:',
    );
    const large = await make(
      `${own}sheets:\n  - { name: a4-4up, paper: a4, scheme: leaves, up: 4 }\n`,
    );
    expect(large.code).toBe(2);
    expect(large.stderr).toContain('sheets, a4-4up: 4 pages of 100 x 177.8 mm do not fit on A4');
  });
});
