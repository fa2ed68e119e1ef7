import type { GreenContent } from '../book-content.js';
import { lineSteps, stroke, strokePath } from '../kit/draw.js';
import type { Mark, Mm } from '../marks/marks.js';
import { type GroundFrame, linePoints } from './ground-frame.js';
import { lineOutside } from './line-outside.js';
import { bandStyle } from './slope-bands.js';

const CONTOUR = 0.1;
const INDEX_CONTOUR = 0.2;

export const contourLine = (lines: readonly (readonly Mm[])[], isIndex: boolean): Mark =>
  strokePath(lines.flatMap(lineSteps), stroke(isIndex ? INDEX_CONTOUR : CONTOUR));

/** Where strokes tell the steep ground already, every fifth contour only; the others end there. */
export const contourMarks = (frame: GroundFrame, { reading }: GreenContent): Mark[] => {
  const { bands } = reading;
  const stroked = bands
    .filter((_, i) => bandStyle(i, bands.length).pitch !== null)
    .flatMap(({ polygons }) => polygons);
  return reading.contours.map(({ lines, index }) =>
    contourLine(
      (index ? lines : lines.flatMap((line) => lineOutside(line, stroked))).map((line) =>
        linePoints(frame, line),
      ),
      index,
    ),
  );
};

/** All contours to their ends, where no strokes are drawn. */
export const wholeContourMarks = (frame: GroundFrame, { reading }: GreenContent): Mark[] =>
  reading.contours.map(({ lines, index }) =>
    contourLine(
      lines.map((line) => linePoints(frame, line)),
      index,
    ),
  );
