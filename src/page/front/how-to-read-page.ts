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
import { outlinedGreens, tellsOfGround } from '../kit/outlined-greens.js';
import { composePage, type PageContext, type PageModule } from '../kit/page-modules.js';
import { type SetText, setParagraph, setParagraphs, setToFit } from '../kit/paragraph.js';
import type { Mark, MeasureText, Mm, Page } from '../marks/marks.js';
import { phrase, type Telling } from '../words/words.js';
import { locationDefinitionFigure } from './location-definition-figure.js';

interface Entry {
  /** Draws the sign in a box of the given width round a centre. */
  readonly sign: (at: Mm) => readonly Mark[];
  readonly words: string;
}

const SIGN_WIDTH = 15;

const slopeSigns = (count: number, tell: Telling): Entry[] => [
  {
    sign: ([x, y]) => {
      const width = SIGN_WIDTH / count;
      return Array.from({ length: count }, (_, i) => {
        const steps = rectSteps(x - SIGN_WIDTH / 2 + i * width, y - 1.6, width, 3.2);
        return [...bandMarks(steps, bandStyle(i, count)), strokePath(steps, stroke(0.12))];
      }).flat();
    },
    words: phrase(tell, 'read.slope'),
  },
  {
    sign: ([x, y]) => [
      fallArrow([x - 5, y], [1, 0], 0.01),
      fallArrow([x, y], [1, 0], 0.025),
      fallArrow([x + 5.4, y], [1, 0], 0.045),
    ],
    words: phrase(tell, 'read.fall'),
  },
];

const waterSigns = (tell: Telling): Entry[] => [
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
    words: phrase(tell, 'read.drainage'),
  },
  {
    sign: ([x, y]) => [
      divideLine([
        [x - 7, y],
        [x + 7, y],
      ]),
    ],
    words: phrase(tell, 'read.divide'),
  },
];

const heightSigns = (interval: string, unit: string, tell: Telling): Entry[] => [
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
    words: phrase(tell, 'read.contours', { interval }),
  },
  {
    sign: ([x, y]) => [
      highPointMark([x - 4.5, y]),
      lowPointMark([x, y]),
      ...drainMark([x + 4.5, y]),
    ],
    words: phrase(tell, 'read.heights', { unit }),
  },
];

const locationSign = (tell: Telling): Entry[] => [
  { sign: (at) => holeMark(at), words: phrase(tell, 'read.location') },
];

const puttSigns = (tell: Telling): Entry[] => [
  {
    sign: ([x, y]) => [
      laneLine([
        [x - 6.5, y],
        [x - 1, y],
      ]),
      ...holeMark([x - 0.4, y]),
      leaveMark([x + 5.15, y]),
    ],
    words: phrase(tell, 'read.putts'),
  },
];

const doubtSigns = (tell: Telling): Entry[] => [
  {
    sign: ([x, y]) => {
      const steps = rectSteps(x - SIGN_WIDTH / 2, y - 1.6, SIGN_WIDTH, 3.2);
      return [fillPath(steps, { ink: 'tint', tone: 0.16 }), doubtStrokes(steps)];
    },
    words: phrase(tell, 'read.doubt'),
  },
];

const bareSigns = (tell: Telling): Entry[] => [
  {
    sign: ([x, y]) => {
      const steps = rectSteps(x - SIGN_WIDTH / 2, y - 1.6, SIGN_WIDTH, 3.2);
      return [...bareSign(steps), strokePath(steps, stroke(0.12))];
    },
    words: phrase(tell, 'read.bare'),
  },
];

/** Greens by their outlines alone: the ring for a pencil, and what lies beside the edge. */
const outlineSigns = (tell: Telling): Entry[] => [
  {
    sign: ([x, y]) => fallSign([x - 6, y], 7, tell),
    words: phrase(tell, 'read.outline'),
  },
  {
    sign: ([x, y]) => [
      ...hazardSign('bunker', ringSteps(pebble([x - 3.8, y]))),
      ...hazardSign('water', ringSteps(pebble([x + 3.8, y]))),
    ],
    words: phrase(tell, 'read.hazards'),
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
    falls: tellsOfGround(book),
    bare: greens.some(({ worth }) => worth.worth !== 'outline' && worth.bare.length > 0),
    outlines: outlinedGreens(book).length > 0,
  };
};

const signs = (context: PageContext): Entry[] => {
  const { book, layout } = context;
  const { putts, falls, bare, outlines } = held(context);
  const { contourInterval, bandThresholds } = layout.green;
  const metric = book.units === 'metric';
  const size = metric
    ? Math.round(contourInterval * 100)
    : Number(metresToInches(contourInterval).toFixed(1));
  const interval = `${size} ${phrase(book, metric ? 'unit.cm' : 'unit.in')}`;
  const unit = phrase(book, metric ? 'unit.centimetres' : 'unit.inches');
  return [
    ...(falls
      ? [
          ...slopeSigns(bandThresholds.length + 1, book),
          ...waterSigns(book),
          ...heightSigns(interval, unit, book),
        ]
      : []),
    ...(putts ? puttSigns(book) : locationSign(book)),
    ...(falls ? doubtSigns(book) : []),
    ...(bare ? bareSigns(book) : []),
    ...(outlines ? outlineSigns(book) : []),
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

const headModule: PageModule<PageContext> = ({ layout, book }, cell) => {
  const base = cell.y + pointsToMm(layout.type.title) * 0.8;
  return [text([cell.x, base], phrase(book, 'read.title'), 'title-bold', layout.type.title)];
};

/** What else than its place off the green leaves a putt blank. */
const closedWords = (context: PageContext): string => {
  const { book } = context;
  const faces = book.greens.some(({ worth }) => worth.unsure.length > 0);
  const ways = [
    ...(held(context).bare ? [phrase(book, 'read.bare-way')] : []),
    ...(faces ? [phrase(book, 'read.face-way')] : []),
  ];
  if (ways.length === 0) return '';
  const way =
    ways.length === 1 ? ways[0] : phrase(book, 'read.two-ways', { one: ways[0], other: ways[1] });
  return phrase(book, 'read.ways', { way });
};

/** How a table is read. */
const tableWords = (tell: Telling, closed: string, pace: Layout['tables']['pace']): string[] => {
  const metric = tell.units === 'metric';
  const unit = phrase(tell, metric ? 'unit.metres' : 'unit.feet');
  return [
    phrase(tell, 'read.quadrants'),
    phrase(tell, 'read.aim', {
      units: phrase(tell, metric ? 'read.aim-metric' : 'read.aim-imperial'),
    }),
    phrase(tell, pace === 'change' ? 'read.pace-change' : 'read.pace', { unit }),
    phrase(tell, 'read.blank', { closed }),
  ];
};

const paragraphs = (context: PageContext): readonly string[] => {
  const { book, layout } = context;
  const { putts, falls, outlines } = held(context);
  return [
    ...(putts ? tableWords(book, closedWords(context), layout.tables.pace) : []),
    phrase(book, 'read.on-in'),
    ...(outlines ? [phrase(book, 'read.outlines')] : []),
    ...(falls ? [phrase(book, 'use.not-modelled')] : []),
    phrase(book, 'use.aid'),
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
  'location-definition': ({ layout, book }, cell) => [
    locationDefinitionFigure(cell, layout.type.table, book),
  ],
};

export const composeHowToRead = (context: PageContext): Page =>
  composePage(
    'how-to-read',
    { id: 'how-to-read', title: phrase(context.book, 'read.title') },
    HOW_TO_READ_MODULES,
    context,
  );
