import { beforeAll, describe, expect, it } from 'vitest';
import { told } from '../../src/appraisal/judge-words.js';
import type { GreenWorth } from '../../src/appraisal/worth.js';
import { courseFigures } from '../../src/course/course-figures.js';
import { readGround } from '../../src/course/ground.js';
import type { HoleFigures } from '../../src/course/hole-figures.js';
import { loadCourse } from '../../src/course/load-course.js';
import type { Layout } from '../../src/layout/layout.js';
import type { BookContent, GreenContent } from '../../src/page/book-content.js';
import { composeBook } from '../../src/page/book-pages.js';
import { composeDay } from '../../src/page/day/day-pages.js';
import type { Page } from '../../src/page/marks/marks.js';
import { ENGLISH } from '../../src/page/words/english.js';
import type { WordKey, WordTable } from '../../src/page/words/words.js';
import { measureWith, openFonts } from '../../src/print/fonts.js';
import type { Section } from '../../src/terrain/reading.js';
import { ownLayout, ownLayoutNames } from '../print/sample-pages.js';
import { blankGreen } from './blank-greens.js';
import { MADE_UP } from './made-up-language.js';
import { englishIn, inForeignHands, saidOn, strangers } from './strangers.js';

const measure = measureWith(openFonts());
let holes: readonly HoleFigures[] = [];
beforeAll(async () => {
  const course = loadCourse('course-data/vellamoor');
  holes = courseFigures(course, await readGround(course));
});

/** With a sign before tenths that no figure has by itself. */
const WORDS = Object.fromEntries(
  Object.entries({ ...MADE_UP, 'number.point': '·', '#language': 'sv' }).map(([key, wording]) => [
    key,
    wording.replaceAll(/(?<=\d)\.(?=\d)/g, '·'),
  ]),
) as WordTable;

/** What a judge finds lacking, in all the sentences that it has. */
const LACKING: Pick<GreenWorth, 'reasons' | 'mend' | 'told' | 'notes'> = {
  reasons: ['asked: points no more than 2.2 m apart; found: 3.1 m'],
  mend: ['points on the ground that has none'],
  notes: ['the heights drift by 8 mm along the walk; that is taken off, and its doubt counted'],
  told: {
    reasons: [
      told('judge.asked', {
        asked: told('judge.near', { length: '2.2 m' }),
        found: told('judge.none-on-it'),
      }),
      told('judge.asked', { asked: told('judge.aim', { size: '49 mm' }), found: '51 mm' }),
    ],
    mend: [told('mend.bare'), told('mend.better', { length: '1.0 m', size: '8 mm' })],
  },
};

const SECTIONS = (
  ['upper tier', 'back-left bowl', 'false front', 'left false edge 2'] as const
).map(
  (name): Section => ({
    kind: name.includes('tier') ? 'tier' : name.includes('bowl') ? 'bowl' : 'false edge',
    ...{ name: name.replace('front', 'edge'), polygons: [], area: 40, meanGrade: 0.02 },
  }),
);

const worthAt = (green: GreenContent, i: number): GreenContent => {
  const worth = (['tables', 'arrows', 'tables', 'outline'] as const)[i % 4];
  return {
    ...green,
    reading: { ...green.reading, sections: SECTIONS },
    worth: {
      ...green.worth,
      ...(worth === 'tables' ? {} : LACKING),
      ...{ worth, judged: worth, statedSigma: 0.012, noise: 0.031, doubtfulCells: 0.34 },
      ...(i === 2 ? { overruled: 'walked again', judged: 'arrows' as const, ...LACKING } : {}),
    },
  };
};

const IMPRINT: BookContent['imprint'] = {
  edition: 'Second',
  buyer: 'Autumn meeting',
  publisher: 'Us',
  copyright: 'the makers',
  contact: ['here'],
  surveyed: 'in May',
  price: '14',
  isbn: { written: '978-0-306-40615-7', ean: '9780306406157' },
  addOn: null,
  made: '3 May',
  logo: null,
  about: 'All of it.',
};

const bookOf = (layout: Layout, units: BookContent['units']): BookContent => {
  const greens = ['1', '2', '3', 'practice'].map((id, i) =>
    worthAt(blankGreen({ id, name: `Name ${i}`, locations: 3 }, layout), i),
  );
  return inForeignHands({
    ...{ title: 'Title', setting: 'Setting', use: layout.use, units, stimp: 3.05, past: 0.31 },
    words: WORDS,
    imprint: IMPRINT,
    greens,
    outlines: [
      {
        ...{ holeId: '4', name: 'Name', par: 4, outline: greens[0].outline, northUp: false },
        ...{ locations: greens[0].locations, hazards: [], worth: greens[1].worth, approaches: [] },
      },
    ],
    holes: holes.slice(0, 4),
  });
};

const dayOf = (layout: Layout, units: BookContent['units']): Page[] => {
  const book = bookOf(layout, units);
  const greens = book.greens.map((green) => ({ ...green, locations: green.locations.slice(0, 1) }));
  const today = { wind: { speed: '22', from: 235 }, date: '3', bearings: new Map([['1', 20]]) };
  return composeDay(
    { ...book, greens, day: 2, today: { ...today, distances: new Map() } },
    layout,
    measure,
  );
};

const pagesOf = (name: string, units: BookContent['units']): Page[] => {
  const layout = ownLayout(name);
  return layout.pages['day-sheet'] === undefined
    ? composeBook(bookOf(layout, units), layout, measure)
    : dayOf(layout, units);
};

/** Drills are made of putts, which blank tables have not: `made-up-language` has them. */
const LAYOUTS = ownLayoutNames().filter((name) => name !== 'drill-cards');

const QUICK = ['committee', 'day', 'pocket'];

const isTranslated = (name: string): void => {
  for (const units of ['imperial', 'metric'] as const) {
    const pages = pagesOf(name, units);
    expect(strangers(pages), units).toEqual([]);
    expect(saidOn(pages).filter((text) => /\d\.\d/.test(text))).toEqual([]);
  }
};

describe('pages in another language', () => {
  it.each(QUICK)('%s: have no English word on them, and its sign before tenths', isTranslated);
  it.each(LAYOUTS.filter((name) => !QUICK.includes(name)))(
    '%s: have no English word on them, and its sign before tenths, too',
    { tags: 'long' },
    isTranslated,
  );

  it('would have each wording seen that stays English', () => {
    const unseen = Object.entries(ENGLISH).filter(
      ([key, english]) =>
        /(?<![{\w])[A-Za-z]{3,}(?![\w}])/.test(english) &&
        englishIn(english.replace(/\{\w+\}/g, '7')).length === 0 &&
        key !== 'imprint.isbn',
    );
    expect(unseen).toEqual([]);
    const left: WordKey[] = ['card.par', 'tables.falls', 'read.title', 'worth.mend'];
    const layout = ownLayout('pocket');
    for (const key of left) {
      const book = bookOf(layout, 'imperial');
      const words = { ...book.words!, [key]: ENGLISH[key] };
      expect(strangers(composeBook({ ...book, words }, layout, measure)), key).not.toEqual([]);
    }
  });
});
