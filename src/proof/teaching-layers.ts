import { boxOf, growBox, insideRing, type Point } from '../geometry.js';
import type { Layout } from '../layout/layout.js';
import type { GreenContent } from '../page/book-content.js';
import { bareMarks } from '../page/green/bare-ground.js';
import { contourMarks } from '../page/green/contour-marks.js';
import { drainageMarks } from '../page/green/drainage-line.js';
import { arrowMarks, divideMarks } from '../page/green/green-image.js';
import { highPointMark, holeMark } from '../page/green/green-spots.js';
import {
  fitGround,
  type GroundFrame,
  linePoints,
  onPaper,
  polygonSteps,
} from '../page/green/ground-frame.js';
import { pacesGrid } from '../page/green/paces-grid.js';
import { slopeBandMarks } from '../page/green/slope-bands.js';
import { circleSteps, fillPath, lineSteps, stroke, strokePath } from '../page/kit/draw.js';
import { DARK, type Mark, PAPER } from '../page/marks/marks.js';
import { type QUADRANTS, quadrantDirection } from '../putt/table.js';
import type { Surface } from '../surface/surface.js';
import { fallAt } from '../terrain/fall.js';
import { otherOutlets } from '../terrain/reading.js';
import { feetToMetres, metresToInches, type UnitSystem } from '../units.js';
import { answerPutt, type PuttAnswer } from './putt-answer.js';

/** The stage, millimetres: small, so that signs and letters are large where it fills a wall. */
export const STAGE = 116;
const ROOM = 5;
const LETTERS = 4.4;

/** A word, with its sign where it has one, that stays upright when the green is turned. */
export interface UprightWord {
  readonly at: readonly [x: number, y: number];
  readonly words: string;
  readonly sign?: Mark;
}

/** One thing that is shown of a green. Layers come in the order in which they are revealed. */
export interface TeachingLayer {
  readonly name: string;
  readonly title: string;
  readonly told: string;
  readonly marks: readonly Mark[];
  readonly words: readonly UprightWord[];
  /** Lies below the layers of greater depth. */
  readonly depth: number;
}

export interface TeachingGreen {
  readonly frame: GroundFrame;
  readonly layers: readonly TeachingLayer[];
  /** Where a player stands: what it is called, and by how many degrees the green is turned, clockwise. */
  readonly stands: readonly { readonly name: string; readonly degrees: number }[];
}

const teachingFrame = ({ outline }: Pick<GreenContent, 'outline'>): GroundFrame => {
  const box = boxOf(outline);
  const [mx, my] = [(box.minX + box.maxX) / 2, (box.minY + box.maxY) / 2];
  // Turned about the middle of the stage, no corner of the green may leave it.
  const reach = Math.max(...outline.map(([x, y]) => Math.hypot(x - mx, y - my)));
  const square = { minX: mx - reach, maxX: mx + reach, minY: my - reach, maxY: my + reach };
  const inner = { x: ROOM, y: ROOM, width: STAGE - 2 * ROOM, height: STAGE - 2 * ROOM };
  return fitGround(inner, growBox(square, 0.2), 1);
};

const heightWords = (metres: number, units: UnitSystem): string =>
  units === 'metric'
    ? `${Math.round(metres * 100)}\u00a0cm`
    : `${Math.round(metresToInches(metres))}\u00a0in`;

/** A figure and its unit stay on one line. */
const together = (words: string): string =>
  words.replace(/(?<=[\d½]) (?=(?:in|ft|cm|m)\b)/g, '\u00a0');

const count = (n: number, one: string, many: string): string => `${n} ${n === 1 ? one : many}`;

const pointsLayer = (green: GreenContent, frame: GroundFrame, units: UnitSystem): TeachingLayer => {
  const { critical } = green.reading;
  const high = critical.filter(({ kind }) => kind === 'high');
  const lowest = Math.min(...critical.map(({ height }) => height));
  return {
    name: 'high-points',
    title: 'high points',
    told: `${count(high.length, 'high point', 'high points')}, height above the lowest ground. Water runs away from ${high.length === 1 ? 'it' : 'them'}.`,
    marks: [],
    words: high.map(({ at: [x, y], height }) => {
      const at = onPaper(frame, x, y);
      return { at, words: heightWords(height - lowest, units), sign: highPointMark(at) };
    }),
    depth: 8,
  };
};

const valleyLine = (frame: GroundFrame, line: readonly Point[]): Mark =>
  strokePath(lineSteps(linePoints(frame, line)), stroke(0.4, DARK, { dash: [1.6, 1.1] }));

const waterLayers = (green: GreenContent, frame: GroundFrame): TeachingLayer[] => {
  const { valleys, streams, divides } = green.reading;
  const main = streams.filter((stream) => stream.main);
  const isOpen = otherOutlets(green.reading).length > 0;
  return [
    {
      name: 'valleys',
      title: 'valleys',
      told: 'Hollows between the high ground: rain gathers in them.',
      marks: [
        ...valleys.filter((line) => line.length > 1).map((line) => valleyLine(frame, line)),
        ...drainageMarks(
          frame,
          streams.filter((stream) => !stream.main),
        ),
      ],
      words: [],
      depth: 5,
    },
    {
      name: 'stream',
      title: 'the stream',
      told:
        main.length === 0
          ? 'No stream: the water leaves all round.'
          : `Most of the water leaves the green along this line; see where it bends.${isOpen ? ' Where it leaves, the survey leaves open.' : ''}`,
      marks: drainageMarks(frame, main),
      words: [],
      depth: 7,
    },
    {
      name: 'divides',
      title: 'divides',
      told: 'On this line water parts to either side.',
      marks: divides.length === 0 ? [] : divideMarks(frame, green),
      words: [],
      depth: 4,
    },
  ];
};

const groundLayers = (green: GreenContent, frame: GroundFrame): TeachingLayer[] => [
  {
    name: 'fall',
    title: 'the fall',
    told: 'Arrows point downhill, longer where it is steeper.',
    marks: arrowMarks(frame, green),
    words: [],
    depth: 6,
  },
  {
    name: 'bands',
    title: 'grades',
    told: 'The darker, the steeper; lines join ground of one height.',
    marks: [...slopeBandMarks(frame, green.reading.bands), ...contourMarks(frame, green)],
    words: [],
    depth: 1,
  },
];

/** Lengths tried for a putt, metres. */
const LENGTHS: Readonly<Record<UnitSystem, readonly number[]>> = {
  imperial: [20, 15, 10, 6].map(feetToMetres),
  metric: [6, 4.5, 3, 2],
};

/** The longest putt from a side of the hole that can be aimed; null where there is none. */
const puttFrom = (
  side: (typeof QUADRANTS)[number],
  hole: Point,
  { green, surface, units }: TeachingSource,
): PuttAnswer | null => {
  const [ux, uy] = quadrantDirection(side, fallAt(surface, hole).toward);
  for (const length of LENGTHS[units]) {
    const ball: Point = [hole[0] + length * ux, hole[1] + length * uy];
    if (!insideRing(green.outline, ball[0], ball[1])) continue;
    const answer = answerPutt(surface, green, ball, hole, units);
    if (answer.aim !== null && answer.path.length > 1) return answer;
  }
  return null;
};

const puttLayer = (
  putt: PuttAnswer,
  name: string,
  side: string,
  frame: GroundFrame,
): TeachingLayer => {
  const [hole, ball] = [putt.hole, putt.ball].map(([x, y]) => onPaper(frame, x, y));
  const way = lineSteps(putt.path.map(([x, y]) => onPaper(frame, x, y)));
  const aim = putt.aimAt === null ? null : onPaper(frame, putt.aimAt[0], putt.aimAt[1]);
  return {
    name,
    title: name === 'putt' ? 'a putt' : 'a putt from the other side',
    told: together(`From the ${side}: aim ${putt.aim ?? ''}, pace ${putt.pace ?? ''}.`),
    marks: [
      strokePath(way, stroke(2.2, PAPER)),
      strokePath(way, stroke(1.1)),
      ...(aim === null
        ? []
        : [
            strokePath(
              lineSteps([ball, aim]),
              stroke(0.5, DARK, { dash: [1.6, 1.2], cap: 'butt' }),
            ),
            strokePath(
              [
                ['M', aim[0] - 1.3, aim[1]],
                ['L', aim[0] + 1.3, aim[1]],
                ['M', aim[0], aim[1] - 1.3],
                ['L', aim[0], aim[1] + 1.3],
              ],
              stroke(0.6),
            ),
          ]),
      ...holeMark(hole),
      fillPath(circleSteps(ball[0], ball[1], 1.3), PAPER, { stroke: stroke(0.6) }),
    ],
    words: [],
    depth: 9,
  };
};

/** What a teaching view is made of. */
export interface TeachingSource {
  readonly green: GreenContent;
  readonly surface: Surface;
  readonly layout: Layout;
  readonly units: UnitSystem;
}

/** Degrees, clockwise, by which a green is turned so that one who looks along a direction looks up the stage. */
const turnFor = ([dx, dy]: Point): number => Math.round((-Math.atan2(dx, dy) * 180) / Math.PI);

const puttsOf = (source: TeachingSource, frame: GroundFrame) => {
  const { green, surface } = source;
  const place = green.locations.find(({ ground }) => ground !== null);
  if (green.worth.worth !== 'tables' || place === undefined) return { layers: [], stands: [] };
  const up = fallAt(surface, place.at).toward;
  const sides = (['left', 'right'] as const).flatMap((side) => {
    const putt = puttFrom(side, place.at, source);
    return putt === null ? [] : [{ side, putt }];
  });
  return {
    layers: sides.map(({ side, putt }, k) =>
      puttLayer(putt, k === 0 ? 'putt' : 'second-putt', side, frame),
    ),
    stands: [
      { name: `below ${place.name}`, degrees: turnFor([-up[0], -up[1]]) },
      ...sides.map(({ side, putt: { ball, hole } }) => ({
        name: `behind the ball on the ${side}`,
        degrees: turnFor([hole[0] - ball[0], hole[1] - ball[1]]),
      })),
    ],
  };
};

/** A green in layers, the outline first; no more than its survey is worth. */
export const teachingGreen = (source: TeachingSource): TeachingGreen => {
  const { green, units } = source;
  const frame = teachingFrame(green);
  const edge = polygonSteps(frame, [green.outline]);
  const isKnown = green.worth.worth !== 'outline';
  const outline: TeachingLayer = {
    name: 'outline',
    title: 'the outline',
    told: isKnown
      ? 'The green, with lines each five paces. Where is it high, and where does its water leave?'
      : 'Of this green the survey tells the outline only.',
    marks: [
      { kind: 'clip', steps: edge, marks: [...pacesGrid(frame, green.outline, LETTERS).lines] },
      strokePath(edge, stroke(0.9)),
      { kind: 'clip', steps: edge, marks: bareMarks(frame, green.worth.bare) },
    ],
    words: green.locations.map(({ at, name }) => ({
      at: onPaper(frame, at[0], at[1]),
      words: name,
    })),
    depth: 3,
  };
  const holes = green.locations.flatMap(({ at }) => holeMark(onPaper(frame, at[0], at[1])));
  const putts = puttsOf(source, frame);
  const clipped = (layer: TeachingLayer): TeachingLayer => ({
    ...layer,
    marks: [{ kind: 'clip', steps: edge, marks: layer.marks }],
  });
  const [valleys, stream, divides] = waterLayers(green, frame);
  const ground = groundLayers(green, frame).map(clipped);
  const known = isKnown
    ? [pointsLayer(green, frame, units), clipped(valleys), stream, clipped(divides), ...ground]
    : [];
  return {
    frame,
    layers: [
      { ...outline, marks: [...outline.marks, ...holes] },
      ...known.filter(
        ({ marks, words, name }) => name === 'stream' || words.length > 0 || !isEmpty(marks),
      ),
      ...putts.layers,
    ],
    stands: [{ name: 'from the approach', degrees: 0 }, ...putts.stands],
  };
};

const isEmpty = (marks: readonly Mark[]): boolean =>
  marks.every((mark) => mark.kind === 'clip' && mark.marks.length === 0);
