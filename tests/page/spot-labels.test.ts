import { expect, test } from 'vitest';
import type { Ring } from '../../src/geometry.js';
import { placeSpots } from '../../src/page/green/green-spots.js';
import { fitGround, onPaper } from '../../src/page/green/ground-frame.js';
import { pacesGrid } from '../../src/page/green/paces-grid.js';
import { boxesOverlap } from '../../src/page/labels/box-meeting.js';
import type { MeasureText } from '../../src/page/marks/marks.js';
import { pacesToMetres, pointsToMm } from '../../src/units.js';

/** Widths as in the fonts used, near enough. */
const measure: MeasureText = (text, _face, size) => text.length * pointsToMm(size) * 0.52;

/** A round green 26 paces deep. */
const RADIUS = pacesToMetres(13);
const outline = Array.from({ length: 72 }, (_, i) => {
  const angle = (i / 72) * 2 * Math.PI;
  return [RADIUS * Math.cos(angle), RADIUS + RADIUS * Math.sin(angle)];
}) as unknown as Ring;

test.each([
  ['at the right edge', 0],
  ['at the left edge', 180],
  ['at the front', -90],
  ['at the front, to the left', -120],
])('a label %s keeps off the counts of paces round the green', (_name, degrees) => {
  const bounds = { x: 6, y: 12, width: 96, height: 110 };
  const frame = fitGround(bounds, { minX: -16, minY: -4, maxX: 16, maxY: 28 }, 480);
  const angle = (degrees * Math.PI) / 180;
  const at = onPaper(frame, RADIUS * Math.cos(angle), RADIUS + RADIUS * Math.sin(angle));
  // The edge itself stands beside a count: 13 paces on is between two of them, 15 is one.
  const fifteen = onPaper(frame, RADIUS * Math.cos(angle), pacesToMetres(15));
  const style = { letterSize: 9.5, figureSize: 6.5, signs: [] };
  for (const spot of [at, degrees === 0 || degrees === 180 ? fifteen : at]) {
    const spots = [{ at: spot, symbol: [], label: '15', bold: false }];
    const { labels } = placeSpots(spots, { frame, outline, bounds }, style, measure);
    const { figureCells } = pacesGrid(frame, outline, style.figureSize);
    expect(figureCells.length).toBeGreaterThan(10);
    expect(figureCells.filter((cell) => boxesOverlap(cell, labels[0]))).toEqual([]);
  }
});
