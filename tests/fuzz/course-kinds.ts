import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { isDeepStrictEqual } from 'node:util';
import { keep, keptFiles, openCache, recall } from '../../src/book/cache.js';
import { readEarlierEdition } from '../../src/book/earlier-edition.js';
import { changesSince } from '../../src/book/edition-changes.js';
import type { EditionRecord } from '../../src/book/edition-record.js';
import { loadCourse } from '../../src/course/load-course.js';
import { readMap } from '../../src/course/read-map.js';
import { readDayFile } from '../../src/event/day-file.js';
import { locationsByDay } from '../../src/event/day-locations.js';
import { readNotes } from '../../src/event/notes-file.js';
import { parseLayout } from '../../src/layout/load-layout.js';
import { measureWith, openFonts } from '../../src/print/fonts.js';
import { asOsmXml, asOverpass } from '../course/osm-writer.js';
import { tidyCourse } from '../course/untidy-course.js';
import { FORMS, writtenAs } from '../course/untidy-writers.js';
import { damagedBinary, damagedPdf, damagedText } from './damage.js';
import { WrongRead } from './judge.js';
import type { Kind, Seed } from './kinds.js';
import { runProgram } from './run-program.js';

export const DEMO = fileURLToPath(new URL('../../course-data/vellamoor/', import.meta.url));
const LAYOUTS = fileURLToPath(new URL('../../layouts/', import.meta.url));
const textIn = (file: string): string => readFileSync(file, 'utf8');
export const seed = (name: string, text: string): Seed => ({ name, bytes: Buffer.from(text) });

/** Every so many cases are a whole run of the program. */
const WHOLE_EVERY = 25;

const MAP = writtenAs('geojson', tidyCourse({ seed: 77, holes: 3 }));
const OUTLINES = `title: Outlines
map: map.geojson
greenSpeed: 10 ft
holes:
  - hole: 1
  - { hole: 2, name: "Second", par: 4, index: 3 }
  - hole: 3
    add: []
`;

const SOLD = `${OUTLINES}edition: Spring
buyer: "A reader"
imprint:
  publisher: "A press"
  copyright: "© 2026 A press"
  contact: books@example.org
  surveyed: May 2026
  price: "£12.00"
  isbn: "978-0-306-40615-7"
  addOn: "51200"
  about: "Every green of a course that is made up."
`;

/** A course without surveys, which makes a book in a moment. */
export const outlines = (folder: string, name = 'outlines'): string => {
  const place = join(folder, name);
  mkdirSync(place, { recursive: true });
  writeFileSync(join(place, 'map.geojson'), MAP);
  writeFileSync(join(place, 'course.yaml'), OUTLINES);
  return place;
};

/** Made once in a process, by name. */
const made = new Map<string, unknown>();
export const once = <T>(name: string, make: () => T): T => {
  if (!made.has(name)) made.set(name, make());
  return made.get(name) as T;
};

const bookOf = (course: string, folder: string, layout: string): Promise<void> =>
  runProgram(['book', course, '--layout', layout, '--out', join(folder, 'out')]);

const courseKind: Kind = {
  name: 'course',
  damage: damagedText,
  seeds: () => [
    seed('outlines', OUTLINES),
    seed('sold', SOLD),
    seed('demo', textIn(join(DEMO, 'course.yaml'))),
  ],
  read: async (bytes, { name }, { folder, number }) => {
    const place = name === 'demo' ? DEMO : once('course', () => outlines(folder, 'course'));
    const file = join(place === DEMO ? folder : place, 'course.yaml');
    if (place === DEMO) {
      once('demo', () => {
        for (const part of ['map.geojson', 'days.csv', 'ground.asc']) {
          try {
            writeFileSync(join(folder, part), readFileSync(join(DEMO, part)));
          } catch {}
        }
        mkdirSync(join(folder, 'surveys'), { recursive: true });
        for (const part of readdirSync(join(DEMO, 'surveys'))) {
          writeFileSync(join(folder, 'surveys', part), readFileSync(join(DEMO, 'surveys', part)));
        }
        return true;
      });
    }
    writeFileSync(file, bytes);
    if (number % WHOLE_EVERY !== 0) loadCourse(file);
    else if (place === DEMO) await runProgram(['holes', file]);
    else await bookOf(file, folder, 'a6');
  },
};

const notesKind: Kind = {
  name: 'notes',
  damage: damagedText,
  seeds: () => [
    seed('demo', textIn(join(DEMO, 'notes.yaml'))),
    seed(
      'few',
      'notes:\n  - hole: 1\n    club: "7"\n    target: left edge\n    words: "Short is good"\n',
    ),
  ],
  read: async (bytes, _seed, { folder, number }) => {
    const text = bytes.toString('utf8');
    if (number % WHOLE_EVERY === 0) {
      const place = once('noted', () => outlines(folder, 'noted'));
      writeFileSync(join(place, 'notes.yaml'), bytes);
      await bookOf(place, folder, 'a6');
      return;
    }
    const measure = once('measure', () => measureWith(openFonts()));
    const course = once('demo course', () => loadCourse(DEMO));
    readNotes(text, 'notes.yaml', course, (words) => measure(words, 'note', 8));
  },
};

const layoutKind: Kind = {
  name: 'layout',
  damage: damagedText,
  seeds: () =>
    readdirSync(LAYOUTS)
      .filter((name) => name.endsWith('.yaml'))
      .map((name) => seed(name, textIn(join(LAYOUTS, name)))),
  read: async (bytes, { name }, { folder, number }) => {
    parseLayout(bytes.toString('utf8'), name);
    if (number % WHOLE_EVERY !== 0) return;
    const file = join(folder, 'own.yaml');
    writeFileSync(file, bytes);
    await bookOf(
      once('laid out', () => outlines(folder, 'laid-out')),
      folder,
      file,
    );
  },
};

const mapKind: Kind = {
  name: 'map',
  damage: damagedText,
  seeds: () => [
    ...FORMS.map((form) => seed(form, writtenAs(form, tidyCourse({ seed: 5, holes: 3 })))),
    seed('demo as XML', asOsmXml(MAP)),
    seed('overpass', asOverpass(MAP, false)),
    seed('overpass with geometry', asOverpass(MAP, true)),
  ],
  read: async (bytes, _seed, { folder, number }) => {
    if (number % WHOLE_EVERY !== 0) {
      readMap(bytes.toString('utf8'), 'map.osm');
      return;
    }
    const file = join(folder, 'map.osm');
    writeFileSync(file, bytes);
    await runProgram(['new', join(folder, `new-${number}`), '--map', file]);
  },
};

const daysKind: Kind = {
  name: 'days',
  damage: damagedText,
  seeds: () => [
    seed('demo', textIn(join(DEMO, 'days.csv')).split('\n').slice(0, 24).join('\n')),
    seed('sheet', '1  12 on  5 left\n2, 7, 4R\n3: 4 from back, 3 m from right\n'),
  ],
  read: async (bytes, { name }, { number }) => {
    const course = once('demo course', () => loadCourse(DEMO));
    const day = name === 'sheet' || number % 2 === 0 ? { day: 1 } : {};
    const entries = readDayFile(bytes.toString('utf8'), 'days.csv', day);
    locationsByDay(course, entries, 'days.csv', () => {});
  },
};

/** A book and its press file, made of outlines. */
const booksOf = async (folder: string): Promise<readonly Seed[]> => {
  const out = join(folder, 'books');
  const place = outlines(folder, 'bound');
  for (const layout of ['a6']) {
    await runProgram(['book', place, '--layout', layout, '--out', out]);
  }
  const files = readdirSync(join(out, 'bound')).filter((name) => name.endsWith('.pdf'));
  return files.map((name) => ({ name, bytes: readFileSync(join(out, 'bound', name)) }));
};

const pdfKind = (folder: string): Kind => ({
  name: 'pdf',
  damage: damagedPdf,
  seeds: () => booksOf(folder),
  read: async (bytes, _seed, context) => {
    const file = join(context.folder, 'book.pdf');
    writeFileSync(file, bytes);
    await runProgram(['check', file]);
  },
});

const KEY = 'a'.repeat(64);
const KEPT = { heights: new Float64Array([1, 2, 3]), name: 'green', list: [1, 'two', null] };

const cacheKind = (folder: string): Kind => {
  const cache = openCache(folder);
  return {
    name: 'cache',
    damage: damagedBinary,
    seeds: () => {
      keep(cache, 'putts', KEY, KEPT);
      const [{ path }] = keptFiles(folder);
      return [{ name: 'kept', bytes: readFileSync(path) }];
    },
    read: async (bytes) => {
      keep(cache, 'putts', KEY, KEPT);
      const [{ path }] = keptFiles(folder);
      writeFileSync(path, bytes);
      const found = recall(cache, 'putts', KEY);
      if (found !== null && !isDeepStrictEqual(found, KEPT)) {
        throw new WrongRead('a damaged file of the cache was believed');
      }
    },
  };
};

const SINCE = { folder: 'bound', layout: 'a6' };

/** An earlier edition that a new one is held against: its PDF, or the manifest of its run. */
const sinceKind = (folder: string): Kind => {
  const file = join(folder, 'earlier.pdf');
  const recordOf = (bytes: Uint8Array) => {
    writeFileSync(file, bytes);
    return readEarlierEdition(file, SINCE);
  };
  let whole: EditionRecord | null = null;
  return {
    name: 'since',
    damage: (bytes, random, others) =>
      (bytes[0] === 0x7b ? damagedText : damagedPdf)(bytes, random, others),
    seeds: async () => {
      const screen = (await booksOf(folder)).find(({ name }) => name === 'a6.pdf')!;
      whole = await recordOf(screen.bytes);
      const books = [{ folder: SINCE.folder, record: whole }];
      return [screen, seed('books.json', JSON.stringify({ books }))];
    },
    read: async (bytes) => {
      changesSince(await recordOf(bytes), whole!);
    },
  };
};

/** Files of a course and its products. */
export const courseKinds = (folder: string): readonly Kind[] => [
  ...[courseKind, notesKind, layoutKind, mapKind, daysKind, pdfKind(folder), sinceKind(folder)],
  cacheKind(folder),
];
