import { boxOf, growBox, type Point } from '../../geometry.js';
import type { Layout } from '../../layout/layout.js';
import type { GreenContent } from '../book-content.js';
import { hatch, lineSteps, stroke, strokePath } from '../kit/draw.js';
import { type Cell, cellOf, type PageSide } from '../kit/grid.js';
import type { Mark, MeasureText, Mm, PathMark, PathStep, Shown } from '../marks/marks.js';
import { DARK } from '../marks/marks.js';
import { bareMarks } from './bare-ground.js';
import { contourMarks } from './contour-marks.js';
import { drainageMarks } from './drainage-line.js';
import { fallArrow } from './fall-arrow.js';
import { greenInWords } from './green-in-words.js';
import { type GreenImageStyle, spotMarks } from './green-spots.js';
import {
  areaSteps,
  drawnGround,
  fitGround,
  type GroundFrame,
  linePoints,
  onPaper,
  polygonSteps,
} from './ground-frame.js';
import { laneMarks } from './lane-marks.js';
import { pacesGrid } from './paces-grid.js';
import { sectionStyle } from './section-key.js';
import { slopeBandMarks } from './slope-bands.js';

const EDGE = 0.5;
/** Room round the green for the figures of the paces grid, millimetres. */
const FIGURE_ROOM = 6;

export const divideLine = (points: readonly Mm[]): Mark =>
  strokePath(lineSteps(points), stroke(0.22, DARK, { dash: [1.3, 0.6, 0.2, 0.6] }));

/** Broken strokes over ground whose fall is not known. */
export const doubtStrokes = (steps: readonly PathStep[]): Mark =>
  hatch(steps, 135, 1.1, stroke(0.12, DARK, { dash: [0.5, 0.7] }));

export const divideMarks = (frame: GroundFrame, content: GreenContent): Mark[] =>
  content.reading.divides
    .filter((line) => line.length > 1)
    .map((line) => divideLine(linePoints(frame, line)));

/** Arrows keep clear of the symbols that stand on the ground. */
export const arrowMarks = (frame: GroundFrame, content: GreenContent): PathMark[] => {
  const spots = [
    ...content.locations.map((location) => location.at),
    ...content.reading.critical.filter((c) => c.kind !== 'saddle').map((c) => c.at),
    ...content.drains,
  ];
  const stream = content.reading.streams
    .filter((s) => s.main)
    .flatMap((s) => s.points.map(([x, y]) => [x, y] as Point));
  const clear = (at: Point, from: readonly Point[], metres: number): boolean =>
    from.every((p) => Math.hypot(p[0] - at[0], p[1] - at[1]) > metres);
  const millimetre = frame.scale / 1000;
  return content.reading.arrows
    .filter((a) => clear(a.at, spots, 2.2 * millimetre) && clear(a.at, stream, 1.9 * millimetre))
    .map((a) => fallArrow(onPaper(frame, a.at[0], a.at[1]), [a.toward[0], -a.toward[1]], a.grade));
};

const sectionMarks = (frame: GroundFrame, content: GreenContent): Mark[] =>
  content.reading.sections.flatMap((section) => {
    const steps = section.polygons.flatMap((polygon) => areaSteps(frame, polygon));
    return sectionStyle(section, steps);
  });

/**
 * Where and how large the green stands in its cell: centred, at the scale asked for or at the next
 * smaller one at which it fits.
 */
export const greenFrame = (
  content: Pick<GreenContent, 'outline'>,
  cell: Cell,
  scale: number,
): GroundFrame => {
  const inner: Cell = {
    x: cell.x + FIGURE_ROOM,
    y: cell.y + 1,
    width: cell.width - 2 * FIGURE_ROOM,
    height: cell.height - FIGURE_ROOM - 1,
  };
  return fitGround(inner, growBox(boxOf(content.outline), 0.3), scale);
};

/** Where a green lies on its own page; null where the layout has no picture of it there. */
export const frameOnPage = (
  green: Pick<GreenContent, 'outline'>,
  layout: Layout,
  side: PageSide,
): GroundFrame | null => {
  const placement = layout.pages.green?.find((one) => one.module === 'green-image');
  return placement === undefined
    ? null
    : greenFrame(green, cellOf(layout, side, placement), layout.green.scale);
};

/** Says what marks show, so that the check can tell a committee edition's green from a reading. */
export const showing = (shows: Shown, marks: readonly Mark[]): Mark => ({
  kind: 'group',
  role: 'figure',
  shows,
  marks,
});

/**
 * A green as a caddie reads it, front edge at the foot of the page. The image keeps its scale and is
 * centred in the cell; a green too large for the cell is drawn at the next smaller scale that fits.
 */
export const composeGreenImage = (
  content: GreenContent,
  cell: Cell,
  style: GreenImageStyle,
  measure: MeasureText,
): readonly Mark[] => {
  const box = boxOf(content.outline);
  const frame = greenFrame(content, cell, style.scale);
  const edge = polygonSteps(frame, [content.outline]);
  const grid = pacesGrid(frame, content.outline, style.figureSize);
  const full = style.detail === 'full';
  const bare = bareMarks(frame, content.worth.bare);
  const doubtful = content.reading.doubtful.map((polygon) =>
    doubtStrokes(areaSteps(frame, polygon)),
  );
  const ground: Mark[] = full
    ? [
        showing('slope', [...slopeBandMarks(frame, content.reading.bands), ...doubtful, ...bare]),
        showing('paces-grid', grid.lines),
        showing('contours', contourMarks(frame, content)),
        showing('fall', [...divideMarks(frame, content), ...arrowMarks(frame, content)]),
      ]
    : [
        showing('paces-grid', grid.lines),
        showing('sections', [...sectionMarks(frame, content), ...bare]),
      ];
  return [
    { kind: 'group', role: 'decoration', marks: grid.figures },
    {
      kind: 'group',
      role: 'green-image',
      alt: greenInWords(content, style, style.detail),
      ground: drawnGround(content.holeId, edge, box),
      marks: [
        { kind: 'clip', steps: edge, marks: ground },
        strokePath(edge, stroke(EDGE)),
        showing('drainage', full ? drainageMarks(frame, content.reading.streams) : []),
        showing(
          'lanes',
          full
            ? content.locations.flatMap(({ regions }) =>
                regions === null ? [] : laneMarks(frame, regions),
              )
            : [],
        ),
        showing(full ? 'spots' : 'hole-locations', spotMarks(frame, content, style, measure, cell)),
      ],
    },
  ];
};
