import type { GroundGrid } from '../ground-grid.js';
import type { SlopeBand } from '../reading.js';
import type { LevelField } from './isolines.js';
import { traceIsolines } from './isolines.js';
import type { Piece } from './region.js';
import { areaCutOff, assembleRegion, clipToOutline, reversePiece } from './region.js';

/** The square of the grade with its gradient (2 H grad h): smooth where the grade itself has a kink. */
export const squaredGrade = (grid: GroundGrid): LevelField => {
  const { originX, originY, step, columns, rows, hx, hy, hxx, hxy, hyy } = grid;
  const value = new Float64Array(hx.length);
  const dx = new Float64Array(hx.length);
  const dy = new Float64Array(hx.length);
  for (let n = 0; n < hx.length; n++) {
    value[n] = hx[n] * hx[n] + hy[n] * hy[n];
    dx[n] = 2 * (hx[n] * hxx[n] + hy[n] * hxy[n]);
    dy[n] = 2 * (hx[n] * hxy[n] + hy[n] * hyy[n]);
  }
  return { originX, originY, step, columns, rows, value, dx, dy };
};

/**
 * Ground whose grade lies between neighbouring thresholds, as polygons cut at the outline. Neighbouring
 * bands share their border line, so together they cover the green once.
 * @param thresholds grades, rising. @param minIsland islands smaller than this are left to the band round them, m2.
 */
export const slopeBands = (
  grid: GroundGrid,
  field: LevelField,
  thresholds: readonly number[],
  minIsland: number,
  area: number,
): SlopeBand[] => {
  const borders: Piece[][] = thresholds.map((grade) =>
    clipToOutline(grid.outline, traceIsolines(field, grade * grade)).filter(
      (piece) => areaCutOff(grid.outline, piece, area) >= minIsland,
    ),
  );
  const edgeGrade = gradeOfWhole(grid);
  const from = [0, ...thresholds];
  const to = [...thresholds, Infinity];
  return from.map((low, k) => ({
    from: low,
    to: to[k],
    polygons: assembleRegion(
      grid.outline,
      [
        ...(k > 0 ? borders[k - 1] : []),
        ...(k < thresholds.length ? borders[k].map(reversePiece) : []),
      ],
      edgeGrade >= low && edgeGrade < to[k],
    ),
  }));
};

/** Median grade along the outline: the band of a green whose edge no border meets. */
const gradeOfWhole = (grid: GroundGrid): number => {
  const jet = new Float64Array(10);
  const grades = grid.outline.ring.map(([x, y]) => {
    grid.surface.at(x, y, jet);
    return Math.hypot(jet[1], jet[2]);
  });
  grades.sort((a, b) => a - b);
  return grades[grades.length >> 1];
};
