import type { HoleFigures } from '../../course/hole-figures.js';
import { boxOf } from '../../geometry.js';
import type { Layout } from '../../layout/layout.js';
import { pointsToMm } from '../../units.js';
import type { BookContent } from '../book-content.js';
import { hatch, rectSteps, rule, stroke, strokePath, text } from '../kit/draw.js';
import type { PageContext, PageModule } from '../kit/page-modules.js';
import { wrapLines } from '../kit/paragraph.js';
import type { Mark, Mm } from '../marks/marks.js';
import { DARK } from '../marks/marks.js';
import { phrase, type Worded, type WordKey } from '../words/words.js';
import { landingSign, layUpSign, runOutSign } from './hole-drawing.js';
import { landmarkMarks, sandMarks } from './hole-symbols.js';

type KeyWords = Extract<WordKey, `hole-key.${string}`>;

interface Entry {
  /** Its middle; the size of its letters, points. */
  readonly sign: (at: Mm, tell: Worded, size: number) => readonly Mark[];
  readonly words: KeyWords | ((book: BookContent) => KeyWords);
  /** Whether the book draws it anywhere: a key promises nothing that is not there. */
  readonly isHeld: (book: BookContent, layout: Layout) => boolean;
}

const onAHole =
  (has: (hole: HoleFigures) => boolean): ((book: BookContent) => boolean) =>
  ({ holes = [] }) =>
    holes.some(has);

const hasLaidUp = onAHole(({ landing }) => landing?.laidUp === true);

const drawn = (kind: 'bunker' | 'water'): Entry['isHeld'] =>
  onAHole(({ features }) => features.some((one) => one.kind === kind));

/** Whether a green's page tells the paces past a hazard: they stand in its approach table. */
const tellsPast: Entry['isHeld'] = ({ greens, outlines = [] }, { pages }) =>
  (pages.green ?? []).some(({ module }) => module === 'approach') &&
  [
    ...greens.flatMap(({ locations }) => locations.flatMap(({ approach }) => approach ?? [])),
    ...outlines.flatMap(({ approaches }) => approaches),
  ].some(({ hazard }) => hazard !== null);

const SIGN_WIDTH = 9;

const ring = ([x, y]: Mm): Mm[] =>
  Array.from({ length: 24 }, (_, i) => {
    const a = (i * Math.PI) / 12;
    return [x + 2.4 * Math.cos(a), y + (1.2 + 0.2 * Math.cos(2 * a)) * Math.sin(a)];
  });

const ENTRIES: readonly Entry[] = [
  {
    sign: (at) => sandMarks(ring(at), boxOf(ring(at))),
    words: 'hole-key.bunker',
    isHeld: drawn('bunker'),
  },
  {
    sign: ([x, y]) => [
      hatch(rectSteps(x - 3, y - 1.1, 6, 2.2), 0, 0.55, stroke(0.12)),
      strokePath(rectSteps(x - 3, y - 1.1, 6, 2.2), stroke(0.26)),
    ],
    words: 'hole-key.water',
    isHeld: drawn('water'),
  },
  {
    sign: ([x, y]) => landingSign([x - 3.4, y + 0.4], [x, y], [x + 3.4, y - 0.4]),
    words: (book) => (hasLaidUp(book) ? 'hole-key.laid-up' : 'hole-key.landing'),
    isHeld: onAHole(({ landing }) => landing !== null),
  },
  {
    sign: (at) => [
      rule(at[0] - 3.6, at[1], at[0] - 0.4, at[1], stroke(0.13, DARK, { dash: [1.6, 0.9] })),
      ...runOutSign(at),
    ],
    words: 'hole-key.runs-out',
    isHeld: onAHole(({ runOut }) => runOut !== null),
  },
  {
    sign: ([x, y]) => [
      rule(x - 3.6, y, x + 3.6, y, stroke(0.13, DARK, { dash: [1.6, 0.9] })),
      ...layUpSign([x - 2.4, y], [x + 2.4, y]),
    ],
    words: 'hole-key.lay-up',
    isHeld: onAHole(({ gaps }) => gaps.length > 0),
  },
  {
    sign: ([x, y]) => [
      ...landmarkMarks([x - 3, y], 'sprinkler'),
      ...landmarkMarks([x - 1, y], 'plate'),
      ...landmarkMarks([x + 1, y], 'post'),
      ...landmarkMarks([x + 3.2, y], 'tree'),
    ],
    words: 'hole-key.landmarks',
    isHeld: onAHole(({ landmarks }) => landmarks.length > 0),
  },
  {
    sign: ([x, y]) => [
      strokePath(
        [
          ['M', x - 3.6, y - 0.7],
          ['C', x - 1.6, y + 0.9, x + 1.6, y + 0.9, x + 3.6, y - 0.7],
        ],
        stroke(0.1),
      ),
    ],
    words: 'hole-key.arcs',
    isHeld: onAHole(({ line }) => line.length > 0),
  },
  {
    sign: ([x, y], tell, size) => [
      text(
        [x, y + pointsToMm(size) * 0.3],
        phrase(tell, 'hole-key.past-sign'),
        'text-italic',
        size,
        { align: 'centre' },
      ),
    ],
    words: 'hole-key.past',
    isHeld: tellsPast,
  },
];

/** What the signs and figures of the hole pages mean, those that the book draws, in two columns. */
export const holeKeyModule: PageModule<PageContext> = ({ layout, measure, book }, cell) => {
  const size = Math.max(6, layout.type.small);
  const step = pointsToMm(size) * 1.22;
  const gutter = 3;
  const width = (cell.width - gutter) / 2;
  const marks: Mark[] = [];
  let tops: readonly number[] = [cell.y, cell.y];
  ENTRIES.filter(({ isHeld }) => isHeld(book, layout)).forEach((entry, i) => {
    const column = i % 2;
    const x = cell.x + column * (width + gutter);
    const lines = wrapLines(
      phrase(book, typeof entry.words === 'function' ? entry.words(book) : entry.words),
      width - SIGN_WIDTH - 1.5,
      'text',
      size,
      measure,
    );
    const y = tops[column];
    const middle = y + (lines.length * step) / 2;
    marks.push(
      ...entry.sign([x + SIGN_WIDTH / 2, middle], book, size),
      ...lines.map((line, l) =>
        text([x + SIGN_WIDTH + 1.5, y + step * (l + 0.8)], line, 'text', size),
      ),
    );
    tops = tops.map((top, c) => (c === column ? y + lines.length * step + 1.3 : top));
  });
  return [{ kind: 'group', role: 'figure', alt: phrase(book, 'hole-key.alt'), marks }];
};
