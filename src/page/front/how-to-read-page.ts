import type { Layout } from '../../layout/layout.js';
import { metresToInches, pointsToMm } from '../../units.js';
import { bareSign } from '../green/bare-ground.js';
import { contourLine } from '../green/contour-marks.js';
import { drainageMarks } from '../green/drainage-line.js';
import { fallArrow } from '../green/fall-arrow.js';
import { divideLine, doubtStrokes } from '../green/green-image.js';
import { drainMark, highPointMark, holeMark, lowPointMark } from '../green/green-spots.js';
import { laneLine, leaveMark } from '../green/lane-marks.js';
import { hazardSign } from '../green/outline-page.js';
import { fallSign } from '../green/outline-words.js';
import { bandMarks, bandStyle } from '../green/slope-bands.js';
import { fillPath, rectSteps, ringSteps, stroke, strokePath, text } from '../kit/draw.js';
import type { Cell } from '../kit/grid.js';
import { outlinedGreens } from '../kit/outlined-greens.js';
import { composePage, type PageContext, type PageModule } from '../kit/page-modules.js';
import { type SetText, setParagraph, setParagraphs, setToFit } from '../kit/paragraph.js';
import type { Mark, MeasureText, Mm, Page } from '../marks/marks.js';
import { CAUTIONS } from './cautions.js';
import { locationDefinitionFigure } from './location-definition-figure.js';

interface Entry {
  /** Draws the sign in a box of the given width round a centre. */
  readonly sign: (at: Mm) => readonly Mark[];
  readonly words: string;
}

const SIGN_WIDTH = 15;

const slopeSigns = (count: number): Entry[] => [
  {
    sign: ([x, y]) => {
      const width = SIGN_WIDTH / count;
      return Array.from({ length: count }, (_, i) => {
        const steps = rectSteps(x - SIGN_WIDTH / 2 + i * width, y - 1.6, width, 3.2);
        return [...bandMarks(steps, bandStyle(i, count)), strokePath(steps, stroke(0.12))];
      }).flat();
    },
    words: 'Grade of the ground: the heavier the tone, the steeper. The steepest carry strokes.',
  },
  {
    sign: ([x, y]) => [
      fallArrow([x - 5, y], [1, 0], 0.01),
      fallArrow([x, y], [1, 0], 0.025),
      fallArrow([x + 5.4, y], [1, 0], 0.045),
    ],
    words: 'Fall: an arrow points downhill and is longer where the ground is steeper.',
  },
];

const waterSigns = (): Entry[] => [
  {
    sign: ([x, y]) =>
      drainageMarks({ scale: 1000, origin: [0, 0] }, [
        {
          order: 1,
          main: true,
          mouth: 'edge',
          valley: 0.05,
          outlet: { at: [0, 0], kind: 'edge', share: 1, kept: 1, draws: 1 },
          points: Array.from({ length: 24 }, (_, i) => {
            const t = i / 23;
            return [x - 7 + 12 * t, -(y + 1.1 * Math.sin(t * 5)), 0] as const;
          }),
          area: [],
        },
      ]),
    words:
      'Main drainage line: the water’s way off the green, thin at its head and wide at its mouth. Putts bend toward it; along it they run straight. In tint: one of many alike. Mouths with shares take turns.',
  },
  {
    sign: ([x, y]) => [
      divideLine([
        [x - 7, y],
        [x + 7, y],
      ]),
    ],
    words: 'Divide: water falls away on both sides of it.',
  },
];

const heightSigns = (interval: string, unit: string): Entry[] => [
  {
    sign: ([x, y]) => [
      ...[-0.8, 0.8].map((rise) =>
        contourLine(
          [
            [
              [x - 7, y + rise],
              [x + 7, y + rise],
            ],
          ],
          rise > 0,
        ),
      ),
    ],
    words: `Contours every ${interval}; every fifth is heavier.`,
  },
  {
    sign: ([x, y]) => [
      highPointMark([x - 4.5, y]),
      lowPointMark([x, y]),
      ...drainMark([x + 4.5, y]),
    ],
    words: `High point, low point, drain; the figure is the height above the lowest of them, in ${unit}.`,
  },
];

const locationSign = (): Entry[] => [
  { sign: (at) => holeMark(at), words: 'Hole location, with its letter.' },
];

const puttSigns = (): Entry[] => [
  {
    sign: ([x, y]) => [
      laneLine([
        [x - 6.5, y],
        [x - 1, y],
      ]),
      ...holeMark([x - 0.4, y]),
      leaveMark([x + 5.15, y]),
    ],
    words:
      'Hole location, with its letter; dots: putts along them are straight; square: the best place to leave an approach.',
  },
];

const doubtSigns = (): Entry[] => [
  {
    sign: ([x, y]) => {
      const steps = rectSteps(x - SIGN_WIDTH / 2, y - 1.6, SIGN_WIDTH, 3.2);
      return [fillPath(steps, { ink: 'tint', tone: 0.16 }), doubtStrokes(steps)];
    },
    words: 'Broken strokes: the survey does not know which way this ground falls.',
  },
];

const bareSigns = (): Entry[] => [
  {
    sign: ([x, y]) => {
      const steps = rectSteps(x - SIGN_WIDTH / 2, y - 1.6, SIGN_WIDTH, 3.2);
      return [...bareSign(steps), strokePath(steps, stroke(0.12))];
    },
    words:
      'Dots in level rows on blank paper: ground that was not surveyed. No figure rests on it.',
  },
];

/** Greens by their outlines alone: the ring for a pencil, and what lies beside the edge. */
const outlineSigns = (): Entry[] => [
  {
    sign: ([x, y]) => fallSign([x - 6, y], 7),
    words:
      'A green by its outline alone: its fall is not known. Draw it from each ring, longer where steeper.',
  },
  {
    sign: ([x, y]) => [
      ...hazardSign('bunker', ringSteps(pebble([x - 3.8, y]))),
      ...hazardSign('water', ringSteps(pebble([x + 3.8, y]))),
    ],
    words: 'Bunker and water round such a green.',
  },
];

/** An egg, for a hazard's sign. */
const pebble = ([x, y]: Mm): Mm[] =>
  Array.from({ length: 16 }, (_, i): Mm => {
    const t = (2 * Math.PI * i) / 16;
    return [x + 3.2 * Math.cos(t), y + 1.6 * Math.sin(t)];
  });

/** What kinds of green the book holds: it tells how to read no other. */
const held = ({ book }: PageContext) => {
  const { greens } = book;
  return {
    putts: greens.some(({ worth }) => worth.worth === 'tables'),
    falls: greens.some(({ worth }) => worth.worth !== 'outline'),
    bare: greens.some(({ worth }) => worth.worth !== 'outline' && worth.bare.length > 0),
    outlines: outlinedGreens(book).length > 0,
  };
};

const signs = (context: PageContext): Entry[] => {
  const { book, layout } = context;
  const { putts, falls, bare, outlines } = held(context);
  const { contourInterval, bandThresholds } = layout.green;
  const metric = book.units === 'metric';
  const interval = metric
    ? `${Math.round(contourInterval * 100)} cm`
    : `${Number(metresToInches(contourInterval).toFixed(1))} in`;
  return [
    ...(falls
      ? [
          ...slopeSigns(bandThresholds.length + 1),
          ...waterSigns(),
          ...heightSigns(interval, metric ? 'centimetres' : 'inches'),
        ]
      : []),
    ...(putts ? puttSigns() : locationSign()),
    ...(falls ? doubtSigns() : []),
    ...(bare ? bareSigns() : []),
    ...(outlines ? outlineSigns() : []),
  ];
};

/** Sets the signs with their words at one size; `height` tells what they take. */
const setSigns = (
  entries: readonly Entry[],
  cell: Cell,
  size: number,
  gap: number,
  measure: MeasureText,
): SetText => {
  let y = cell.y;
  const marks = entries.flatMap((entry) => {
    const words: Cell = {
      x: cell.x + SIGN_WIDTH + 4,
      y,
      width: cell.width - SIGN_WIDTH - 4,
      height: 0,
    };
    const set = setParagraph(
      entry.words,
      words,
      { face: 'text', size, leading: size * 1.22 },
      measure,
    );
    const sign = entry.sign([cell.x + SIGN_WIDTH / 2, y + Math.min(set.height, 3.4) / 2]);
    y += Math.max(set.height, 2.7 + gap) + gap;
    return [...sign, ...set.marks];
  });
  return { marks, height: y - cell.y - gap };
};

const LEAST_SIZE = 6;
/** Between two signs, millimetres. */
const GAP = 1.3;
const LEAST_GAP = 0.6;

/** The signs at the layout's size, or at the next half point smaller at which they fit their cell; closer where none does. */
const signsModule: PageModule<PageContext> = (context, cell) => {
  const entries = signs(context);
  const sizes = { full: context.layout.type.text, least: LEAST_SIZE };
  const set = (gap: number): SetText =>
    setToFit((size) => setSigns(entries, cell, size, gap, context.measure), cell.height, sizes);
  const wide = set(GAP);
  return (wide.height <= cell.height ? wide : set(LEAST_GAP)).marks;
};

const headModule: PageModule<PageContext> = ({ layout }, cell) => {
  const base = cell.y + pointsToMm(layout.type.title) * 0.8;
  return [text([cell.x, base], 'How to read a page', 'title-bold', layout.type.title)];
};

/** What else than its place off the green leaves a putt blank. */
const closedWords = (context: PageContext): string => {
  const faces = context.book.greens.some(({ worth }) => worth.unsure.length > 0);
  const ways = [
    ...(held(context).bare ? ['ground that was not surveyed'] : []),
    ...(faces ? ['a face that the survey does not tell'] : []),
  ];
  return ways.length === 0 ? '' : `, or its way crosses ${ways.join(' or ')}`;
};

/** How a table is read. */
const tableWords = (metric: boolean, closed: string, pace: Layout['tables']['pace']): string[] => [
  'Quadrants. Stand below the hole and look up its fall line: below is at your feet, above is beyond the hole, left and right are your left and right.',
  `Aim: how far beside the hole’s centre to start the ball, and on which side (L, R) seen from the ball. ${metric ? 'Centimetres, from one metre on metres.' : 'Inches (″), from three feet on feet (′).'} It is the start line, not the highest point of the path.`,
  pace === 'change'
    ? `Pace ±: picture a level putt so many ${metric ? 'metres' : 'feet'} longer (+) or shorter (\u2212) than the putt is.`
    : `Pace: picture a level putt of this length, in ${metric ? 'metres' : 'feet'}. It is shorter than the putt downhill and longer uphill.`,
  `A blank: the ball would stand off the green${closed}. “no pace”: no pace holds this putt. ~: the survey does not know the aim to half a hole.`,
];

const paragraphs = (context: PageContext): readonly string[] => {
  const { book, layout } = context;
  const { putts, falls, outlines } = held(context);
  return [
    ...(putts ? tableWords(book.units === 'metric', closedWords(context), layout.tables.pace) : []),
    'On, and in from a side: paces from the front edge and from the nearer side. One pace is one yard.',
    ...(outlines
      ? [
          'Front, middle, back: paces along the line of approach. Outlines are as true as their map: pace one green before you trust them.',
        ]
      : []),
    ...(falls ? [CAUTIONS.notModelled] : []),
    CAUTIONS.aid,
  ];
};

const wordsModule: PageModule<PageContext> = (context, cell) =>
  setParagraphs(
    paragraphs(context),
    cell,
    { face: 'text', lead: 1.22, gap: 1.1 },
    { full: context.layout.type.text, least: 6 },
    context.measure,
  ).marks;

const HOW_TO_READ_MODULES: Readonly<Record<string, PageModule<PageContext>>> = {
  heading: headModule,
  signs: signsModule,
  words: wordsModule,
  'location-definition': ({ layout }, cell) => [locationDefinitionFigure(cell, layout.type.table)],
};

export const composeHowToRead = (context: PageContext): Page =>
  composePage(
    'how-to-read',
    { id: 'how-to-read', title: 'How to read a page' },
    HOW_TO_READ_MODULES,
    context,
  );
