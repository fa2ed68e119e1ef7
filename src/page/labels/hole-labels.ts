import type { FeatureShape } from '../../course/course-map.js';
import type { HoleFigures } from '../../course/hole-figures.js';
import { distance, insideRing } from '../../geometry.js';
import { pointsToMm } from '../../units.js';
import type { Arc } from '../hole/hole-drawing.js';
import type { HoleFrame } from '../hole/hole-frame.js';
import { faceOf, type LabelLines, type Run } from '../hole/hole-words.js';
import { lineSteps, stroke, strokePath, text } from '../kit/draw.js';
import type { Cell } from '../kit/grid.js';
import { type Mark, type MeasureText, type Mm, PAPER } from '../marks/marks.js';
import type { Telling } from '../words/words.js';
import { hazardEdges, symbolBoxes, throughRings, woodRings } from './hole-obstacles.js';
import { wantedLabels } from './hole-wanted-labels.js';
import { type Extents, extentsOf, leftBetween, rightBetween } from './label-extents.js';
import { type PlacedSideLabel, placeSideLabels, type SideLabel } from './label-gutters.js';
import { firstFree, type Obstacles } from './label-inside.js';

export interface LabelStyle extends Telling {
  /** Points. */
  readonly figureSize: number;
  readonly wordSize: number;
}

export interface PlacedLabels {
  readonly marks: readonly Mark[];
  /** Boxes of all labels, beside the drawing and inside it. */
  readonly boxes: readonly Cell[];
  /** One for each box beside the drawing, in their order. */
  readonly leaders: readonly (readonly [Mm, Mm])[];
  /** The words of each label that found no room. */
  readonly left: readonly string[];
}

const CLEAR = 1.6;
const GAP = 0.9;
const LEADER = 0.1;
/** Paper beside a leader, so that it reads over what it crosses. */
const LEADER_CASING = 0.5;
const TO_SIGN = 1.2;
/** Between the figure of an arc and a label beside it, millimetres: it reads as one more figure of a row that it ends. */
const BESIDE_ARC = 1.6;
/** A gutter takes no more than this share of the cell. */
const WIDEST_GUTTER = 0.29;

const lineHeight = (style: LabelStyle): number => pointsToMm(style.figureSize) * 1.08;
const sizeOf = (run: Run, style: LabelStyle): number =>
  run.figure ? style.figureSize : style.wordSize;

const widthOf = (line: readonly Run[], style: LabelStyle, measure: MeasureText): number =>
  line.reduce((sum, run) => sum + measure(run.text, faceOf(run), sizeOf(run, style)), 0);

const wordsOf = (lines: LabelLines): string =>
  lines
    .map((line) => line.map((run) => run.text).join(''))
    .filter((line) => line !== '')
    .join(', ');

/** Lines broken at spaces, and words broken anywhere as a last resort, so that none is wider than the room. */
const brokenTo = (
  lines: LabelLines,
  room: number,
  style: LabelStyle,
  measure: MeasureText,
): LabelLines =>
  lines.flatMap((line) => {
    if (widthOf(line, style, measure) <= room) return [line];
    const broken: Run[][] = [[]];
    const pieces = line.flatMap((run) =>
      (run.text.match(/\S+\s*|\s+/g) ?? []).map((piece): Run => ({ ...run, text: piece })),
    );
    for (const piece of pieces) {
      const last = broken[broken.length - 1];
      if (last.length === 0 || widthOf([...last, piece], style, measure) <= room) {
        last.push(piece);
      } else {
        broken.push([piece]);
      }
      let tail = broken[broken.length - 1];
      while (widthOf(tail, style, measure) > room && tail.length === 1 && tail[0].text.length > 1) {
        let keep = tail[0].text.length - 1;
        while (
          keep > 1 &&
          measure(`${tail[0].text.slice(0, keep)}`, faceOf(piece), sizeOf(piece, style)) > room
        ) {
          keep -= 1;
        }
        const rest = tail[0].text.slice(keep);
        tail[0] = { ...tail[0], text: tail[0].text.slice(0, keep) };
        tail = [{ ...piece, text: rest }];
        broken.push(tail);
      }
    }
    return broken;
  });

/** Room for the widest label on either side of the drawing, millimetres. */
export const gutterFor = (
  figures: HoleFigures,
  cell: Cell,
  style: LabelStyle,
  measure: MeasureText,
): number => {
  let widest = 0;
  for (const { lines } of wantedLabels(figures, style)) {
    for (const line of lines) widest = Math.max(widest, widthOf(line, style, measure));
  }
  return Math.min(widest + CLEAR + 0.8, WIDEST_GUTTER * cell.width);
};

const shapeLines = (shape: FeatureShape, frame: HoleFrame): Mm[][] => {
  if (shape.kind === 'line') return [shape.points.map((at) => frame.onPaper(at))];
  if (shape.kind === 'area') {
    return shape.rings.slice(0, 1).map((ring) => [...ring, ring[0]].map((at) => frame.onPaper(at)));
  }
  const [x, y] = frame.onPaper(shape.at);
  return [
    [
      [x - 1.2, y - 1.2],
      [x + 1.2, y + 1.2],
    ],
  ];
};

/** Everything that the drawing shows, as lines on paper: what labels keep off. */
const drawnLines = (figures: HoleFigures, frame: HoleFrame): Mm[][] => [
  ...figures.features.flatMap(({ shape }) => shapeLines(shape, frame)),
  figures.line.map((at) => frame.onPaper(at)),
];

const labelMarks = (
  lines: LabelLines,
  box: Cell,
  side: 'left' | 'right',
  style: LabelStyle,
  measure: MeasureText,
): Mark[] => {
  const step = lineHeight(style);
  return lines.flatMap((line, i) => {
    const width = widthOf(line, style, measure);
    let x = side === 'left' ? box.x + box.width - width : box.x;
    return line.map((run): Mark => {
      const at: Mm = [x, box.y + i * step + pointsToMm(style.figureSize) * 0.78];
      x += measure(run.text, faceOf(run), sizeOf(run, style));
      return text(at, run.text, faceOf(run), sizeOf(run, style));
    });
  });
};

/** Where the figure of an arc may stand: along the arc from its two ends inward. */
const arcPlaces = (arc: Arc, extents: Extents): Mm[] => {
  const shown = arc.points.filter(
    ([x, y]) => x >= leftBetween(extents, y, y) && x <= rightBetween(extents, y, y),
  );
  const places: Mm[] = [];
  for (let i = 0, j = shown.length - 1; i <= j; i++, j--) places.push(shown[j], shown[i]);
  return places;
};

/** A label with the paper beside it that keeps the figures of arcs off. */
const offArcs = (box: Cell): Cell => ({
  ...box,
  x: box.x - BESIDE_ARC,
  width: box.width + 2 * BESIDE_ARC,
});

const leaderMarks = ({ leader }: PlacedSideLabel): Mark[] => {
  const [from, to] = leader;
  const line = strokePath(lineSteps(leader), stroke(LEADER));
  const long = distance(from, to);
  if (long <= TO_SIGN) return [line];
  // What it points to stays whole.
  const share = 1 - TO_SIGN / long;
  const end: Mm = [from[0] + share * (to[0] - from[0]), from[1] + share * (to[1] - from[1])];
  return [strokePath(lineSteps([from, end]), stroke(LEADER_CASING, PAPER)), line];
};

export const holeExtents = (figures: HoleFigures, frame: HoleFrame): Extents =>
  extentsOf(frame.window, drawnLines(figures, frame));

/** A hole as it is drawn, without its labels. */
export interface DrawnHole {
  readonly figures: HoleFigures;
  readonly frame: HoleFrame;
  readonly arcs: readonly Arc[];
}

/**
 * Places the labels of a hole: those of tees, hazards, landmarks, landing area and gaps beside the
 * drawing with leaders, the figures of the arcs on their arcs. None lies over another, over the edge of a
 * hazard or outside the cell.
 */
export const placeHoleLabels = (
  { figures, frame, arcs }: DrawnHole,
  cell: Cell,
  style: LabelStyle,
  measure: MeasureText,
): PlacedLabels => {
  const extents = holeExtents(figures, frame);
  const room = frame.window.x - cell.x - CLEAR;
  const step = lineHeight(style);
  const wanted = wantedLabels(figures, style).map((one) => ({
    ...one,
    words: wordsOf(one.lines),
    lines: brokenTo(one.lines, room, style, measure),
  }));
  const woods = woodRings(figures, frame);
  const labels = wanted.map((one): SideLabel => {
    const anchors = { left: one.anchor(frame, 'left'), right: one.anchor(frame, 'right') };
    const { x, width } = frame.window;
    return {
      anchors,
      woods: {
        left: throughRings(woods, anchors.left, x),
        right: throughRings(woods, anchors.right, x + width),
      },
      width: Math.max(...one.lines.map((line) => widthOf(line, style, measure))),
      height: one.lines.length * step,
      leaderAt: step * 0.5,
      priority: one.priority,
      side: one.side,
    };
  });
  const sided = placeSideLabels(labels, cell, extents, { gap: GAP, clear: CLEAR });
  const obstacles: Obstacles = {
    boxes: [...sided.map(({ box }) => offArcs(box)), ...symbolBoxes(figures, frame)],
    lines: [...hazardEdges(figures, frame), ...sided.map(({ leader }) => leader)],
  };
  const inside: Cell[] = [];
  const figureMarks: Mark[] = [];
  const height = pointsToMm(style.wordSize) * 0.78;
  for (const arc of arcs) {
    const words = `${arc.figure}`;
    const width = measure(words, 'text', style.wordSize) + 0.5;
    const places = arcPlaces(arc, extents);
    // Among the trees of a wood only where there is no other place.
    const open = places.filter(([x, y]) => !woods.some((ring) => insideRing(ring, x, y)));
    const find = (at: readonly Mm[], edges: Obstacles['lines']): Cell | null =>
      firstFree(at, width, height, frame.window, {
        boxes: [...obstacles.boxes, ...inside],
        lines: [...obstacles.lines, ...edges],
      });
    const box = find(open, woods) ?? find(places, []);
    if (box === null) continue;
    inside.push(box);
    figureMarks.push(
      text([box.x + width / 2, box.y + height * 0.93], words, 'text', style.wordSize, {
        align: 'centre',
        halo: 0.5,
      }),
    );
  }
  return {
    marks: [
      ...sided.flatMap(leaderMarks),
      ...figureMarks,
      ...sided.flatMap(({ index, box, side }) =>
        labelMarks(wanted[index].lines, box, side, style, measure),
      ),
    ],
    boxes: [...sided.map(({ box }) => box), ...inside],
    leaders: sided.map(({ leader }) => leader),
    left: wanted.flatMap(({ words }, i) => (sided.some(({ index }) => index === i) ? [] : [words])),
  };
};
