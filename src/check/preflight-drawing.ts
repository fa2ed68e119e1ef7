import { quoted } from '../fault.js';
import { MINIMUM_LINE, MINIMUM_TYPE } from '../layout/load-layout.js';
import { LEAST_SCREEN, ONE_INK } from '../print/ink-values.js';
import { counted } from '../wording.js';
import { type DrawnColour, inkOf, platesOf } from './drawn-colour.js';
import type { DrawnPage } from './drawn-page.js';
import { type Finding, isPress, LIMITS, overPages, round } from './preflight-finding.js';
import type { ReadBook } from './read-book.js';
import { textsThatTouch } from './touching-texts.js';

const least = (values: readonly number[]): number =>
  values.reduce((low, value) => Math.min(low, value), Infinity);

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
const inkCoverage = ({ paints }: DrawnPage): number => {
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
      if (Number.isNaN(ink)) return ['a colour does not say how much ink it takes'];
      return ink > LIMITS.ink + 1e-6 ? [`${round(ink * 100, 0)} % of ink on one spot`] : [];
    },
  );
};

/** Screens that a plate does not hold. */
const screens = (book: ReadBook): Finding[] => {
  if (!isPress(book)) return [];
  const shares = book.pages.flatMap(({ drawn }) =>
    drawn.paints.flatMap(({ colour, printerMark }) => (printerMark ? [] : platesOf(colour))),
  );
  return overPages(
    book,
    'screens',
    shares.length === 0
      ? 'none'
      : `${round(least(shares) * 100, 1)} % or more on each plate, limit ${LEAST_SCREEN * 100} %`,
    ({ drawn }) => {
      const light = drawn.paints.flatMap(({ colour, printerMark }) =>
        printerMark ? [] : platesOf(colour).filter((share) => share < LEAST_SCREEN - 1e-4),
      );
      return light.length === 0
        ? []
        : [
            `${counted(light.length, 'screen')} under ${LEAST_SCREEN * 100} %, the lightest ${round(least(light) * 100, 1)} %`,
          ];
    },
  );
};

/** Fine lines and small type that more than one plate prints: out of register they blur. */
const oneInk = (book: ReadBook): Finding[] => {
  if (!isPress(book)) return [];
  return overPages(
    book,
    'fine lines',
    `lines under ${ONE_INK.line} pt and type under ${ONE_INK.type} pt are each on one plate`,
    ({ drawn: { strokes, texts } }) => {
      const lines = strokes.filter(
        ({ width, colour, printerMark }) =>
          !printerMark && width < ONE_INK.line - 0.001 && platesOf(colour).length > 1,
      );
      const words = texts.filter(
        ({ size, colour }) => size < ONE_INK.type - 0.005 && platesOf(colour).length > 1,
      );
      return [
        ...(lines.length === 0
          ? []
          : [
              `${counted(lines.length, 'line')} under ${ONE_INK.line} pt on more than one plate, the first ${round(lines[0].width, 3)} pt on ${platesOf(lines[0].colour).length}`,
            ]),
        ...(words.length === 0
          ? []
          : [
              `${counted(words.length, 'text')} under ${ONE_INK.type} pt on more than one plate, the first ${quoted(words[0].text)}`,
            ]),
      ];
    },
  );
};

const type = (book: ReadBook): Finding[] => {
  const smallest = least(book.pages.flatMap(({ drawn }) => drawn.texts.map((t) => t.size)));
  return overPages(
    book,
    'type size',
    smallest === Infinity ? 'no type' : `${round(smallest)} pt or more, limit ${MINIMUM_TYPE} pt`,
    ({ drawn }) => {
      const small = drawn.texts.filter((t) => t.size < MINIMUM_TYPE - 0.005);
      return small.length === 0
        ? []
        : [
            `${counted(small.length, 'text')} under ${MINIMUM_TYPE} pt, the first ${quoted(small[0].text)} at ${round(small[0].size)} pt`,
          ];
    },
  );
};

const lines = (book: ReadBook): Finding[] => {
  const thinnest = least(book.pages.flatMap(({ drawn }) => drawn.strokes.map((s) => s.width)));
  return overPages(
    book,
    'line width',
    thinnest === Infinity
      ? 'no lines'
      : `${round(thinnest, 3)} pt or more, limit ${MINIMUM_LINE} pt`,
    ({ drawn }) => {
      const thin = drawn.strokes.filter((s) => s.width < MINIMUM_LINE - 0.001);
      return thin.length === 0
        ? []
        : [
            `${counted(thin.length, 'line')} under ${MINIMUM_LINE} pt, the first ${round(thin[0].width, 3)} pt`,
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
        .map((t) => `a glyph is missing in ${quoted(t.text)} (${t.font.name})`),
    ),
  ];
};

const transparency = (book: ReadBook): Finding[] =>
  overPages(book, 'transparency', 'none', ({ drawn }) => [...drawn.transparency]);

const images = (book: ReadBook): Finding[] => {
  const all = book.pages.flatMap(({ drawn }) => drawn.images);
  const coarsest = least(all.map(({ resolution }) => resolution));
  return overPages(
    book,
    'images',
    all.length === 0
      ? 'none: all is drawn as lines and type'
      : `${round(coarsest, 0)} pixels to an inch or more, limit ${LIMITS.resolution}`,
    ({ drawn }) =>
      drawn.images
        .filter(({ resolution }) => resolution < LIMITS.resolution - 0.5)
        .map(({ resolution }) => `an image has ${round(resolution, 0)} pixels to an inch`),
  );
};

/** Words that run into each other: who reads them guesses. */
const overlaps = (book: ReadBook): Finding[] =>
  overPages(book, 'legibility', 'no words run into each other', ({ drawn }) =>
    textsThatTouch(drawn).map(
      ([i, j]) =>
        `${quoted(drawn.texts[i].text)} and ${quoted(drawn.texts[j].text)} run into each other`,
    ),
  );

/** The rules about what pages draw: type, lines, colours, ink, transparency, images. */
export const drawingFindings = (book: ReadBook): Finding[] => [
  ...fonts(book),
  ...type(book),
  ...overlaps(book),
  ...lines(book),
  ...colourSpaces(book),
  ...inks(book),
  ...screens(book),
  ...oneInk(book),
  ...transparency(book),
  ...images(book),
];
