import type { HoleLocation } from '../../course/course.js';
import { boxOf, insideRing, type Point } from '../../geometry.js';
import type { BreakMap } from '../../putt/break-map.js';
import { equalLines } from '../../putt/equal-lines.js';
import { aimReading } from '../../putt/rounding.js';
import { inchesToMetres, pointsToMm, type UnitSystem } from '../../units.js';
import { bareMarks } from '../green/bare-ground.js';
import { wholeContourMarks } from '../green/contour-marks.js';
import { drainageMarks } from '../green/drainage-line.js';
import { arrowMarks, greenFrame } from '../green/green-image.js';
import { footModule, headingModule } from '../green/green-page.js';
import { type GroundFrame, linePoints, onPaper } from '../green/ground-frame.js';
import { pacesGrid } from '../green/paces-grid.js';
import { paleBandMarks } from '../green/slope-bands.js';
import {
  circleSteps,
  fillPath,
  lineSteps,
  ringSteps,
  rule,
  stroke,
  strokePath,
  text,
} from '../kit/draw.js';
import type { Cell } from '../kit/grid.js';
import { locationTag } from '../kit/location-tag.js';
import { locationWords } from '../kit/location-words.js';
import { composePage, type GreenPageContext, type PageModule } from '../kit/page-modules.js';
import { setParagraph } from '../kit/paragraph.js';
import { firstFree } from '../labels/label-inside.js';
import type { Mark, MeasureText, Mm, Page, Paint, PathStep, TextMark } from '../marks/marks.js';
import { DARK, PAPER } from '../marks/marks.js';
import { phrase } from '../words/words.js';

/** A green's context with the break map of one of its hole locations. */
export interface BreakMapContext extends GreenPageContext {
  readonly location: HoleLocation;
  readonly map: BreakMap;
}

type Module = PageModule<BreakMapContext>;

/** Aims for which a line is drawn, metres. */
const LEVELS: Readonly<Record<UnitSystem, readonly number[]>> = {
  imperial: [3, 6, 12, 24, 36, 60, 96].map(inchesToMetres),
  metric: [0.08, 0.15, 0.3, 0.6, 0.9, 1.5, 2.4],
};

/** Neighbouring nodes whose aims differ by more lie on two sides of a change of line, metres. */
const JUMP = 0.75;

const DASHES = [1.5, 0.8];
/** Clear paper about a label's letters, millimetres across and down. */
const CLEAR_ACROSS = 1.6;
const CLEAR_DOWN = 0.9;
/** Height of its letters, of their size. */
const LETTERS = 0.72;
/** Where along a line a label is tried, the middle first. */
const SHARES = [
  0.5, 0.62, 0.38, 0.74, 0.26, 0.85, 0.15, 0.56, 0.44, 0.68, 0.32, 0.8, 0.2, 0.9, 0.1,
];
/** The hole's dot takes this much paper to each side, its letter stands so far right of it and above; millimetres. */
const HOLE_ROOM = 1.4;
const LETTER_AT: Mm = [1.5, -1.1];
/** Streams, arrows and contours lie below the lines of aim. */
const BELOW: Paint = { ink: 'tint', tone: 0.75 };

/** What the labels of a map keep off: one another, the hole, and the edge of the green, inside which they lie. */
interface Kept {
  readonly boxes: Cell[];
  readonly edge: readonly Mm[];
  readonly bounds: Cell;
}

/** A label on a line where it stands whole on the green with room about it, or none. */
const labelOn = (
  points: readonly Mm[],
  words: string,
  size: number,
  measure: MeasureText,
  { boxes, edge, bounds }: Kept,
): TextMark | null => {
  const places = SHARES.map((share) => points[Math.floor(share * (points.length - 1))]).filter(
    ([x, y]) => insideRing(edge, x, y),
  );
  const high = pointsToMm(size) * LETTERS;
  const box = firstFree(
    places,
    measure(words, 'text-bold', size) + 2 * CLEAR_ACROSS,
    high + 2 * CLEAR_DOWN,
    bounds,
    { boxes, lines: [[...edge, edge[0]]] },
  );
  if (box === null) return null;
  boxes.push(box);
  const at: Mm = [box.x + box.width / 2, box.y + CLEAR_DOWN + high];
  return text(at, words, 'text-bold', size, { align: 'centre', halo: 0.55 });
};

/**
 * Lines of equal aim for a ball anywhere on the green: solid where the aim is to the left of the hole,
 * dashed where it is to the right, heavy where a putt runs straight. Labels give the aim.
 */
const linesOf = (
  { map, book, layout, measure }: BreakMapContext,
  frame: GroundFrame,
  kept: Kept,
): { readonly lines: Mark[]; readonly labels: Mark[] } => {
  const lines: Mark[] = [];
  const labels: TextMark[] = [];
  const size = layout.type.table;
  const trace = (level: number): readonly (readonly Point[])[] =>
    equalLines(map, map.aim, level, JUMP);
  const drawn = (points: readonly Point[]): PathStep[] => lineSteps(linePoints(frame, points));
  for (const points of trace(1e-9)) lines.push(strokePath(drawn(points), stroke(0.7)));
  for (const level of LEVELS[book.units]) {
    for (const sign of [1, -1]) {
      const line = stroke(0.25, DARK, sign > 0 ? {} : { dash: DASHES, cap: 'butt' });
      for (const points of trace(sign * level)) {
        lines.push(strokePath(drawn(points), line));
        if (points.length < 8) continue;
        const { figure } = aimReading(level, book.units);
        const words = `${figure
          .replace(/ in$/, '″')
          .replace(/ ft$/, '′')
          .replace(/ (cm|m)$/, '')} ${phrase(book, sign > 0 ? 'aim.L' : 'aim.R')}`;
        // Every point counts here: a label stands at a share of them, turned as they run.
        const everyPoint = points.map(([x, y]) => onPaper(frame, x, y));
        const label = labelOn(everyPoint, words, size, measure, kept);
        if (label !== null) labels.push(label);
      }
    }
  }
  return { lines, labels };
};

/** What the hole and its letter take of the paper. */
const holeBoxes = (
  [x, y]: Mm,
  letter: { readonly width: number; readonly size: number },
): Cell[] => {
  const high = pointsToMm(letter.size) * LETTERS;
  return [
    { x: x - HOLE_ROOM, y: y - HOLE_ROOM, width: 2 * HOLE_ROOM, height: 2 * HOLE_ROOM },
    { x: x + LETTER_AT[0], y: y + LETTER_AT[1] - high, width: letter.width, height: high },
  ];
};

/** A mark in the paler ink, as what lies below the lines. */
const paler = (mark: Mark): Mark => {
  if (mark.kind !== 'path') return mark;
  const { fill, stroke: line } = mark;
  return {
    ...mark,
    ...(fill === undefined || fill.ink === 'paper' ? {} : { fill: BELOW }),
    ...(line === undefined || line.paint.ink === 'paper'
      ? {}
      : { stroke: { ...line, paint: BELOW } }),
  };
};

/** Why putts bend: the grades as pale tones, contours, paces, the fall and the streams. */
const groundMarks = (frame: GroundFrame, { green, layout }: BreakMapContext): Mark[] => {
  const { reading, outline } = green;
  return [
    ...paleBandMarks(frame, reading.bands),
    ...bareMarks(frame, green.worth.bare),
    ...pacesGrid(frame, outline, layout.type.small).lines,
    ...wholeContourMarks(frame, green).map(paler),
    ...arrowMarks(frame, green).map(paler),
    ...drainageMarks(frame, reading.streams).map(paler),
  ];
};

const mapModule: Module = (context, cell) => {
  const { green, layout, map, location, measure, book } = context;
  const frame = greenFrame(green, cell, layout.green.scale);
  const hole = onPaper(frame, map.hole[0], map.hole[1]);
  const box = boxOf(green.outline);
  const edge = ringSteps(linePoints(frame, green.outline));
  const size = layout.type.table + 1;
  const width = measure(location.name, 'text-bold', size);
  const { lines, labels } = linesOf(context, frame, {
    boxes: holeBoxes(hole, { width, size }),
    edge: linePoints(frame, green.outline),
    bounds: cell,
  });
  const marks: Mark[] = [
    { kind: 'clip', steps: edge, marks: [...groundMarks(frame, context), ...lines] },
    strokePath(edge, stroke(0.5)),
    ...labels,
    fillPath(circleSteps(hole[0], hole[1], 0.8), DARK, { stroke: stroke(0.4, PAPER) }),
    text([hole[0] + LETTER_AT[0], hole[1] + LETTER_AT[1]], location.name, 'text-bold', size, {
      halo: 0.6,
    }),
  ];
  return [
    ...pacesGrid(frame, green.outline, layout.type.small).figures,
    {
      kind: 'group',
      role: 'green-image',
      alt: phrase(book, 'map.alt', { name: location.name }),
      ground: {
        id: green.holeId,
        outline: edge,
        width: box.maxX - box.minX,
        height: box.maxY - box.minY,
      },
      shows: 'putts',
      marks,
    },
  ];
};

const titleModule: Module = ({ location, layout, book }, cell) => {
  const base = cell.y + 3.2;
  return [
    ...locationTag(location.name, cell, base, layout.type.table + 1),
    text(
      [cell.x + 6.6, base],
      phrase(book, 'map.head', { place: locationWords(location, book) }),
      'text-bold',
      layout.type.text,
    ),
  ];
};

const keyModule: Module = ({ layout, book, green, measure }, cell) => {
  const size = layout.type.text;
  const y = cell.y + 2.4;
  const third = cell.width / 3;
  const entries: readonly (readonly [string, Mark])[] = [
    [phrase(book, 'aim.straight'), rule(0, 0, 0, 0, stroke(0.7))],
    [phrase(book, 'map.left'), rule(0, 0, 0, 0, stroke(0.25))],
    [
      phrase(book, 'map.right'),
      rule(0, 0, 0, 0, stroke(0.25, DARK, { dash: DASHES, cap: 'butt' })),
    ],
  ];
  return [
    ...entries.flatMap(([words, sample], i): Mark[] => {
      const x = cell.x + i * third;
      if (sample.kind !== 'path') return [];
      return [
        strokePath(
          lineSteps([
            [x, y],
            [x + 8, y],
          ]),
          sample.stroke!,
        ),
        text([x + 9.5, y + 0.9], words, 'text', size),
      ];
    }),
    ...setParagraph(
      phrase(book, `map.key-${book.units}`, {
        bare: green.worth.bare.length === 0 ? '' : phrase(book, 'map.bare'),
      }),
      { ...cell, y: y + 5 - pointsToMm(layout.type.small) * 0.8 },
      { face: 'text-italic', size: layout.type.small, leading: layout.type.small * 1.2 },
      measure,
    ).marks,
  ];
};

const BREAK_MAP_MODULES: Readonly<Record<string, Module>> = {
  heading: headingModule,
  'break-map-title': titleModule,
  'break-map-image': mapModule,
  'break-map-key': keyModule,
  foot: footModule,
};

/**
 * The page of a break map: lines of equal aim over the whole green for one hole location, from the
 * layout's placements for the kind "break-map", at the layout's scale for greens.
 */
export const composeBreakMapPage = (context: BreakMapContext): Page =>
  composePage(
    'break-map',
    {
      id: `break-map-${context.green.holeId}-${context.location.name}`,
      title: phrase(context.book, 'map.title', {
        number: context.green.holeId,
        name: context.green.name,
        location: context.location.name,
      }),
    },
    BREAK_MAP_MODULES,
    context,
  );
