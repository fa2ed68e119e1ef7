import { copyFileSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { PDFiumLibrary } from '@hyzyla/pdfium';
import { PDFDict, PDFDocument, PDFName, type PDFString } from 'pdf-lib';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { stringify } from 'yaml';
import { openSite } from '../../src/cli/proof-site.js';
import { ENGLISH } from '../../src/page/words/english.js';
import { runCaptured } from './run-captured.js';
import { writeTinyCourse } from './tiny-course.js';
import { writeTinyLayout } from './tiny-layout.js';

/** A book in letters that are not Latin, its faces from files that a layout names. */

/** Russian letters by their sound, as far as one letter goes; what they spell is no language. */
const LETTERS = Object.fromEntries(
  [...'abcdefghijklmnopqrstuvwxyz'].map((latin, i) => [
    latin,
    [...'абцдефгхийклмнопярстувжыюз'][i],
  ]),
);

const spelled = (english: string): string =>
  english
    .split(/(\{\w+\})/)
    .map((part) =>
      part.startsWith('{')
        ? part
        : part.replace(/[A-Za-z]/g, (letter) => {
            const other = LETTERS[letter.toLowerCase()];
            return letter === letter.toLowerCase() ? other : other.toUpperCase();
          }),
    )
    .join('');

const WORDS = Object.fromEntries(
  Object.entries(ENGLISH)
    .filter(([key]) => key !== 'number.point')
    .map(([key, english]) => [key, spelled(english)]),
);

const FACES = {
  title: 'source-sans-3/800ExtraBold/SourceSans3_800ExtraBold.ttf',
  'title-bold': 'source-sans-3/900Black/SourceSans3_900Black.ttf',
} as const;

const resolve = createRequire(import.meta.url).resolve;

/** Beside the layout: its faces and its words. */
const writeLayout = (folder: string, words: Readonly<Record<string, string>>): string => {
  const file = writeTinyLayout(folder);
  const faces = Object.entries(FACES).map(([face, path]) => {
    copyFileSync(resolve(`@expo-google-fonts/${path}`), join(folder, `${face}.ttf`));
    return [face, `${face}.ttf`];
  });
  const more = {
    words: 'slova.yaml',
    faces: Object.fromEntries(faces),
    units: 'metric',
    type: { title: 12, heading: 10 },
  };
  writeFileSync(join(folder, 'slova.yaml'), stringify({ language: 'ru', words }));
  writeFileSync(
    file,
    `${readFileSync(file, 'utf8')}  cover:
    - { module: title, columns: [1, 12], rows: [4, 12] }
    - { module: facts, columns: [1, 12], rows: [28, 36] }
  surveys:
    - { module: heading, columns: [1, 12], rows: [1, 3] }
    - { module: surveys-table, columns: [1, 12], rows: [4, 20] }
    - { module: surveys-words, columns: [1, 12], rows: [21, 35] }
${stringify(more)}`,
  );
  return file;
};

/** The texts of a PDF, by a reader of another house. */
const textsOf = async (file: string): Promise<string> => {
  const library = await PDFiumLibrary.init();
  const document = await library.loadDocument(readFileSync(file));
  const texts = [...document.pages()].map((page) => page.getText());
  document.destroy();
  library.destroy();
  return texts.join('\n');
};

/** The names of the faces that a PDF embeds (ISO 32000-1, 9.8), in one line. */
const facesIn = async (file: string): Promise<string> => {
  const { context } = await PDFDocument.load(readFileSync(file));
  const names = context
    .enumerateIndirectObjects()
    .flatMap(([, one]) => (one instanceof PDFDict ? [one.get(PDFName.of('FontName'))] : []));
  return names.filter((name) => name !== undefined).join(' ');
};

/** Words of Latin letters. */
const latinIn = (text: string): string[] => [...new Set(text.match(/[A-Za-z]{3,}/g) ?? [])];

describe('a book in Russian letters, two of its faces from files', { tags: 'long' }, () => {
  let folder: string;
  let layout: string;
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), 'runnel-'));
    const course = join(folder, 'course');
    writeTinyCourse(course, '10');
    const file = join(course, 'course.yaml');
    const text = readFileSync(file, 'utf8')
      .replace('One small green', 'Один маленький грин')
      .replace('a cut of a green that is', 'часть большого');
    writeFileSync(file, text);
    const map = join(course, 'map.geojson');
    writeFileSync(map, readFileSync(map, 'utf8').replaceAll('Thimble', 'Напёрсток'));
    layout = writeLayout(folder, WORDS);
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  const run = (command: string, ...holes: string[]) =>
    runCaptured([
      ...[command, join(folder, 'course'), ...holes],
      ...['--layout', layout, '--out', join(folder, 'out')],
    ]);

  it('is made, passes the check, and gives its words back', async () => {
    const { code, stderr } = await run('book');
    expect(`${code} ${stderr}`).toMatch(/^0 /);
    const book = join(folder, 'out/course/tiny.pdf');
    expect((await runCaptured(['check', book])).code).toBe(0);
    const text = await textsOf(book);
    expect(text).toContain('Один маленький грин');
    expect(text).toContain(WORDS['surveys.title']);
    expect(latinIn(text)).toEqual([]);
    const { catalog } = await PDFDocument.load(readFileSync(book));
    expect((catalog.lookup(PDFName.of('Lang')) as PDFString).decodeText()).toBe('ru');
    expect(await facesIn(book)).toContain('SourceSans3-Black');
    expect(await facesIn(book)).not.toContain('Alegreya');
  });

  it('has the page of a green in the same words and faces', async () => {
    const { code, stdout, stderr } = await run('green', '12');
    expect(`${code} ${stderr}`).toMatch(/^0 /);
    // The layout asks for metres; what a command says is English.
    expect(stdout).toMatch(/\d m\b/);
    expect(stdout).not.toMatch(/\d ft\b/);
    const page = join(folder, 'out/course/tiny-green-12.pdf');
    expect(latinIn(await textsOf(page))).toEqual([]);
    expect(await facesIn(page)).toContain('SourceSans3-Black');
    expect(await facesIn(page)).not.toContain('Alegreya');
  });

  it('is proved in the same words, units and faces', async () => {
    const place = { course: join(folder, 'course'), layout, out: join(folder, 'out') };
    const asked = {
      ...place,
      units: undefined,
      outside: false,
      locations: undefined,
      port: 0,
      json: false,
    };
    const { proof, fonts } = await openSite(asked, () => {});
    const { units, words } = proof.source.book;
    expect([units, words?.['surveys.title']]).toEqual(['metric', WORDS['surveys.title']]);
    expect(fonts['title-bold'].name).toContain('Source Sans 3 Black');
  });

  // The Thai script is in none of the faces.
  it('is refused at once where no face has the letters of its words', async () => {
    writeLayout(folder, { ...WORDS, 'surveys.title': 'ไทย' });
    const { code, stderr } = await run('book');
    expect(code).toBe(2);
    expect(stderr).toContain('slova.yaml, words.surveys.title');
  });
});
