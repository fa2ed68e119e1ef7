import { robustSpread } from '../surface/robust-spread.js';
import { H, JET_SIZE, type Surface } from '../surface/surface.js';
import { type GroundGrid, nodeX, nodeY } from '../terrain/ground-grid.js';
import { GROSS, type SurveyPoints } from './confirm-movement.js';

/** What a fit left over of its points, averaged about each node of a grid, metres. */
export interface LeftOver {
  readonly mean: Float64Array;
  /** Standard error of that mean. */
  readonly error: Float64Array;
}

/** Standard deviation of the Gaussian weights about a node, and how far they are followed, metres. */
const SPREAD = 1.2;
const REACH = 3 * SPREAD;
/** Fewer points than these, by their weights, say nothing. */
const LEAST_POINTS = 4;

/** Points filed by squares of `REACH`, so that a node looks at its neighbours only. */
const fileBySquare = (points: SurveyPoints): Map<string, number[]> => {
  const squares = new Map<string, number[]>();
  for (let i = 0; i < points.x.length; i++) {
    const key = `${Math.floor(points.x[i] / REACH)} ${Math.floor(points.y[i] / REACH)}`;
    const filed = squares.get(key);
    if (filed === undefined) squares.set(key, [i]);
    else filed.push(i);
  }
  return squares;
};

/**
 * Averages of the residuals about each node on the green. A smooth fit flattens a bump that is smaller
 * than its stiffness likes; the average of what it left over gives that back (Tukey's twicing,
 * Exploratory Data Analysis (1977), chapter 16), at a known error.
 */
export const leftOver = (grid: GroundGrid, surface: Surface, points: SurveyPoints): LeftOver => {
  const jet = new Float64Array(JET_SIZE);
  const raw = points.z.map((z, i) => {
    surface.at(points.x[i], points.y[i], jet);
    return z - jet[H];
  });
  // Clipped, not left out: a patch of points that the fit took for errors may be ground that moved.
  const most = GROSS * robustSpread(Array.from(raw)).sd;
  const residual = raw.map((r) => Math.min(most, Math.max(-most, r)));
  const squares = fileBySquare(points);
  const mean = new Float64Array(grid.height.length);
  const error = new Float64Array(grid.height.length);
  for (let n = 0; n < mean.length; n++) {
    if (grid.inside[n] === 0) continue;
    const [x, y] = [nodeX(grid, n), nodeY(grid, n)];
    const [column, row] = [Math.floor(x / REACH), Math.floor(y / REACH)];
    let weight = 0;
    let weight2 = 0;
    let sum = 0;
    let square = 0;
    for (let r = row - 1; r <= row + 1; r++) {
      for (let c = column - 1; c <= column + 1; c++) {
        for (const i of squares.get(`${c} ${r}`) ?? []) {
          const d2 = (points.x[i] - x) ** 2 + (points.y[i] - y) ** 2;
          if (d2 > REACH * REACH) continue;
          const w = Math.exp(-d2 / (2 * SPREAD * SPREAD));
          weight += w;
          weight2 += w * w;
          sum += w * residual[i];
          square += w * residual[i] * residual[i];
        }
      }
    }
    const count = weight2 > 0 ? (weight * weight) / weight2 : 0;
    if (count < LEAST_POINTS) continue;
    mean[n] = sum / weight;
    error[n] = Math.sqrt(square / weight / count);
  }
  return { mean, error };
};
