import type { Point } from '../geometry.js';
import type { Fan } from './fan.js';
import { FIELDS, SAMPLE } from './fan.js';
import type { Launch } from './shoot.js';

/** Cubic Hermite weights and their derivatives on [0, 1], for ends of values and of slopes. */
const weights = new Float64Array(16);

const hermite = (t: number, at: number): void => {
  const u = 1 - t;
  weights[at] = u * u * (1 + 2 * t);
  weights[at + 1] = t * u * u;
  weights[at + 2] = t * t * (3 - 2 * t);
  weights[at + 3] = -t * t * u;
  weights[at + 4] = -6 * t * u;
  weights[at + 5] = u * (1 - 3 * t);
  weights[at + 6] = 6 * t * u;
  weights[at + 7] = t * (3 * t - 2);
};

/**
 * Corner values of one quantity, in the order of the tensor product: for both moments (value, slope in
 * time) by both rays (value, slope in direction).
 */
const corners = new Float64Array(16);

/** `value` and `slope` are places in a sample; `slope` is the derivative of `value` by time. */
const loadCorners = (fan: Fan, patch: number, value: number, slope: number, turn: number): void => {
  const i = fan.patches.ray[patch];
  const j = fan.patches.sample[patch] * FIELDS;
  for (let side = 0; side < 2; side++) {
    const data = fan.rays[i + side].samples;
    for (let end = 0; end < 2; end++) {
      const at = j + end * FIELDS;
      const to = 8 * end + 2 * side;
      corners[to] = data[at + value];
      corners[to + 1] = turn * data[at + value + 4];
      // Samples run backward in time.
      corners[to + 4] = -SAMPLE * data[at + slope];
      corners[to + 5] = -SAMPLE * turn * data[at + slope + (slope < 4 ? 4 : 2)];
    }
  }
};

/** Sum of corners by the weights in time (from `t`) and direction (from `r`). */
const blend = (t: number, r: number): number => {
  let sum = 0;
  for (let a = 0; a < 4; a++) {
    const c = 4 * a;
    sum +=
      weights[t + a] *
      (weights[r] * corners[c] +
        weights[r + 1] * corners[c + 1] +
        weights[r + 2] * corners[c + 2] +
        weights[r + 3] * corners[c + 3]);
  }
  return sum;
};

const xs = new Float64Array(16);
const ys = new Float64Array(16);

const EDGE = 1e-7;

/**
 * The launch from (x, y) by the motions of one patch: Newton on its two parameters from a start inside.
 * Null when the place is not in the patch. Velocity is that at (x, y), forward in time.
 */
const launchFrom = (
  fan: Fan,
  patch: number,
  turn: number,
  [x, y]: Point,
  [r0, t0]: readonly [direction: number, time: number],
): Launch | null => {
  let r = r0;
  let t = t0;
  let done = false;
  for (let round = 0; round < 12 && !done; round++) {
    hermite(t, 0);
    hermite(r, 8);
    corners.set(xs);
    const fx = blend(0, 8) - x;
    const xt = blend(4, 8);
    const xr = blend(0, 12);
    corners.set(ys);
    const fy = blend(0, 8) - y;
    const yt = blend(4, 8);
    const yr = blend(0, 12);
    const det = xr * yt - xt * yr;
    if (det === 0) return null;
    const dr = (fx * yt - fy * xt) / det;
    const dt = (fy * xr - fx * yr) / det;
    r -= Math.max(-0.6, Math.min(0.6, dr));
    t -= Math.max(-0.6, Math.min(0.6, dt));
    if (!(r > -0.7 && r < 1.7 && t > -0.7 && t < 1.7)) return null;
    done = Math.abs(dr) + Math.abs(dt) < 1e-7;
  }
  if (!done || r < -EDGE || r > 1 + EDGE || t < -EDGE || t > 1 + EDGE) return null;
  hermite(t, 0);
  hermite(r, 8);
  loadCorners(fan, patch, 2, 8, turn);
  const vx = blend(0, 8);
  loadCorners(fan, patch, 3, 9, turn);
  const vy = blend(0, 8);
  const from = fan.rays[fan.patches.ray[patch]].arrival;
  return { vx, vy, arrival: from + r * turn, time: (fan.patches.sample[patch] + t) * SAMPLE };
};

/** Where Newton starts in a patch: its middle; then its quarters, for patches that fold. */
const STARTS = [0.5, 0.5, 0.15, 0.15, 0.85, 0.15, 0.15, 0.85, 0.85, 0.85];

/** All launches from (x, y) by the motions of one patch: none, one, or two where it folds over itself. */
export const launchesInPatch = (fan: Fan, patch: number, x: number, y: number): Launch[] => {
  const { boxes, ray } = fan.patches;
  const b = 4 * patch;
  if (x < boxes[b] || y < boxes[b + 1] || x > boxes[b + 2] || y > boxes[b + 3]) return [];
  const i = ray[patch];
  const turn = fan.rays[i + 1].arrival - fan.rays[i].arrival;
  loadCorners(fan, patch, 0, 2, turn);
  xs.set(corners);
  loadCorners(fan, patch, 1, 3, turn);
  ys.set(corners);
  const found: Launch[] = [];
  const starts = mayFold(fan, patch) ? STARTS.length : 2;
  for (let k = 0; k < starts; k += 2) {
    const launch = launchFrom(fan, patch, turn, [x, y], [STARTS[k], STARTS[k + 1]]);
    if (launch !== null && !found.some((other) => isSame(other, launch))) found.push(launch);
  }
  return found;
};

export const isSame = (a: Launch, b: Launch): boolean =>
  Math.abs(a.time - b.time) < 1e-3 && Math.hypot(a.vx - b.vx, a.vy - b.vy) < 1e-3;

/** Whether the map from (direction, time) to place changes its handedness between the corners. */
const mayFold = (fan: Fan, patch: number): boolean => {
  const i = fan.patches.ray[patch];
  const j = fan.patches.sample[patch] * FIELDS;
  let left = 0;
  for (let side = 0; side < 2; side++) {
    const data = fan.rays[i + side].samples;
    for (let end = 0; end < 2; end++) {
      const at = j + end * FIELDS;
      const cross = data[at + 4] * data[at + 3] - data[at + 5] * data[at + 2];
      if (cross > 0) left += 1;
    }
  }
  return left !== 0 && left !== 4;
};

/** All launches of the fan from one place, in the order of their arrival directions. */
export const launchesFrom = (fan: Fan, x: number, y: number): Launch[] => {
  const { boxes, count } = fan.patches;
  const found: Launch[] = [];
  for (let k = 0; k < count; k++) {
    const b = 4 * k;
    if (x < boxes[b] || x > boxes[b + 2] || y < boxes[b + 1] || y > boxes[b + 3]) continue;
    for (const launch of launchesInPatch(fan, k, x, y)) {
      if (!found.some((other) => isSame(other, launch))) found.push(launch);
    }
  }
  return found;
};
