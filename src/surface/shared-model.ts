import type { Ring } from '../geometry.js';
import type { Scatter } from './scatter.js';
import type { SharedErrors } from './shared-errors.js';
import { type SharedFinding, STEP_PRIOR } from './shared-search.js';
import { driftPrecision, momentsOf } from './walk-drift.js';
import type { SharedStep } from './walk-steps.js';

/** Levels of sessions that a survey tells apart differ by about this, metres: a pole, a fix, a benchmark. */
const SESSION_SD = 0.03;

/** The shared errors that were found, as unknowns beside the ground; null when there are none. */
export const sharedModel = (
  { x, y }: Scatter,
  walk: { readonly time: Float64Array | null; readonly points: number },
  session: Int32Array | null,
  { drift, steps }: SharedFinding,
): SharedErrors | null => {
  const moments = drift === null ? null : momentsOf(walk.time, walk.points);
  const drifts = moments?.count ?? 0;
  const sessions = session === null ? 0 : session.reduce((most, s) => Math.max(most, s + 1), 0);
  const levels = sessions > 1 ? sessions : 0;
  const count = drifts + steps.length + levels;
  if (count === 0) return null;
  const width = (moments === null ? 0 : 2) + steps.length + (levels > 0 ? 1 : 0);
  const columns = new Int32Array(width * x.length).fill(-1);
  const shares = new Float64Array(width * x.length);
  for (let p = 0; p < x.length; p++) {
    let at = width * p;
    if (moments !== null) {
      for (let k = 0; k < 2; k++, at++) {
        columns[at] = p < walk.points ? moments.columns[2 * p + k] : -1;
        shares[at] = p < walk.points ? moments.shares[2 * p + k] : 0;
      }
    }
    steps.forEach(({ after, line }, s) => {
      const over =
        line === null
          ? p >= (after ?? 0) && p < walk.points
          : x[p] * Math.cos(line.angle) + y[p] * Math.sin(line.angle) > line.offset;
      columns[at] = drifts + s;
      shares[at++] = over ? 0.5 : -0.5;
    });
    if (levels > 0 && session !== null && p < session.length && session[p] >= 0) {
      columns[at] = drifts + steps.length + session[p];
      shares[at] = 1;
    }
  }
  const precision = new Float64Array(count * count);
  if (moments !== null && drift !== null) {
    const own = driftPrecision(moments.times, drift.lasts);
    for (let i = 0; i < drifts; i++) {
      for (let j = 0; j < drifts; j++)
        precision[i * count + j] = own[i * drifts + j] / drift.sd ** 2;
    }
  }
  for (let c = drifts; c < count; c++) {
    precision[c * count + c] = 1 / (c < drifts + steps.length ? STEP_PRIOR : SESSION_SD) ** 2;
  }
  return { count, width, columns, shares, precision };
};

/**
 * Straight lines across the green along which one swath may end and another begin, wherever it lies. Many
 * possible steps, each unlikely, are a field whose variogram grows with distance (Chentsov 1957).
 */
const SWATH_TURNS = 8;
const SWATH_SHIFT = 2.5;
/**
 * Boundaries of swaths that are expected on a green. It was one and a half; of surveys from the air the grade lay then in
 * its interval all over most greens, and the interval was half as wide again as the error (seed 133000).
 */
const BOUNDARIES = 1;

const swathLines = (outline: Ring): { angle: number; offset: number }[] => {
  const lines: { angle: number; offset: number }[] = [];
  for (let turn = 0; turn < SWATH_TURNS; turn++) {
    const angle = (Math.PI * (turn + 0.5)) / SWATH_TURNS;
    const [c, s] = [Math.cos(angle), Math.sin(angle)];
    const along = outline.map(([x, y]) => c * x + s * y);
    const [low, high] = [Math.min(...along), Math.max(...along)];
    const parts = Math.max(1, Math.round((high - low) / SWATH_SHIFT));
    for (let k = 0; k < parts; k++) {
      lines.push({ angle, offset: low + ((k + 0.5) * (high - low)) / parts });
    }
  }
  return lines;
};

/**
 * The steps between swaths that may be there and were not found: they count in the doubt, but nothing is
 * taken off the heights for them.
 */
export const possibleSwaths = ({ x, y, outline }: Scatter, step: number): SharedErrors => {
  const lines = swathLines(outline);
  const count = lines.length;
  const columns = new Int32Array(count * x.length);
  const shares = new Float64Array(count * x.length);
  for (let p = 0; p < x.length; p++) {
    lines.forEach(({ angle, offset }, k) => {
      columns[count * p + k] = k;
      shares[count * p + k] = x[p] * Math.cos(angle) + y[p] * Math.sin(angle) > offset ? 0.5 : -0.5;
    });
  }
  const precision = new Float64Array(count * count);
  for (let k = 0; k < count; k++) precision[k * count + k] = count / (BOUNDARIES * step ** 2);
  return { count, width: count, columns, shares, precision };
};

/** A step of the walk that was not excluded, counted like a swath's. */
export const possibleStep = (
  { x }: Scatter,
  points: number,
  { height, after }: SharedStep,
): SharedErrors => ({
  count: 1,
  width: 1,
  columns: Int32Array.from(x, (_, p) => (p < points ? 0 : -1)),
  shares: x.map((_, p) => (p >= (after ?? 0) ? 0.5 : -0.5)),
  precision: Float64Array.of(1 / height ** 2),
});
