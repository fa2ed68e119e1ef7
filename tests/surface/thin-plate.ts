import { trueGreen } from '../../course-data/vellamoor/truth.js';
import { boxOf, growBox, insideRing, type Point } from '../../src/geometry.js';
import { bendingMatrix } from '../../src/surface/bending.js';
import { knotGrid } from '../../src/surface/knot-grid.js';
import { observe } from '../../src/surface/observations.js';
import { addPlane, planeThrough } from '../../src/surface/plane.js';
import { problemOf, solveAt } from '../../src/surface/smoothing.js';
import { completeCoefficients, splineSurface } from '../../src/surface/spline-surface.js';
import type { Surface } from '../../src/surface/surface.js';
import { type Points, surveyOf } from './demo-ground.js';

/** A demo green, a survey of it and places on it, for the comparison with SciPy's thin-plate spline. */
export const GREEN = '6';
export const SMOOTHING = 0.5;
export const survey: Points = surveyOf(trueGreen(GREEN).at, trueGreen(GREEN).outline, 77);
export const places: Point[] = (() => {
  const { outline } = trueGreen(GREEN);
  const box = boxOf(outline);
  const found: Point[] = [];
  for (let x = box.minX + 0.3; x < box.maxX; x += 1.37) {
    for (let y = box.minY + 0.3; y < box.maxY; y += 1.37) {
      if (insideRing(outline, x, y)) found.push([x, y]);
    }
  }
  return found;
})();

/** The spline with an even stiffness, at a fixed smoothing: what a thin-plate spline is on the whole plane. */
export const evenFit = ({ x, y, z, outline }: Points, smoothing: number, step: number): Surface => {
  const collar = 2;
  const box = growBox(boxOf(outline), collar);
  const grid = knotGrid(outline, collar, box, step);
  const plane = planeThrough(x, y, z);
  const flat = z.map((h, k) => h - (plane[0] + plane[1] * x[k] + plane[2] * y[k]));
  const obs = observe(grid, x, y, flat);
  const problem = problemOf(grid, obs, new Float64Array(obs.count).fill(1));
  const fit = solveAt(problem, bendingMatrix(grid, null), smoothing);
  const coefficients = completeCoefficients(grid, fit.coefficients);
  addPlane(grid, coefficients, plane);
  return splineSurface(grid, coefficients, { outline, collar, box }, null);
};

export interface ThinPlateRecord {
  readonly command: string;
  readonly version: string;
  readonly smoothing: number;
  /** Height and gradient at each of the places. */
  readonly values: readonly (readonly [number, number, number])[];
}
