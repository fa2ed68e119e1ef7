import type { MapFeature } from '../../course/course-map.js';
import type { HoleFigures } from '../../course/hole-figures.js';
import type { HoleFrame } from '../hole/hole-frame.js';
import {
  gapLines,
  hazardLines,
  type LabelLines,
  landingLines,
  landmarkLines,
  runOutLines,
  teeColumns,
  teeLines,
} from '../hole/hole-words.js';
import type { Cell } from '../kit/grid.js';
import type { Mm } from '../marks/marks.js';
import type { Telling } from '../words/words.js';

/** A label of a hole before it has a place: what it says, what it points to, how much it matters. */
export interface WantedLabel {
  readonly lines: LabelLines;
  readonly anchor: (frame: HoleFrame, side: 'left' | 'right') => Mm;
  readonly priority: number;
  readonly side: 'left' | 'right' | null;
}

/** A feature's outer ring (or its line, or its point) on paper. */
export const ringOnPaper = ({ shape }: MapFeature, frame: HoleFrame): Mm[] =>
  (shape.kind === 'area' ? shape.rings[0] : shape.kind === 'line' ? shape.points : [shape.at]).map(
    (at) => frame.onPaper(at),
  );

const inWindow = ([x, y]: Mm, { x: wx, y: wy, width, height }: Cell): boolean =>
  x >= wx && x <= wx + width && y >= wy && y <= wy + height;

/** The point of a hazard that a leader from a side meets first, inside the window. */
const nearestSide = (feature: MapFeature, frame: HoleFrame, side: 'left' | 'right'): Mm => {
  const ring = ringOnPaper(feature, frame);
  const shown = ring.filter((p) => inWindow(p, frame.window));
  const points = shown.length > 0 ? shown : ring;
  const sign = side === 'left' ? -1 : 1;
  return points.reduce((best, p) => (sign * p[0] > sign * best[0] ? p : best), points[0]);
};

/** A greenside hazard is labelled on a par 3 only, and only when it must be carried. */
const isLabelled = (figures: HoleFigures, i: number): boolean => {
  const hazard = figures.hazards[i];
  if (!hazard.greenside) return true;
  if (figures.par !== 3) return hazard.crosses && hazard.kind === 'water';
  const middle = figures.tees[0]?.length ?? Infinity;
  const first = hazard.carries[0];
  return first !== null && first !== undefined && first.reach < middle - 4;
};

/** The labels of a hole: its tees, hazards, landing area, run-out, gaps and landmarks. */
export const wantedLabels = (figures: HoleFigures, tell: Telling): WantedLabel[] => {
  const tees = teeColumns(Math.max(1, figures.tees.length));
  const wanted: WantedLabel[] = [];
  figures.tees.forEach((tee, i) => {
    wanted.push({
      lines: teeLines(tee.name, tee.length, tell),
      anchor: (frame) => frame.onPaper(tee.at),
      priority: 10 - 0.01 * i,
      side: 'right',
    });
  });
  figures.hazards.forEach((hazard, i) => {
    if (!isLabelled(figures, i)) return;
    const lines = hazardLines(hazard, tees, tell);
    if (lines.length === 0) return;
    const side = hazard.off < 0 ? 'left' : 'right';
    wanted.push({
      lines,
      anchor: (frame, from) => nearestSide(hazard.feature, frame, from),
      priority: (hazard.crosses ? 9 : 7) - Math.abs(hazard.off) / 100,
      side: hazard.crosses ? null : side,
    });
  });
  const { landing, runOut } = figures;
  if (landing !== null) {
    wanted.push({
      lines: landingLines(figures, tees, tell),
      anchor: (frame, side) => {
        const end = landing.across?.[side === 'left' ? 0 : 1];
        return frame.onPaper(end ?? landing.at);
      },
      priority: 9.5,
      side: null,
    });
  }
  if (runOut !== null) {
    const lines = runOutLines(figures, tees, tell);
    if (lines.length > 0) {
      wanted.push({ lines, anchor: (frame) => frame.onPaper(runOut.at), priority: 6, side: null });
    }
  }
  for (const gap of figures.gaps) {
    wanted.push({
      lines: gapLines(gap, tell),
      anchor: (frame) => {
        const [a, b] = [frame.onPaper(gap.from), frame.onPaper(gap.to)];
        return [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
      },
      priority: 5,
      side: null,
    });
  }
  for (const landmark of figures.landmarks) {
    wanted.push({
      lines: landmarkLines(landmark, tell),
      anchor: (frame) => frame.onPaper(landmark.at),
      priority: 6.5 - Math.abs(landmark.off) / 100,
      side: landmark.off < 0 ? 'left' : 'right',
    });
  }
  return wanted;
};
