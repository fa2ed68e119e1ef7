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
