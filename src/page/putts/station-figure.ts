import { distance, type Point } from '../../geometry.js';
import { HOLE_RADIUS } from '../../putt/capture.js';
import type { Marker } from '../../putt/marker.js';
import type { ArrivingPutt, TableCell } from '../../putt/putt.js';
import { layingReading } from '../../putt/rounding.js';
import { pointsToMm } from '../../units.js';
import { fallArrow } from '../green/fall-arrow.js';
import { circleSteps, fillPath, lineSteps, rule, stroke, strokePath, text } from '../kit/draw.js';
import type { Cell } from '../kit/grid.js';
import type { PageContext } from '../kit/page-modules.js';
import { teePeg } from '../kit/tee-peg.js';
import { withUnit } from '../kit/unit-words.js';
import type { Face, Mark, Mm } from '../marks/marks.js';
import { DARK, PAPER } from '../marks/marks.js';
import { phrase } from '../words/words.js';
import { type Kept, labelAt } from './station-labels.js';

/** A tee as it is drawn: its lines of words, the weightiest in bold. */
export interface DrawnTee {
  readonly at: Point;
  readonly outcome: TableCell['outcome'];
  readonly putt: ArrivingPutt | null;
  readonly lines: readonly { readonly words: string; readonly face: Face }[];
}

/** A hole on the level that a stroke pictures, and its words. */
export interface PicturedHole {
  readonly at: Point;
  readonly words: string;
}

/** What is drawn about a hole, uphill up the page. */
export interface DrawnStation {
  readonly hole: Point;
  /** Unit vector downhill. */
  readonly fall: Point;
  readonly grade: number;
  /** Metres from the hole to each tee. */
  readonly distance: number;
  readonly tees: readonly DrawnTee[];
  /** Where lines of aim are drawn to, from these tees. */
  readonly aims: readonly { readonly from: Point; readonly to: Point }[];
  readonly marker: Marker | null;
  /** A cross where aims meet, in place of a marker. */
  readonly over: Point | null;
  readonly pictured: readonly PicturedHole[];
  /** Where labels of tees have their places: about each peg, or outside a circle of many. */
  readonly labels: 'inside' | 'outside';
  readonly alt: string;
}

/** Room beyond the tees, millimetres: for pegs alone, or for labels that stand outside the circle. */
const BEYOND = { inside: { side: 5, end: 4 }, outside: { side: 20, end: 11 } };
/** Paper that signs take to each side, millimetres. */
const PEG_ROOM = 1.7;
const SIGN_ROOM = 1.5;
interface StationFrame {
  readonly put: (at: Point) => Mm;
  /** Millimetres of paper per metre of ground. */
  readonly mm: number;
}

/** Uphill is up the page, so that "left" and "right" of the fall line are those of the drawing. */
const frameOf = ({ hole, fall, distance: far, labels }: DrawnStation, cell: Cell): StationFrame => {
  const { side, end } = BEYOND[labels];
  const radius = Math.min(cell.width / 2 - side, cell.height / 2 - end);
  const mm = radius / far;
  const [ux, uy] = [-fall[0], -fall[1]];
  const cx = cell.x + cell.width / 2;
  const cy = cell.y + cell.height / 2;
  return {
    mm,
    put: ([x, y]) => {
      const dx = x - hole[0];
      const dy = y - hole[1];
      return [cx + (dx * uy - dy * ux) * mm, cy - (dx * ux + dy * uy) * mm];
    },
  };
};

const PEG = { bar: 1.2, stem: 0.45, top: 1, shoulder: 0.2, tip: 1.4 };

/** A disc in a ring, unlike a hole: the ring is open paper and the disc fills it. */
const markerMark = ([x, y]: Mm, mm: number): Mark[] => {
  const r = Math.max(0.8, 0.012 * mm);
  return [
    fillPath(circleSteps(x, y, r + 0.5), PAPER),
    fillPath(circleSteps(x, y, r), DARK),
    rule(x - r - 1.6, y, x - r - 0.5, y, stroke(0.35)),
    rule(x + r + 0.5, y, x + r + 1.6, y, stroke(0.35)),
  ];
};

const cross = ([x, y]: Mm): Mark[] => [
  rule(x - 1.3, y, x + 1.3, y, stroke(0.4)),
  rule(x, y - 1.3, x, y + 1.3, stroke(0.4)),
];

const around = ([x, y]: Mm, by: number): Cell => ({
  x: x - by,
  y: y - by,
  width: 2 * by,
  height: 2 * by,
});

const circle = ([cx, cy]: Mm, r: number): Mm[] =>
  Array.from({ length: 73 }, (_, k): Mm => {
    const angle = (2 * Math.PI * k) / 72;
    return [cx + r * Math.cos(angle), cy + r * Math.sin(angle)];
  });

/** The fall in the corner that the circle leaves free. */
const fallKey = (
  { grade }: DrawnStation,
  { layout, book }: PageContext,
  cell: Cell,
): { readonly marks: Mark[]; readonly box: Cell } => {
  const size = layout.type.small;
  const corner: Mm = [cell.x + 2.4, cell.y + 3.4];
  const step = pointsToMm(size) * 1.25;
  return {
    marks: [
      fallArrow(corner, [0, 1], 0.06),
      text(
        [corner[0] + 2.4, corner[1] + 0.2],
        phrase(book, 'station.downhill'),
        'text-italic',
        size,
      ),
      text(
        [corner[0] + 2.4, corner[1] + 0.2 + step],
        phrase(book, 'station.falls', { percent: (grade * 100).toFixed(1) }),
        'text',
        size,
      ),
    ],
    box: { x: cell.x, y: cell.y, width: 24, height: 9 },
  };
};

const linesOf = (station: DrawnStation, { put }: StationFrame) => ({
  paths: station.tees.flatMap(({ putt, outcome }) =>
    putt === null || outcome !== 'solved' ? [] : [putt.path.map(put)],
  ),
  aims: station.aims.map(({ from, to }): Mm[] => [put(from), put(to)]),
});

/** What of the marker is drawn: only one that serves. */
const servingMarker = ({ marker }: DrawnStation): Marker | null =>
  marker?.verdict === 'serves' ? marker : null;

const signLabels = (
  station: DrawnStation,
  frame: StationFrame,
  { layout, book, measure }: PageContext,
  kept: Kept,
): Mark[] => {
  const size = layout.type.small;
  const marker = servingMarker(station);
  const labels = [
    ...(marker === null
      ? []
      : [
          {
            at: frame.put(marker.best.at),
            lines: [
              { words: phrase(book, 'station.marker-label'), face: 'text-bold' as const },
              {
                words: withUnit(layingReading(marker.best.uphill, book.units), book),
                face: 'text-bold' as const,
              },
            ],
          },
        ]),
    ...station.pictured.map(({ at, words }) => ({
      at: frame.put(at),
      lines: [{ words, face: 'text-italic' as const }],
    })),
  ];
  return labels.flatMap(({ at, lines }) =>
    labelAt(at, { lines, size }, { room: SIGN_ROOM, first: -0.4 }, { kept, measure }),
  );
};

/**
 * Tees about a hole with the ways of their putts, the lines of aim, the marker and the pictured holes, to scale.
 * Every label finds a place of its own, off signs, lines and other labels.
 */
export const stationFigure = (station: DrawnStation, context: PageContext, cell: Cell): Mark[] => {
  const { layout, measure } = context;
  const frame = frameOf(station, cell);
  const hole = frame.put(station.hole);
  const radius = station.distance * frame.mm;
  const { paths, aims } = linesOf(station, frame);
  const key = fallKey(station, context, cell);
  const marker = servingMarker(station);
  const kept: Kept = {
    bounds: cell,
    boxes: [
      key.box,
      around(hole, HOLE_RADIUS * frame.mm + 0.6),
      ...station.tees.map(({ at }) => around(frame.put(at), PEG_ROOM)),
      ...(marker === null ? [] : [around(frame.put(marker.best.at), SIGN_ROOM + 0.6)]),
      ...(station.over === null ? [] : [around(frame.put(station.over), SIGN_ROOM)]),
      ...station.pictured.map(({ at }) => around(frame.put(at), HOLE_RADIUS * frame.mm)),
    ],
    lines: [...paths, ...aims],
    soft: [circle(hole, radius)],
  };
  const marks: Mark[] = [
    strokePath(circleSteps(hole[0], hole[1], radius), stroke(0.15, DARK, { dash: [0.2, 1.1] })),
    ...station.pictured.map(({ at }) => {
      const [x, y] = frame.put(at);
      return strokePath(
        circleSteps(x, y, HOLE_RADIUS * frame.mm),
        stroke(0.2, DARK, { dash: [0.7, 0.6], cap: 'butt' }),
      );
    }),
    ...aims.map((line) =>
      strokePath(lineSteps(line), stroke(0.15, DARK, { dash: [1, 0.7], cap: 'butt' })),
    ),
    ...paths.map((path) => strokePath(lineSteps(path), stroke(0.55))),
    fillPath(circleSteps(hole[0], hole[1], HOLE_RADIUS * frame.mm), PAPER, { stroke: stroke(0.5) }),
    ...station.tees.map(({ at }) => teePeg(frame.put(at), PEG)),
    ...(station.over === null ? [] : cross(frame.put(station.over))),
    ...(marker === null ? [] : markerMark(frame.put(marker.best.at), frame.mm)),
    ...signLabels(station, frame, context, kept),
    ...station.tees.flatMap(({ at, lines }) => {
      const place = frame.put(at);
      // First beside the peg, on the side that turns from the hole or down the page.
      const first = Math.atan2(place[1] - hole[1], place[0] - hole[0]);
      return labelAt(
        place,
        { lines, size: station.labels === 'inside' ? layout.type.text : layout.type.small },
        { room: PEG_ROOM, first },
        { kept, measure },
      );
    }),
    ...key.marks,
  ];
  return [{ kind: 'group', role: 'figure', alt: station.alt, marks }];
};

/** Holes that a stroke pictures, as one where they lie within a hole of one another. */
export const picturedTogether = (
  one: readonly PicturedHole[],
  words: string,
): readonly PicturedHole[] =>
  one.length === 2 && distance(one[0].at, one[1].at) < HOLE_RADIUS
    ? [
        {
          at: [(one[0].at[0] + one[1].at[0]) / 2, (one[0].at[1] + one[1].at[1]) / 2],
          words,
        },
      ]
    : one;
