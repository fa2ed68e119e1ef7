import { bareSign } from '../green/bare-ground.js';
import { contourLine } from '../green/contour-marks.js';
import { drainageMarks } from '../green/drainage-line.js';
import { fallArrow } from '../green/fall-arrow.js';
import { divideLine, doubtStrokes } from '../green/green-image.js';
import { drainMark, highPointMark, holeMark, lowPointMark } from '../green/green-spots.js';
import { laneLine, leaveMark } from '../green/lane-marks.js';
import { hazardSign } from '../green/outline-page.js';
import { fallSign, fallSignWidth, RING } from '../green/outline-words.js';
import { bandMarks, bandStyle } from '../green/slope-bands.js';
import { fillPath, rectSteps, ringSteps, stroke, strokePath } from '../kit/draw.js';
import type { Cell } from '../kit/grid.js';
import { outlinedGreens } from '../kit/outlined-greens.js';
import type { PageContext } from '../kit/page-modules.js';
import { type SetText, setParagraph, setToFit } from '../kit/paragraph.js';
import { intervalWords } from '../kit/unit-words.js';
import type { Mark, MeasureText, Mm } from '../marks/marks.js';
import { phrase, type Telling } from '../words/words.js';
import { type HeldKinds, heldKinds } from './held-kinds.js';

interface Entry {
  /** Draws the sign in a box of the given width round a centre, its letters at a size, points. */
  readonly sign: (at: Mm, size: number) => readonly Mark[];
  readonly words: string;
}

const SIGN_WIDTH = 15;
/** Between the signs and their words, millimetres. */
const BESIDE_SIGN = 4;
const LEAST_SIZE = 6;

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

/** What the main line tells; of many alike, and of mouths that take turns, where a green of the book has them. */
const drainageWords = (tell: Telling, { alike, turns }: HeldKinds): string =>
  [
    phrase(tell, 'read.drainage'),
    ...(alike ? [phrase(tell, 'cover.alike')] : []),
    ...(turns ? [phrase(tell, 'read.turns')] : []),
  ].join(' ');

const waterSigns = (tell: Telling, kinds: HeldKinds): Entry[] => [
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
    words: drainageWords(tell, kinds),
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

/** What lies beside the edge of greens by their outlines alone, as far as there is any. */
const hazardSigns = (context: PageContext): Entry[] => {
  const { book } = context;
  const hazards = outlinedGreens(book).flatMap((one) => one.hazards);
  const kinds = (['bunker', 'water'] as const).filter((kind) =>
    hazards.some((one) => one.kind === kind),
  );
  if (kinds.length === 0) return [];
  const key = kinds.length === 2 ? 'read.hazards' : (`read.${kinds[0]}` as const);
  return [
    {
      sign: ([x, y]) =>
        kinds.flatMap((kind, k) => {
          const off = kinds.length === 1 ? 0 : 3.8 * (2 * k - 1);
          return hazardSign(kind, ringSteps(pebble([x + off, y])));
        }),
      words: phrase(book, key),
    },
  ];
};

/** Greens by their outlines alone: the ring for a pencil, and what lies beside the edge. */
const outlineSigns = (context: PageContext): Entry[] => [
  {
    sign: ([x, y], size) => {
      const fits = (one: number): boolean =>
        fallSignWidth(one, context) <= SIGN_WIDTH + BESIDE_SIGN / 2;
      const letters = fits(size) ? size : LEAST_SIZE;
      const wide = Math.min(SIGN_WIDTH, fallSignWidth(letters, context));
      return fallSign([x - wide / 2 + RING, y], letters, context.book);
    },
    words: phrase(context.book, 'read.outline'),
  },
  ...hazardSigns(context),
];

/** An egg, for a hazard's sign. */
const pebble = ([x, y]: Mm): Mm[] =>
  Array.from({ length: 16 }, (_, i): Mm => {
    const t = (2 * Math.PI * i) / 16;
    return [x + 3.2 * Math.cos(t), y + 1.6 * Math.sin(t)];
  });

const signs = (context: PageContext): Entry[] => {
  const { book, layout } = context;
  const kinds = heldKinds(context);
  const { putts, falls, bare, outlines, locations } = kinds;
  const { contourInterval, bandThresholds } = layout.green;
  const metric = book.units === 'metric';
  const unit = phrase(book, metric ? 'unit.centimetres' : 'unit.inches');
  return [
    ...(falls
      ? [
          ...slopeSigns(bandThresholds.length + 1, book),
          ...waterSigns(book, kinds),
          ...heightSigns(intervalWords(contourInterval, book), unit, book),
        ]
      : []),
    ...(putts ? puttSigns(book) : locations ? locationSign(book) : []),
    ...(falls ? doubtSigns(book) : []),
    ...(bare ? bareSigns(book) : []),
    ...(outlines ? outlineSigns(context) : []),
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
      x: cell.x + SIGN_WIDTH + BESIDE_SIGN,
      y,
      width: cell.width - SIGN_WIDTH - BESIDE_SIGN,
      height: 0,
    };
    const set = setParagraph(
      entry.words,
      words,
      { face: 'text', size, leading: size * 1.22 },
      measure,
    );
    const sign = entry.sign([cell.x + SIGN_WIDTH / 2, y + Math.min(set.height, 3.4) / 2], size);
    y += Math.max(set.height, 2.7 + gap) + gap;
    return [...sign, ...set.marks];
  });
  return { marks, height: y - cell.y - gap };
};

/** Between two signs, millimetres. */
const GAP = 1.3;
const LEAST_GAP = 0.6;

/** The signs at the layout's size, or at the next half point smaller at which they fit their cell; closer where none does. */
export const signsIn = (context: PageContext, cell: Cell): SetText => {
  const entries = signs(context);
  const sizes = { full: context.layout.type.text, least: LEAST_SIZE };
  const set = (gap: number): SetText =>
    setToFit((size) => setSigns(entries, cell, size, gap, context.measure), cell.height, sizes);
  const wide = set(GAP);
  return wide.height <= cell.height ? wide : set(LEAST_GAP);
};
