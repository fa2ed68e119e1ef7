import type { Point, Ring } from '../../geometry.js';
import type { Layout } from '../../layout/layout.js';
import { metresToInches, pointsToMm, type UnitSystem } from '../../units.js';
import type { GreenContent } from '../book-content.js';
import { circleSteps, fillPath, ringSteps, stroke, strokePath, text } from '../kit/draw.js';
import type { Cell } from '../kit/grid.js';
import type { GreenPageContext } from '../kit/page-modules.js';
import type { Face, Mark, MeasureText, Mm } from '../marks/marks.js';
import { DARK, PAPER } from '../marks/marks.js';
import { phrase, type Telling } from '../words/words.js';
import { type GroundFrame, linePoints, onPaper } from './ground-frame.js';
import { outletSpots } from './outlet-spots.js';
import { pacesGrid } from './paces-grid.js';
import { placeSpotLabels, type Spot } from './spot-labels.js';

export interface GreenImageStyle extends Telling {
  readonly scale: number;
  /** Points. */
  readonly figureSize: number;
  readonly letterSize: number;
  /** A committee edition shows sections only. */
  readonly detail: 'full' | 'sections';
  /** Where notes have their signs, which no label may cover. */
  readonly signs: readonly Point[];
}

const showsNotes = ({ pages }: Layout): boolean =>
  pages.green?.some(({ module }) => module === 'note-marks') ?? false;

/** As a layout has it. */
export const greenImageStyle = ({
  layout,
  book,
  green,
}: Pick<GreenPageContext, 'layout' | 'book' | 'green'>): GreenImageStyle => ({
  scale: layout.green.scale,
  units: book.units,
  words: book.words,
  figureSize: layout.type.small,
  letterSize: layout.type.table + 2,
  detail: layout.use === 'committee' ? 'sections' : 'full',
  signs:
    layout.use === 'committee' || !showsNotes(layout)
      ? []
      : (book.notes?.holes ?? [])
          .filter(({ holeId }) => holeId === green.holeId)
          .flatMap(({ marks }) => marks.flatMap(({ at }) => (at === null ? [] : [at]))),
});

const triangle = ([x, y]: Mm, size: number, up: boolean): Mm[] => {
  const s = up ? 1 : -1;
  return [
    [x, y - s * size],
    [x + size * 0.95, y + s * size * 0.65],
    [x - size * 0.95, y + s * size * 0.65],
  ];
};

export const highPointMark = (at: Mm): Mark =>
  fillPath(ringSteps(triangle(at, 1.15, true)), DARK, { stroke: stroke(0.3, PAPER) });

export const lowPointMark = (at: Mm): Mark =>
  fillPath(ringSteps(triangle(at, 1.05, false)), PAPER, { stroke: stroke(0.28) });

export const drainMark = (at: Mm): Mark[] => [
  fillPath(circleSteps(at[0], at[1], 1.1), PAPER, { stroke: stroke(0.28) }),
  strokePath(
    [
      ['M', at[0] - 0.7, at[1]],
      ['L', at[0] + 0.7, at[1]],
      ['M', at[0], at[1] - 0.7],
      ['L', at[0], at[1] + 0.7],
    ],
    stroke(0.28),
  ),
];

/** The hole: a dot in a ring, so that neither an arrow nor a contour looks like it. */
export const holeMark = (at: Mm): Mark[] => [
  fillPath(circleSteps(at[0], at[1], 1.15), PAPER, { stroke: stroke(0.3) }),
  fillPath(circleSteps(at[0], at[1], 0.5), DARK),
];

const heightText = (metres: number, units: UnitSystem): string =>
  units === 'metric' ? `${Math.round(metres * 100)}` : `${Math.round(metresToInches(metres))}`;

const spotsOf = (frame: GroundFrame, content: GreenContent, style: GreenImageStyle): Spot[] => {
  const paper = (p: Point): Mm => onPaper(frame, p[0], p[1]);
  const shown = content.reading.critical.filter((c) => c.kind !== 'saddle');
  const lowest = Math.min(...content.reading.critical.map((c) => c.height));
  const locations = content.locations.map((location) => ({
    at: paper(location.at),
    symbol: holeMark(paper(location.at)),
    label: location.name,
    bold: true,
  }));
  const heights = shown.map((c) => ({
    at: paper(c.at),
    symbol: [c.kind === 'high' ? highPointMark(paper(c.at)) : lowPointMark(paper(c.at))],
    label: heightText(c.height - lowest, style.units),
    bold: false,
  }));
  const drains = content.drains.map((drain) => ({
    at: paper(drain),
    symbol: drainMark(paper(drain)),
    label: phrase(style, 'green.drain'),
    bold: false,
  }));
  return style.detail === 'full'
    ? [...locations, ...heights, ...drains, ...outletSpots(frame, content)]
    : locations;
};

/** Half of the paper that a symbol takes, millimetres. */
const SYMBOL = 1.2;
const EDGE_ROOM = 0.4;
const SIGN = 1.5;

/** The spots of a green with the paper that each symbol and each label takes. */
interface PlacedSpots {
  readonly spots: readonly Spot[];
  readonly symbols: readonly Cell[];
  readonly labels: readonly Cell[];
}

type SpotStyle = Pick<GreenImageStyle, 'letterSize' | 'figureSize' | 'signs'>;

/** Where spots lie: the ground on paper, the edge of the green on it, and the cell that holds all. */
interface SpotRoom {
  readonly frame: GroundFrame;
  readonly outline: Ring;
  readonly bounds: Cell;
}

const faceOf = (spot: Spot): Face => (spot.bold ? 'text-bold' : 'text');
const sizeOf = (spot: Spot, { letterSize, figureSize }: SpotStyle): number =>
  spot.bold ? letterSize : figureSize;

const about = ([x, y]: Mm, by: number): Cell => ({
  x: x - by,
  y: y - by,
  width: 2 * by,
  height: 2 * by,
});

/** Finds the places of labels, clear of symbols, of the edge, of the counts of paces round it and of the signs of notes. */
export const placeSpots = (
  spots: readonly Spot[],
  { frame, outline, bounds }: SpotRoom,
  style: SpotStyle,
  measure: MeasureText,
): PlacedSpots => {
  const symbols = spots.map(({ at }) => about(at, SYMBOL));
  const signs = style.signs.map(([x, y]) => about(onPaper(frame, x, y), SIGN));
  const edge = linePoints(frame, outline).map((at) => about(at, EDGE_ROOM));
  const paces = pacesGrid(frame, outline, style.figureSize).figureCells;
  const labels = placeSpotLabels(
    spots.map((spot) => ({
      at: spot.at,
      clear: 1.5,
      width: measure(spot.label, faceOf(spot), sizeOf(spot, style)) + 0.4,
      height: pointsToMm(sizeOf(spot, style)) * 0.78,
      isFigure: /\d/.test(spot.label),
    })),
    { boxes: [...symbols, ...edge, ...signs, ...paces], figures: paces },
    bounds,
  );
  return { spots, symbols, labels };
};

/** Each spot with its label. */
export const labelledSpots = ({ spots, labels }: PlacedSpots, style: SpotStyle): Mark[] =>
  spots.flatMap((spot, i) => [
    ...spot.symbol,
    text(
      [labels[i].x + labels[i].width / 2, labels[i].y + labels[i].height * 0.93],
      spot.label,
      faceOf(spot),
      sizeOf(spot, style),
      { align: 'centre', halo: 0.45 },
    ),
  ]);

const placedSpots = (
  frame: GroundFrame,
  content: GreenContent,
  style: GreenImageStyle,
  measure: MeasureText,
  bounds: Cell,
): PlacedSpots => {
  const room = { frame, outline: content.outline, bounds };
  return placeSpots(spotsOf(frame, content, style), room, style, measure);
};

/** The paper that symbols and labels of a green's spots take, hole locations first. */
export const spotCells = (...of: Parameters<typeof placedSpots>): readonly Cell[] => {
  const { symbols, labels } = placedSpots(...of);
  return [...symbols, ...labels];
};

/** Hole locations, high and low points, drains and outlets, each with its label. */
export const spotMarks = (...of: Parameters<typeof placedSpots>): Mark[] => {
  const [, , style] = of;
  return labelledSpots(placedSpots(...of), style);
};
