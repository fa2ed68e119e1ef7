import { boxOf, distance } from '../../geometry.js';
import { type Catchment, placeLetter } from '../../terrain/water/leaving-places.js';
import type { Met } from '../../terrain/water/met-on-way.js';
import {
  type PouredStream,
  type PouredWater,
  shownStrands,
  WAY_KEPT,
} from '../../terrain/water/pour.js';
import { pointsToMm } from '../../units.js';
import {
  circleSteps,
  fillPath,
  lineSteps,
  rectSteps,
  ringSteps,
  stroke,
  strokePath,
  text,
} from '../kit/draw.js';
import { composePage, type GreenPageContext, type PageModule } from '../kit/page-modules.js';
import { setParagraphs } from '../kit/paragraph.js';
import type { Mark, Mm, Page, Paint } from '../marks/marks.js';
import { DARK, PAPER, TINT } from '../marks/marks.js';
import { phrase, type Worded } from '../words/words.js';
import { bareMarks } from './bare-ground.js';
import { wholeContourMarks } from './contour-marks.js';
import { mouthBarb, taper } from './drainage-line.js';
import { divideMarks, greenFrame, showing } from './green-image.js';
import { footModule, headingModule, scaleBarModule } from './green-page.js';
import {
  drainMark,
  greenImageStyle,
  highPointMark,
  labelledSpots,
  lowPointMark,
  placeSpots,
} from './green-spots.js';
import {
  areaSteps,
  drawnGround,
  type GroundFrame,
  linePoints,
  onPaper,
  polygonSteps,
} from './ground-frame.js';
import { pacesGrid } from './paces-grid.js';
import type { Spot } from './spot-labels.js';

/** A green and the water that was poured on it; `lines` tell each stream in words. */
export interface WaterPageContext extends GreenPageContext {
  readonly water: PouredWater;
  readonly lines: readonly string[];
}

type Module = PageModule<WaterPageContext>;

const HEAD_WIDTH = 0.3;
const MOUTH_WIDTH = 1.6;
const CASING = 0.35;
/** What streams meet no farther apart than this is one, metres. */
const SAME_PLACE = 1.5;
/** Tones of the catchments, in turn. */
const TONES = [0.2, 0.5, 0.34, 0.66] as const;

const toneOf = (k: number): Paint => ({ ink: 'tint', tone: TONES[k % TONES.length] });

const catchmentMarks = (frame: GroundFrame, catchments: readonly Catchment[]): Mark[] =>
  catchments.map(({ polygons }, k) => {
    const steps = polygons.flatMap((polygon) => areaSteps(frame, polygon));
    return fillPath(steps, toneOf(k), { rule: 'evenodd', stroke: stroke(0.15) });
  });

/** Runs of points that most grounds keep, and that they do not; neighbours share a point. */
const runsOf = ({ kept }: PouredStream): { readonly from: number; readonly to: number }[] => {
  const runs: { from: number; to: number }[] = [];
  for (let k = 0; k + 1 < kept.length; k++) {
    const last = runs[runs.length - 1];
    if (last !== undefined && kept[k] < WAY_KEPT === kept[last.from] < WAY_KEPT) last.to = k + 1;
    else runs.push({ from: k, to: k + 1 });
  }
  return runs;
};

/** A stream as wide as the water that has come in: by the root of its share of the green; in the tint where it is not known. */
const streamMarks = (frame: GroundFrame, stream: PouredStream, whole: number): Mark[] => {
  if (stream.points.length < 2) return [];
  const points = stream.points.map(([x, y]): Mm => onPaper(frame, x, y));
  const widths = stream.area.map(
    (area) => HEAD_WIDTH + (MOUTH_WIDTH - HEAD_WIDTH) * Math.sqrt(Math.min(1, area / whole)),
  );
  const last = widths[widths.length - 1];
  const isSure = stream.kept[stream.kept.length - 1] >= WAY_KEPT;
  const filled = (outline: readonly Mm[], sure: boolean): Mark =>
    sure
      ? fillPath(ringSteps(outline), DARK)
      : fillPath(ringSteps(outline), TINT, { stroke: stroke(0.2) });
  return [
    fillPath(
      ringSteps(
        taper(
          points,
          widths.map((width) => width + 2 * CASING),
        ),
      ),
      PAPER,
    ),
    ...runsOf(stream).map(({ from, to }) =>
      filled(
        taper(points.slice(from, to + 1), widths.slice(from, to + 1)),
        stream.kept[from] >= WAY_KEPT,
      ),
    ),
    ...(stream.leaving?.kind === 'edge'
      ? [filled(mouthBarb(points, Math.max(0.7, last)), isSure)]
      : []),
  ];
};

/** Some of the ways in the grounds that the survey allows, where these do not keep the stream. */
const strandMarks = (frame: GroundFrame, stream: PouredStream): Mark[] =>
  shownStrands(stream).map((strand) =>
    strokePath(lineSteps(linePoints(frame, strand)), stroke(0.12, DARK, { dash: [0.9, 0.5] })),
  );

const pourMark = ([x, y]: Mm): Mark[] => [
  fillPath(circleSteps(x, y, 1), PAPER, { stroke: stroke(0.3) }),
  fillPath(circleSteps(x, y, 0.35), DARK),
];

/** What streams meet that has a name on the page, each once. */
const NAMED: Readonly<Partial<Record<Met['kind'], 'high' | 'valley' | 'hollow'>>> = {
  'high point': 'high',
  'high point above': 'high',
  valley: 'valley',
  hollow: 'hollow',
};

const metOnce = (
  { streams }: PouredWater,
  tell: Worded,
): { readonly at: Met['at']; readonly name: string }[] => {
  const named = streams.flatMap(({ met }) =>
    met.flatMap(({ kind, at }) => {
      const name = NAMED[kind];
      return name === undefined ? [] : [{ at, name: phrase(tell, `water.${name}`) }];
    }),
  );
  return named.filter(
    (one, k) =>
      named.findIndex(({ at, name }) => name === one.name && distance(at, one.at) < SAME_PLACE) ===
      k,
  );
};

const spotsOf = (frame: GroundFrame, { green, water, book }: WaterPageContext): Spot[] => {
  const spot = (at: readonly [number, number], symbol: (at: Mm) => Mark[], label: string): Spot => {
    const paper = onPaper(frame, at[0], at[1]);
    return { at: paper, symbol: symbol(paper), label, bold: /^[A-Z\d]/.test(label) };
  };
  return [
    ...water.streams.map(({ from }, k) => spot(from, pourMark, `${k + 1}`)),
    ...water.catchments.map(({ at }, k) => spot(at, () => [], placeLetter(k))),
    ...green.drains.map((at) => spot(at, drainMark, phrase(book, 'green.drain'))),
    ...metOnce(water, book).map(({ at, name }) => spot(at, () => [], name)),
  ];
};

const pointMarks = (frame: GroundFrame, { green }: WaterPageContext): Mark[] =>
  green.reading.critical
    .filter(({ kind }) => kind !== 'saddle')
    .map(({ kind, at }) => {
      const paper = onPaper(frame, at[0], at[1]);
      return kind === 'high' ? highPointMark(paper) : lowPointMark(paper);
    });

const imageModule: Module = (context, cell) => {
  const { green, water, layout, book } = context;
  // No note has its sign on this page.
  const style = { ...greenImageStyle(context), signs: [] };
  const frame = greenFrame(green, cell, layout.green.scale);
  const edge = polygonSteps(frame, [green.outline]);
  const grid = pacesGrid(frame, green.outline, style.figureSize);
  const whole = green.reading.area;
  const room = { frame, outline: green.outline, bounds: cell };
  return [
    ...grid.figures,
    {
      kind: 'group',
      role: 'green-image',
      alt: phrase(book, 'water.alt', {
        number: green.holeId,
        name: green.name,
        count: water.streams.length,
      }),
      ground: drawnGround(green.holeId, edge, boxOf(green.outline)),
      marks: [
        {
          kind: 'clip',
          steps: edge,
          marks: [
            showing('drainage', catchmentMarks(frame, water.catchments)),
            showing('slope', bareMarks(frame, green.worth.bare)),
            showing('paces-grid', grid.lines),
            showing('contours', wholeContourMarks(frame, green)),
            showing('fall', divideMarks(frame, green)),
          ],
        },
        strokePath(edge, stroke(0.5)),
        showing('drainage', [
          ...water.streams.flatMap((stream) => strandMarks(frame, stream)),
          ...[...water.streams].reverse().flatMap((stream) => streamMarks(frame, stream, whole)),
        ]),
        showing('spots', [
          ...pointMarks(frame, context),
          ...labelledSpots(
            placeSpots(spotsOf(frame, context), room, style, context.measure),
            style,
          ),
        ]),
      ],
    },
  ];
};

/** Each stream in a line. */
const linesModule: Module = ({ lines, layout, measure }, cell) =>
  setParagraphs(
    lines,
    cell,
    { face: 'text', lead: 1.2, gap: 0.1 },
    { full: layout.type.text, least: 6 },
    measure,
  ).marks;

/** One swatch a catchment, as it is printed on the green. */
const catchmentKey: Module = ({ layout, water, green, book }, cell) => {
  const { table, small } = layout.type;
  const step = Math.min(pointsToMm(table) * 1.36, cell.height / (water.catchments.length + 1.4));
  const size = Math.max(6, Math.min(table, (step / 1.2) * (72 / 25.4)));
  const right = cell.x + cell.width;
  return [
    text([right, cell.y + step * 0.7], phrase(book, 'water.catchments'), 'text-italic', small, {
      align: 'right',
    }),
    ...water.catchments.flatMap(({ area }, k): Mark[] => {
      const y = cell.y + step * (k + 1);
      const steps = rectSteps(right - 28, y + 0.35, 9, step - 0.7);
      return [
        fillPath(steps, toneOf(k), { stroke: stroke(0.12) }),
        text([right - 16, y + step * 0.75], placeLetter(k), 'text-bold', size),
        text(
          [right, y + step * 0.75],
          `${Math.round((100 * area) / green.reading.area)} %`,
          'text',
          size,
          {
            align: 'right',
          },
        ),
      ];
    }),
  ];
};

const nothing: Module = () => [];

const MODULES: Readonly<Record<string, Module>> = {
  heading: headingModule,
  'green-image': imageModule,
  approach: linesModule,
  locations: linesModule,
  'band-key': catchmentKey,
  'scale-bar': scaleBarModule,
  notes: nothing,
  'note-marks': nothing,
  'free-room': nothing,
  foot: footModule,
};

/** A green's page as the layout sets it, with poured water in place of its reading. */
export const composeWaterPage = (context: WaterPageContext): Page =>
  composePage(
    'green',
    {
      id: `water-${context.green.holeId}`,
      title: phrase(context.book, 'water.title', {
        number: context.green.holeId,
        name: context.green.name,
      }),
    },
    MODULES,
    context,
  );
