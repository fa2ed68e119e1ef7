import { createHash } from 'node:crypto';
import {
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { PDFDocument } from 'pdf-lib';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readBookList, withFolders } from '../../src/cli/books-list.js';
import { runCaptured } from './run-captured.js';
import { writeTinyCourse } from './tiny-course.js';
import { writeTinyLayout } from './tiny-layout.js';

const root = mkdtempSync(join(tmpdir(), 'runnel-books-'));
const list = join(root, 'list.csv');
const common = {
  layout: 'pocket',
  out: 'out',
  use: undefined,
  units: 'imperial',
  since: undefined,
} as const;
afterAll(() => rmSync(root, { recursive: true, force: true }));

const listed = (text: string) => {
  writeFileSync(list, text);
  return readBookList(list, common);
};

describe('a list of books', () => {
  it('has a course a line, and what else is given for it', () => {
    const books = listed(
      '\ufeffCourse;Layout;Use;Units\r\nnorth/links;;;\r\n# a remark\r\n"south/links";mine.yaml;practice;metric\r\n\r\n/abs;a6;;\r\n',
    );
    expect(books.map(({ course, layout, use, units }) => [course, layout, use, units])).toEqual([
      [join(root, 'north/links'), 'pocket', undefined, 'imperial'],
      [join(root, 'south/links'), join(root, 'mine.yaml'), 'practice', 'metric'],
      ['/abs', 'a6', undefined, 'imperial'],
    ]);
  });

  it.each([
    ['course,layuot\nlinks,a6\n', 'line 1: column "layuot" is not known; did you mean "layout"?'],
    ['layout\na6\n', 'line 1: no column "course"'],
    ['course,course\nlinks,a6\n', 'column "course" stands twice'],
    ['course,use\nlinks,plya\n', 'line 2: "plya" is no condition of use'],
    ['course,units\nlinks,yards\n', 'line 2: "yards" is no system of units'],
    ['course\nlinks,a6\n', 'line 2: 2 cells, under 1 column'],
    ['course,use\n,play\n', 'line 2: no course is named'],
    ['course\n', 'it names no course'],
  ])('is refused in one line: %j', (text, words) => {
    expect(() => listed(text)).toThrow(words);
  });

  it('gives courses of one name folders of their own, and books of one layout theirs', () => {
    const books = listed(
      'course,layout,use,units\nn/links,,,\ns/links,,,\ns/links,a6,,\ns/links,a6,practice,\ns/links,a6,,metric\nmoor,,,\n',
    );
    expect(withFolders(books).map(({ folder, stem }) => `${folder}/${stem}`)).toEqual([
      'n-links/pocket',
      's-links/pocket',
      's-links/a6',
      's-links-practice/a6',
      's-links-metric/a6',
      'moor/pocket',
    ]);
  });

  it('gives each buyer and each edition of a course a folder, whatever their names hold', () => {
    const books = listed(
      'course,buyer,edition\nlinks,"Spring, “Cup” 9",\nlinks,Ödön & Søn,2\nlinks,../../etc,\nlinks,"say ""hi"", all",\n',
    );
    expect(books.map(({ buyer, edition }) => [buyer, edition])).toEqual([
      ['Spring, “Cup” 9', undefined],
      ['Ödön & Søn', '2'],
      ['../../etc', undefined],
      ['say "hi", all', undefined],
    ]);
    expect(withFolders(books).map(({ folder }) => folder)).toEqual([
      'links-spring-cup-9',
      'links-2-ödön-søn',
      'links-etc',
      'links-say-hi-all',
    ]);
    expect(() => withFolders(listed('course,buyer\nlinks,A & B\nlinks,A. B.\n'))).toThrow(
      'it would write over the book of list.csv line 2',
    );
  });

  it('cuts a long name between letters, whatever takes two places in memory', () => {
    const long = `${'x'.repeat(39)}\u{20bb7}野`;
    const [one] = withFolders(listed(`course,buyer\nlinks,${long}\nlinks,Us\n`));
    expect(one.folder).toBe(`links-${'x'.repeat(39)}\u{20bb7}`);
  });

  it('reads cells with quotes inside as they stand, and refuses a quote that never ends', () => {
    const books = listed('course,buyer\nlinks,Jo "the putter" Doe\nlinks, "x" \n');
    expect(books.map(({ buyer }) => buyer)).toEqual(['Jo "the putter" Doe', 'x']);
    expect(() => listed('course,buyer\nlinks,"Ann\nlinks,Bea\n')).toThrow(
      'list.csv, line 2: a quote begins here and does not end; write each cell on one line',
    );
  });

  it('is refused where one book would write over another', () => {
    expect(() => withFolders(listed('course\nlinks\nmoor\n./links\n'))).toThrow(
      'list.csv line 4: it would write over the book of list.csv line 2',
    );
  });
});

describe('several books in one run', { tags: 'long' }, () => {
  const out = join(root, 'out');
  let layout: string;
  beforeAll(() => {
    layout = writeTinyLayout(root);
    writeTinyCourse(join(root, 'north/links'), '10ft');
    mkdirSync(join(root, 'south'));
    cpSync(join(root, 'north/links'), join(root, 'south/links'), { recursive: true });
    writeTinyCourse(join(root, 'broken'), '10ft');
    rmSync(join(root, 'broken/surveys/green-12.csv'));
  });

  it('go on past a failure, end with a table and exit 2, and tell every file in a manifest', async () => {
    const courses = ['north/links', 'broken', 'south/links'].map((name) => join(root, name));
    const told = ['book', ...courses, '--layout', layout, '--out', out, '--json'];
    const { code, stdout, stderr } = await runCaptured(told);
    expect(code, stderr).toBe(2);
    expect(stderr).toMatch(/broken +tiny +not made: .*there is no file "surveys\/green-12.csv"/);
    expect(stderr).toMatch(/north-links +tiny +2 pages, 1 leaf, 0.12 mm, 4 files/);
    expect(stderr).toContain('1 of 3 are not made');
    const { books } = JSON.parse(stdout);
    expect(books.map((book: { made: boolean }) => book.made)).toEqual([true, false, true]);
    expect(existsSync(join(out, 'broken'))).toBe(false);
    for (const { file, sha256, pages } of [...books[0].files, ...books[2].files]) {
      const bytes = readFileSync(join(out, file));
      expect(createHash('sha256').update(bytes).digest('hex'), file).toBe(sha256);
      if (!file.endsWith('.pdf')) continue;
      expect((await PDFDocument.load(bytes)).getPageCount(), file).toBe(pages);
    }
    // The same course in two places makes the same files.
    const digests = (i: number) => books[i].files.map((one: { sha256: string }) => one.sha256);
    expect(digests(0)).toEqual(digests(2));
    const rows = readFileSync(join(out, 'books.csv'), 'utf8').trimEnd().split('\r\n');
    expect(rows.length).toBe(1 + books[0].files.length + books[2].files.length);
    const alone = join(root, 'alone');
    expect((await runCaptured(['book', courses[0], '--layout', layout, '--out', alone])).code).toBe(
      0,
    );
    for (const { file } of books[0].files) {
      const one = readFileSync(join(alone, file.replace('north-links', 'links')));
      expect(one.equals(readFileSync(join(out, file))), file).toBe(true);
    }
  }, 240_000);

  it('told against the last edition, say what has changed and make the changed leaves alone', async () => {
    const course = join(root, 'south/links');
    const file = join(course, 'course.yaml');
    const was = readFileSync(file, 'utf8');
    const since = ['--layout', layout, '--since', join(out, 'books.json'), '--out'];
    const books = join(root, 'list.csv');
    writeFileSync(books, 'course\nnorth/links\nsouth/links\n');
    writeFileSync(file, was.replace('on: 5', 'on: 6'));
    const next = join(root, 'next');
    const { code, stdout, stderr } = await runCaptured([
      'book',
      '--list',
      books,
      ...since,
      next,
      '--json',
    ]);
    writeFileSync(file, was);
    expect(code, stderr).toBe(0);
    const [same, moved] = JSON.parse(stdout).books;
    expect(same.changes).toBeNull();
    expect(moved.changes.holes).toEqual([{ kind: 'locations', hole: '12', of: ['A'] }]);
    expect(moved.changes.leaves).toEqual([{ leaf: 1, replaces: 1 }]);
    const names = (files: readonly { file: string }[]) =>
      files.map((one) => one.file.split('/')[1]);
    expect(names(same.files)).not.toContain('tiny-insert.pdf');
    expect(names(moved.files)).toEqual(
      expect.arrayContaining([
        'tiny-insert.pdf',
        'tiny-insert-press.pdf',
        'tiny-insert-letter.pdf',
      ]),
    );
    // What is put in: a leaf with the list, and the changed one.
    const insert = await PDFDocument.load(readFileSync(join(next, 'south-links/tiny-insert.pdf')));
    expect(insert.getPageCount()).toBe(4);
    // One that is the same as before is so to the byte.
    const bytes = (folder: string) => readFileSync(join(folder, 'north-links/tiny.pdf'));
    expect(bytes(next).equals(bytes(out))).toBe(true);
  }, 240_000);
});
