import { createHash } from 'node:crypto';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { openFontsOf } from '../../src/book/layout-faces.js';
import { sweep } from '../../src/book/write-beside.js';
import { readBookList, withFolders } from '../../src/cli/books-list.js';
import { loadCourse } from '../../src/course/load-course.js';
import { readRolls } from '../../src/event/rolls-file.js';
import { loadLayout } from '../../src/layout/layout-file.js';
import { DARK, type Face, type Page, type TextMark } from '../../src/page/marks/marks.js';
import { parseWords } from '../../src/page/words/read-words.js';
import { readFontFile } from '../../src/print/font-files.js';
import { glyphOutlines } from '../../src/print/glyph-outlines.js';
import { writePdf } from '../../src/print/pdf.js';
import { below, oneOf, type Random } from './chance.js';
import { DEMO, once, outlines, seed } from './course-kinds.js';
import { damagedBinary, damagedText, WORDS } from './damage.js';
import { WrongRead } from './judge.js';
import type { Kind } from './kinds.js';
import { runProgram } from './run-program.js';

const ROLLS = `hole: 7
date: 2026-06-03
release: 1.83 m/s
speed: 9.5 ft
rolls:
  - { from: { on: 10, left: 6 }, toward: { on: 14, left: 6 }, rolled: 3.1 m, side: 4 cm left }
  - { from: { on: 14, left: 6 }, toward: { on: 10, left: 6 }, rest: { on: 9, left: 6 } }
putts:
  - { from: { on: 9, left: 8 }, to: { on: 9, left: 5 }, aim: 6 in left, rolled: 11 ft, side: 3 in right }
`;

const rollsKind: Kind = {
  name: 'rolls',
  damage: damagedText,
  seeds: () => [seed('rolls', ROLLS)],
  read: async (bytes) => {
    readRolls(
      bytes.toString('utf8'),
      'rolls.yaml',
      once('demo course', () => loadCourse(DEMO)),
    );
  },
};

const LIST = `course,layout,use,units
listed,a6,practice,imperial
listed,a6,play,metric
# the same again
listed,fold-up,,
`;

const listKind: Kind = {
  name: 'list',
  damage: damagedText,
  seeds: () => [seed('commas', LIST), seed('semicolons', LIST.replaceAll(',', ';'))],
  read: async (bytes, _seed, { folder }) => {
    once('listed', () => outlines(folder, 'listed'));
    const file = join(folder, 'books.csv');
    writeFileSync(file, bytes);
    const common = {
      layout: 'pocket',
      out: folder,
      since: undefined,
      use: undefined,
      units: 'imperial' as const,
    };
    withFolders(readBookList(file, common));
  },
};

/** No process has this number: the largest that Linux gives is 2^22. */
const GONE = 4_194_305;
const NAMES = ['a.pdf', 'svg/b.svg', 'c.txt'];
/** Of what stands beside the folder. */
const KEPT = createHash('sha256').update('kept').digest('hex');

/** What a killed run left of its renaming, damaged: nothing outside its folder may change by it. */
const setKind: Kind = {
  name: 'set',
  damage: damagedText,
  seeds: () => [
    seed('set', JSON.stringify(NAMES)),
    seed('lines', JSON.stringify(NAMES, null, 1)),
    seed('stale', JSON.stringify([{ file: '../beside.txt', sha256: KEPT }, ...NAMES])),
  ],
  read: async (bytes, _seed, { folder }) => {
    const [place, beside] = [join(folder, 'set', 'out'), join(folder, 'set', 'beside.txt')];
    mkdirSync(join(place, 'svg'), { recursive: true });
    writeFileSync(beside, 'kept');
    for (const path of [...NAMES.map((name) => join(place, name)), beside]) {
      writeFileSync(`${path}.${GONE}.runnel-part`, 'part');
    }
    writeFileSync(join(place, `.${GONE}.runnel-set`), bytes);
    sweep(place);
    if (readFileSync(beside, 'utf8') !== 'kept')
      throw new WrongRead('a file outside of the folder');
  },
};

/** Command lines that are right; FOLDER stands for that of the cases, and what follows it is left alone. */
const LINES = [
  'speed --up 6.2 --down 14.5',
  'speed --up 6.2 --down 14.5 --units metric --json',
  'layouts --schema',
  'layouts',
  'check FOLDER/none.pdf',
  'cache --out FOLDER/out',
  'holes FOLDER/lined --locations FOLDER/lined/sheet.txt --day 1 --json',
  'distances FOLDER/lined 1 --from 150',
  'distances FOLDER/lined 2 --width 120,200 --units metric',
  'green FOLDER/lined 1 --out FOLDER/out',
  'locate FOLDER/lined 3 --at 5,4 --day 1 --locations FOLDER/lined/sheet.txt',
  'day FOLDER/lined --locations FOLDER/lined/sheet.txt --day 1 --out FOLDER/out --wind 12mph,240 --tees +6 --date 2026-06-03 --speed 10.5ft',
  'day FOLDER/lined --locations FOLDER/lined/sheet.txt --day 2 --out FOLDER/out',
  'new FOLDER/made --map FOLDER/lined/map.geojson --title Lined',
  'survey FOLDER/points.csv --unit m --crs EPSG:32630 --columns "east north height"',
  'putt --survey FOLDER/points.csv --unit m --from 2,3 --hole 5,6 --stimp 10 --past 1',
  'roll FOLDER/lined FOLDER/rolls.yaml',
  'station FOLDER/lined 1 --on 5 --left 4 --step 1pace --speed 10 --out FOLDER/out',
];

const POINTS = Array.from({ length: 64 }, (_, k) => {
  const [x, y] = [1.2 * (k % 8), 1.2 * Math.floor(k / 8)];
  return `${x.toFixed(1)},${y.toFixed(1)},${(0.02 * y + 0.03 * Math.sin(x / 3)).toFixed(3)}`;
});

/** The folders and files that the lines name. */
const furnish = (folder: string, name = 'lined'): true => {
  const place = outlines(folder, name);
  writeFileSync(
    join(place, 'sheet.txt'),
    '1  7 on  4 right\n2, 7, 3L\n3: 4 from back, 3 m from right\n',
  );
  writeFileSync(join(folder, 'points.csv'), `x,y,z\n${POINTS.join('\n')}\n`);
  writeFileSync(join(folder, 'rolls.yaml'), ROLLS);
  return true;
};

/** Every file of a course's folder, damaged, under every right command line: what one file says of another is tried so. */
const folderKind: Kind = {
  name: 'folder',
  damage: damagedText,
  seeds: () => {
    const place = mkdtempSync(join(tmpdir(), 'runnel-folder-'));
    furnish(place, 'mixed');
    const files = ['mixed/map.geojson', 'mixed/course.yaml', 'mixed/sheet.txt', 'points.csv'];
    const found = [...files, 'rolls.yaml'].map((name) => ({
      ...{ name, bytes: readFileSync(join(place, name)) },
    }));
    rmSync(place, { recursive: true });
    return found;
  },
  read: async (bytes, { name }, { folder, number }) => {
    furnish(folder, 'mixed');
    writeFileSync(join(folder, name), bytes);
    const named = LINES.filter((line) => line.includes(name.split('/')[0]) || /lined/.test(line));
    const words = wordsOf(named[number % named.length].replaceAll('lined', 'mixed'));
    await runProgram(words.map((word) => word.replaceAll('FOLDER', folder)));
    rmSync(join(folder, 'made'), { recursive: true, force: true });
  },
};

/** One to three words replaced, left out, doubled or exchanged. */
const damagedLine = (words: readonly string[], random: Random): string[] => {
  const out = [...words];
  for (let k = 1 + below(random, 3); k > 0; k--) {
    const [a, b] = [1 + below(random, out.length), 1 + below(random, out.length)];
    // Where the program writes stays where it is.
    if ([out[a], out[b]].some((word) => word === undefined || /FOLDER|--out/.test(word))) continue;
    const how = below(random, 5);
    if (how === 0) out.splice(a, 1);
    else if (how === 1) out.splice(a, 0, out[b]);
    else if (how === 2) [out[a], out[b]] = [out[b], out[a]];
    else if (how === 3) out[a] += oneOf(random, WORDS);
    else out[a] = oneOf(random, WORDS);
  }
  return out;
};

const wordsOf = (line: string): string[] =>
  [...line.matchAll(/"([^"]*)"|(\S+)/g)].map(([, quoted, bare]) => quoted ?? bare);

const lineKind: Kind = {
  name: 'line',
  damage: (bytes, random) =>
    Buffer.from(JSON.stringify(damagedLine(wordsOf(bytes.toString('utf8')), random))),
  seeds: () => LINES.map((line) => seed(line.split(' ')[0], line)),
  read: async (bytes, _seed, { folder }) => {
    once('lines', () => furnish(folder));
    // A word of a command line holds no NUL: no system hands one over.
    const words: string[] = JSON.parse(bytes.toString('utf8').replaceAll('\\u0000', ''));
    const own = process.cwd();
    process.chdir(folder);
    try {
      await runProgram(words.map((word) => word.replaceAll('FOLDER', folder)));
    } finally {
      process.chdir(own);
      rmSync(join(folder, 'made'), { recursive: true, force: true });
    }
  },
};

const WORDS_FILE = `language: de
words:
  cover.greens: "{count} Grüns"
`;

const wordsKind: Kind = {
  name: 'words',
  damage: damagedText,
  seeds: () => [seed('few', WORDS_FILE)],
  read: async (bytes) => {
    parseWords(bytes.toString('utf8'), 'words.yaml');
  },
};

/** A page with words in a face. */
const pageIn = (face: Face): Page => ({
  ...{ id: 'page', title: 'Page', width: 60, height: 40, label: '1' },
  marks: [
    {
      ...{ kind: 'text' as const, text: 'Wave to the left, 12½ paces', at: [5, 20] as const },
      ...{ face, size: 9, align: 'left' as const, paint: DARK },
    },
  ],
});

/** A font file that a layout names: read, set and embedded. */
const fontKind: Kind = {
  name: 'font',
  damage: damagedBinary,
  seeds: () =>
    (['text', 'note'] as const).map((face) => ({
      name: face,
      bytes: Buffer.from(readFontFile(face)),
    })),
  read: async (bytes, { name }, { folder }) => {
    const file = join(folder, 'own.ttf');
    writeFileSync(file, bytes);
    const face = name as Face;
    const fonts = openFontsOf({ faces: { [face]: file } });
    const layout = once('pocket', () => loadLayout('pocket'));
    await writePdf([pageIn(face)], layout, {
      fonts,
      edition: 'screen',
      title: 'Page',
      language: 'en',
    });
    glyphOutlines(fonts, pageIn(face).marks[0] as TextMark);
  },
};

/** What is written in a line or a small file about courses: rolls, lists of books, sets, command lines. */
export const LINE_KINDS: readonly Kind[] = [
  ...[rollsKind, listKind, setKind, lineKind, folderKind, wordsKind, fontKind],
];
