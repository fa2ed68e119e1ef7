import type { HoleFigures } from '../../course/hole-figures.js';
import type { Cell } from '../kit/grid.js';
import {
  gutterFor,
  holeExtents,
  type LabelStyle,
  type PlacedLabels,
  placeHoleLabels,
} from '../labels/hole-labels.js';
import { leftBetween, rightBetween } from '../labels/label-extents.js';
import type { Mark, MeasureText } from '../marks/marks.js';
import { type Arc, drawHole, greenArcs } from './hole-drawing.js';
import { type HoleFrame, holeFrame } from './hole-frame.js';
import { holeInWords } from './hole-in-words.js';

export interface ComposedHole {
  readonly frame: HoleFrame;
  readonly arcs: readonly Arc[];
  readonly labels: PlacedLabels;
  readonly marks: readonly Mark[];
}

/** Arcs only over the ground that is drawn, so that they never run into a label. */
const trimmedArcs = (figures: HoleFigures, frame: HoleFrame, arcs: readonly Arc[]): Arc[] => {
  const extents = holeExtents(figures, frame);
  return arcs.flatMap((arc) => {
    const points = arc.points.filter(
      ([x, y]) =>
        x >= leftBetween(extents, y - 1, y + 1) && x <= rightBetween(extents, y - 1, y + 1),
    );
    return points.length < 2 ? [] : [{ ...arc, points }];
  });
};

/** The drawing of a hole with its labels, in a cell. */
export const composeHole = (
  figures: HoleFigures,
  cell: Cell,
  style: LabelStyle,
  measure: MeasureText,
): ComposedHole => {
  const frame = holeFrame(figures, cell, gutterFor(figures, cell, style, measure));
  const arcs = trimmedArcs(figures, frame, greenArcs(figures, frame, style.units));
  const labels = placeHoleLabels({ figures, frame, arcs }, cell, style, measure);
  return {
    frame,
    arcs,
    labels,
    marks: [
      {
        kind: 'group',
        role: 'hole-image',
        alt: holeInWords(figures, style),
        names: figures.id,
        marks: [drawHole(figures, frame, arcs), ...labels.marks],
      },
    ],
  };
};
