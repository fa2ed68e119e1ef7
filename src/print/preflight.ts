import type { Box } from '../geometry.js';
import { mmToPoints, pointsToMm } from '../units.js';
import { PAGES_AT_A_TIME } from './binding.js';
import { type DrawnColour, inkOf } from './drawn-colour.js';
import type { DrawnPage } from './drawn-page.js';
import type { BindingMethod } from './layout.js';
import { MINIMUM_LINE, MINIMUM_TYPE } from './load-layout.js';
import type { ReadBook, ReadPage } from './read-book.js';

/** What one rule found. `page` counts the PDF's pages from 1; null is the whole file. */
export interface Finding {
  readonly rule: string;
  readonly verdict: 'pass' | 'note' | 'fail';
  readonly page: number | null;
  readonly words: string;
}

/** Limits of a press; common practice, no source, unless said otherwise. */
const LIMITS = {
  /** Total ink of all plates. */
  ink: 3,
  /** Pixels to an inch. */
  resolution: 300,
  /** Millimetres. */
  bleed: 3,
  textInside: 3,
  /** Points. */
  box: 0.01,
} as const;

const round = (value: number, digits = 2): string => String(Number(value.toFixed(digits)));

const inside = (inner: Box, outer: Box, by = 0): boolean =>
  inner.minX >= outer.minX + by - LIMITS.box &&
  inner.minY >= outer.minY + by - LIMITS.box &&
  inner.maxX <= outer.maxX - by + LIMITS.box &&
  inner.maxY <= outer.maxY - by + LIMITS.box;

const sizeWords = (box: Box): string =>
  `${round(pointsToMm(box.maxX - box.minX))} x ${round(pointsToMm(box.maxY - box.minY))} mm`;

type PageRule = (page: ReadPage, book: ReadBook) => readonly string[];

/** One finding a page that fails, or one for all that pass. */
const overPages = (book: ReadBook, rule: string, passed: string, test: PageRule): Finding[] => {
  const failed = book.pages.flatMap((page, i) =>
    test(page, book).map((words): Finding => ({ rule, verdict: 'fail', page: i + 1, words })),
  );
  return failed.length > 0 ? failed : [{ rule, verdict: 'pass', page: null, words: passed }];
};

const isPress = (book: ReadBook): boolean => book.standard !== null;

const boxes: PageRule = ({ media, trim, bleed }, book) => {
  if (trim === null) return ['no TrimBox'];
  const faults: string[] = [];
  if (!inside(trim, media)) faults.push('the TrimBox is not inside the MediaBox');
  if (bleed !== null && !inside(trim, bleed)) faults.push('the TrimBox is not inside the BleedBox');
  if (bleed !== null && !inside(bleed, media)) {
    faults.push('the BleedBox is not inside the MediaBox');
  }
  if (isPress(book) && book.facts?.sheet === null) {
    if (bleed === null) faults.push('no BleedBox');
    else if (!inside(trim, bleed, mmToPoints(LIMITS.bleed))) {
      faults.push(`bleed of less than ${LIMITS.bleed} mm`);
    }
  }
  return faults;
};

const colourName = ({ space, plate }: DrawnColour): string => plate ?? space;

const colourSpaces = (book: ReadBook): Finding[] => {
  const names = new Set(
    book.pages.flatMap(({ drawn }) => drawn.paints.map(({ colour }) => colourName(colour))),
  );
  const listed = [...names].sort().join(', ');
  if (!isPress(book)) {
    return [{ rule: 'colour', verdict: 'pass', page: null, words: `colours: ${listed || 'none'}` }];
  }
  return overPages(book, 'colour', `press colours only: ${listed}`, ({ drawn }) => {
    const wrong = new Set(
      drawn.paints
        .filter(({ colour }) => inkOf(colour) === null)
        .map(({ colour }) => colourName(colour)),
    );
    return wrong.size === 0 ? [] : [`not a press colour: ${[...wrong].join(', ')}`];
  });
};

/** The most ink on one spot: the heaviest paint that knocks out, and the heaviest that prints over it. */
export const inkCoverage = ({ paints }: DrawnPage): number => {
  let below = 0;
  let over = 0;
  for (const { colour, overprint, printerMark } of paints) {
    const ink = printerMark ? 0 : (inkOf(colour) ?? 0);
    if (overprint) over = Math.max(over, ink);
    else below = Math.max(below, ink);
  }
  return below + over;
};

const inks = (book: ReadBook): Finding[] => {
  if (!isPress(book)) return [];
  const most = Math.max(...book.pages.map(({ drawn }) => inkCoverage(drawn)));
  return overPages(
    book,
    'ink coverage',
    `${round(most * 100, 0)} % at most, limit ${LIMITS.ink * 100} %`,
    ({ drawn }) => {
      const ink = inkCoverage(drawn);
      return ink > LIMITS.ink + 1e-6 ? [`${round(ink * 100, 0)} % of ink on one spot`] : [];
    },
  );
};

const type = (book: ReadBook): Finding[] => {
  const smallest = Math.min(...book.pages.flatMap(({ drawn }) => drawn.texts.map((t) => t.size)));
  return overPages(
    book,
    'type size',
    `${round(smallest)} pt or more, limit ${MINIMUM_TYPE} pt`,
    ({ drawn }) => {
      const small = drawn.texts.filter((t) => t.size < MINIMUM_TYPE - 0.005);
      return small.length === 0
        ? []
        : [
            `${small.length} texts under ${MINIMUM_TYPE} pt, the first "${small[0].text}" at ${round(small[0].size)} pt`,
          ];
    },
  );
};

const lines = (book: ReadBook): Finding[] => {
  const widths = book.pages.flatMap(({ drawn }) => drawn.strokes.map((s) => s.width));
  const thinnest = widths.reduce((least, width) => Math.min(least, width), Infinity);
  return overPages(
    book,
    'line width',
    `${round(thinnest, 3)} pt or more, limit ${MINIMUM_LINE} pt`,
    ({ drawn }) => {
      const thin = drawn.strokes.filter((s) => s.width < MINIMUM_LINE - 0.001);
      return thin.length === 0
        ? []
        : [
            `${thin.length} lines under ${MINIMUM_LINE} pt, the first ${round(thin[0].width, 3)} pt`,
          ];
    },
  );
};

const fonts = (book: ReadBook): Finding[] => {
  const all = new Map(
    book.pages.flatMap(({ drawn }) => drawn.texts.map(({ font }) => [font.name, font] as const)),
  );
  return [
    ...overPages(
      book,
      'fonts',
      `embedded as subsets: ${[...all.keys()].sort().join(', ')}`,
      ({ drawn }) => {
        const used = new Set(drawn.texts.map(({ font }) => font));
        return [...used].flatMap((font) => [
          ...(font.embedded ? [] : [`${font.name} is not embedded`]),
          ...(font.subset ? [] : [`${font.name} is not a subset`]),
          ...(font.hasUnicode ? [] : [`text in ${font.name} cannot be taken out`]),
        ]);
      },
    ),
    ...overPages(book, 'glyphs', 'none is missing', ({ drawn }) =>
      drawn.texts
        .filter((t) => t.missing)
        .map((t) => `a glyph is missing in "${t.text}" (${t.font.name})`),
    ),
  ];
};

const images = (book: ReadBook): Finding[] => {
  const all = book.pages.flatMap(({ drawn }) => drawn.images);
  const least = all.reduce((low, { resolution }) => Math.min(low, resolution), Infinity);
  return overPages(
    book,
    'images',
    all.length === 0
      ? 'none: all is drawn as lines and type'
      : `${round(least, 0)} pixels to an inch or more, limit ${LIMITS.resolution}`,
    ({ drawn }) =>
      drawn.images
        .filter(({ resolution }) => resolution < LIMITS.resolution - 0.5)
        .map(({ resolution }) => `an image has ${round(resolution, 0)} pixels to an inch`),
  );
};

/** Each page of the book with the place it has on a PDF page: its trim and whether its binding is left. */
const pagesOf = (
  page: ReadPage,
  index: number,
): { readonly on: number | null; readonly trim: Box; readonly recto: boolean }[] =>
  page.drawn.placed.length > 0
    ? page.drawn.placed.map(({ trim, number }, on) => ({ on, trim, recto: number % 2 === 1 }))
    : page.trim === null
      ? []
      : [{ on: null, trim: page.trim, recto: index % 2 === 0 }];

const margins = (book: ReadBook): Finding[] => {
  if (book.facts === null) return [];
  const clear = mmToPoints(book.facts.clear);
  return overPages(
    book,
    'margins',
    `type ${LIMITS.textInside} mm or more inside the trim, ${round(book.facts.clear)} mm clear at the binding`,
    (page) =>
      pagesOf(page, book.pages.indexOf(page)).flatMap(({ on, trim, recto }) => {
        // The first sheet of instructions is not cut.
        if (on === null && book.facts!.sheet !== null) return [];
        const outside = page.drawn.texts.filter(
          (t) => t.on === on && !inside(t.box, trim, mmToPoints(LIMITS.textInside) - 0.3),
        );
        const bound = page.drawn.paints.filter(
          (p) =>
            p.on === on &&
            !p.printerMark &&
            (recto
              ? p.box.minX < trim.minX + clear - LIMITS.box
              : p.box.maxX > trim.maxX - clear + LIMITS.box),
        );
        return [
          ...outside.map((t) => `"${t.text}" is less than ${LIMITS.textInside} mm inside the trim`),
          ...(clear > 0 && bound.length > 0
            ? [`${bound.length} marks lie in the clear strip at the binding`]
            : []),
        ];
      }),
  );
};

const count = (book: ReadBook): Finding[] => {
  const { facts } = book;
  if (facts === null) return [];
  const rule = 'page count';
  const multiple = PAGES_AT_A_TIME[facts.binding as BindingMethod] ?? 1;
  if (facts.sheet === null) {
    if (!isPress(book)) return [];
    const pages = book.pages.length;
    return [
      pages % multiple === 0
        ? {
            rule,
            verdict: 'pass',
            page: null,
            words: `${pages} pages, as ${facts.binding} takes them`,
          }
        : {
            rule,
            verdict: 'fail',
            page: null,
            words: `${pages} pages: ${facts.binding} takes a multiple of ${multiple}`,
          },
    ];
  }
  const numbers = book.pages
    .flatMap(({ drawn }) => drawn.placed.map((p) => p.number))
    .sort((a, b) => a - b);
  const whole = numbers.length === facts.pages && numbers.every((n, i) => n === i + 1);
  return [
    {
      rule,
      verdict: whole ? 'pass' : 'fail',
      page: null,
      words: whole
        ? `all ${facts.pages} pages are on the sheets, each once`
        : `${numbers.length} pages on the sheets of ${facts.pages} in the book`,
    },
  ];
};

const trims = (book: ReadBook): Finding[] => {
  const sizes = new Set(
    book.pages.flatMap((page, i) =>
      pagesOf(page, i)
        .filter(({ on }) => on !== null || book.facts?.sheet == null)
        .map(({ trim }) => sizeWords(trim)),
    ),
  );
  return [
    {
      rule: 'trim',
      verdict: sizes.size === 1 ? 'pass' : 'fail',
      page: null,
      words:
        sizes.size === 1
          ? `every page is ${[...sizes][0]}`
          : `pages differ in size: ${[...sizes].join(', ')}`,
    },
  ];
};

const standard = (book: ReadBook): Finding[] => {
  if (!isPress(book)) return [];
  const rule = 'PDF/X';
  const faults = [
    ...(book.standard === 'PDF/X-1a:2003' ? [] : [`unknown standard "${book.standard}"`]),
    ...(book.version === '1.4' ? [] : [`PDF ${book.version}; X-1a:2003 is PDF 1.4`]),
    ...(book.outputCondition === null ? ['no output intent'] : []),
    ...(book.trapped === 'True' || book.trapped === 'False' ? [] : ['"Trapped" is not said']),
    ...(book.hasIdentifier ? [] : ['no file identifier']),
    ...(book.title === null ? ['no title'] : []),
    ...book.actions.map((action) => `an action: ${action}`),
    ...book.pages.flatMap(({ annotations }, i) =>
      annotations > 0 ? [`page ${i + 1} has annotations`] : [],
    ),
  ];
  return faults.length === 0
    ? [
        {
          rule,
          verdict: 'pass',
          page: null,
          words: `${book.standard}, printing condition ${book.outputCondition}`,
        },
      ]
    : faults.map((words) => ({ rule, verdict: 'fail', page: null, words }));
};

const transparency = (book: ReadBook): Finding[] =>
  overPages(book, 'transparency', 'none', ({ drawn }) => [...drawn.transparency]);

const words = (book: ReadBook): Finding[] => {
  const missing = [
    ...(book.title === null ? ['title'] : []),
    ...(book.language === null ? ['language'] : []),
    ...(book.hasBookmarks ? [] : ['bookmarks']),
    ...(book.hasLabels ? [] : ['page labels']),
    ...(book.hasMetadata ? [] : ['metadata']),
  ];
  return [
    {
      rule: 'document',
      verdict: missing.length === 0 ? 'pass' : 'fail',
      page: null,
      words:
        missing.length === 0
          ? `"${book.title}", language ${book.language}, bookmarks, page labels${book.tagged ? ', tagged for screen readers' : ''}`
          : `without ${missing.join(', ')}`,
    },
  ];
};

/** All rules over a book, in a fixed order. */
export const preflight = (book: ReadBook): Finding[] => [
  ...overPages(book, 'boxes', 'MediaBox, BleedBox and TrimBox lie one in the other', boxes),
  ...trims(book),
  ...standard(book),
  ...fonts(book),
  ...type(book),
  ...lines(book),
  ...colourSpaces(book),
  ...inks(book),
  ...transparency(book),
  ...images(book),
  ...margins(book),
  ...count(book),
  ...words(book),
];
