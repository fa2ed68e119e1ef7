import type { Polygon } from '../geometry.js';
import { insideRing } from '../geometry.js';
import { robustSpread } from '../surface/robust-spread.js';
import { H, JET_SIZE, type Surface } from '../surface/surface.js';

/** A survey's own points in the frame of the green, metres. */
export interface SurveyPoints {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly z: Float64Array;
}

/** A residual beyond this many standard deviations is a gross error, not ground. */
export const GROSS = 6;
/** The change of a region by the points that lie in it, and its standard error, metres. */
export interface PointChange {
  readonly change: number;
  readonly error: number;
}

interface Sample {
  readonly count: number;
  readonly mean: number;
  readonly variance: number;
}

/** Fewer points than this tell nothing of a piece of ground. */
export const LEAST_POINTS = 4;

const sampleOf = (
  points: SurveyPoints,
  polygon: Polygon,
  heightAt: (x: number, y: number) => number,
): Sample => {
  const all: number[] = [];
  for (let i = 0; i < points.x.length; i++) {
    const [x, y] = [points.x[i], points.y[i]];
    if (!insideRing(polygon[0], x, y) || polygon.slice(1).some((hole) => insideRing(hole, x, y)))
      continue;
    all.push(points.z[i] - heightAt(x, y));
  }
  if (all.length < LEAST_POINTS) return { count: all.length, mean: 0, variance: Infinity };
  const { middle, sd } = robustSpread(all);
  const residuals = all.filter((r) => Math.abs(r - middle) <= GROSS * sd);
  const count = residuals.length;
  const mean = residuals.reduce((sum, r) => sum + r, 0) / count;
  const square = residuals.reduce((sum, r) => sum + (r - mean) ** 2, 0);
  return { count, mean, variance: square / (count - 1) };
};

/**
 * Whether a region moved, asked of the points themselves: the mean of the newer survey's heights in it
 * less that of the older's, each over the mean of both surfaces, so that unlike places compare; the
 * error is Welch's for two means (Biometrika 34 (1947) 28-35). What the two fits smoothed unlike drops
 * out. Null where either survey has under four points in the region.
 */
export const changeByPoints = (
  polygon: Polygon,
  surfaces: { readonly older: Surface; readonly newer: Surface },
  points: { readonly older: SurveyPoints; readonly newer: SurveyPoints },
): PointChange | null => {
  const jet = new Float64Array(JET_SIZE);
  const heightAt = (x: number, y: number): number => {
    surfaces.older.at(x, y, jet);
    const before = jet[H];
    surfaces.newer.at(x, y, jet);
    return (before + jet[H]) / 2;
  };
  const older = sampleOf(points.older, polygon, heightAt);
  const newer = sampleOf(points.newer, polygon, heightAt);
  if (older.count < LEAST_POINTS || newer.count < LEAST_POINTS) return null;
  return {
    change: newer.mean - older.mean,
    error: Math.sqrt(older.variance / older.count + newer.variance / newer.count),
  };
};
