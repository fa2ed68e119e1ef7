import { tenTo } from '../power.js';
import { factorDense, logDeterminantDense, solveLowerDense } from './dense.js';

/**
 * The errors of a grid's cells are not independent where cells were interpolated or smoothed from fewer
 * points. What counts for heights and slopes wider than a cell is how much of the error is left when many
 * cells are averaged: its power, the variance times the area over which it is one and the same (m^4).
 * Over some windows the likelihood of ground (correlated over metres) and of error (over less) is made
 * greatest: restricted likelihood, Patterson & Thompson, Biometrika 58 (1971) 545-554; covariances in
 * Gaussian form, as in Chiles & Delfiner, Geostatistics (2012).
 */
export interface GridNoise {
  /** Variance of a cell's error times the area over which it is shared, m^4. */
  readonly power: number;
  /** Standard deviation of one cell's error, metres. */
  readonly sigma: number;
  /** Length over which neighbours share it, metres; 0 where each cell has its own. */
  readonly length: number;
}

/** Cells a side of a window, and their least spacing, metres. */
const SIDE = 11;
const LEAST_SPACING = 0.45;
const WINDOWS = 5;
const GROUND_LENGTHS = [3, 5, 8, 13];
const ERROR_LENGTHS = [0, 0.35, 0.55, 0.65, 0.8];
/** Of the variance of the correlated error that each cell has to itself besides. */
const OWN_SHARE = 0.04;
/** Logarithms (base 10) of the error's variance over the ground's. */
const RATIOS = [-6, -5, -4, -3.25, -2.5, -1.75, -1, -0.25];

/** Of the log likelihood of all windows: longer errors are not tried where one is so much less likely than a shorter. */
const HOPELESS = 5;

/** Cells of a window: place in it, columns and rows from its corner, and metres; height. */
interface Window {
  readonly i: number[];
  readonly j: number[];
  readonly x: number[];
  readonly y: number[];
  readonly z: number[];
}

/** A covariance in Gaussian form by columns and rows apart, up to a window's side. */
const gaussian = (spacing: number, length: number): Float64Array =>
  Float64Array.from({ length: SIDE * SIDE }, (_, k) => {
    const [i, j] = [k % SIDE, Math.floor(k / SIDE)];
    return Math.exp(-(spacing ** 2 * (i * i + j * j)) / length ** 2);
  });

/** Windows of cells about places spread over the grid, each of every `stride`-th cell. */
const windowsOf = (
  x: Float64Array,
  y: Float64Array,
  z: Float64Array,
  spacing: number,
  turn: number,
): Window[] => {
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  const u = x.map((px, k) => Math.round((c * px + s * y[k]) / spacing));
  const v = x.map((px, k) => Math.round((-s * px + c * y[k]) / spacing));
  const held = new Map<number, number>();
  const key = (i: number, j: number) => (i + 50_000) * 100_003 + (j + 50_000);
  for (let k = 0; k < u.length; k++) held.set(key(u[k], v[k]), k);
  const wanted = 0.8 * SIDE * SIDE;
  const found: { window: Window; i: number; j: number }[] = [];
  const order = Array.from(u.keys());
  // Places spread over the grid: every 37th cell, kept where its window is full and apart from the others.
  for (let n = 0; n < order.length && found.length < WINDOWS; n++) {
    const k = (n * 37) % order.length;
    const [i0, j0] = [u[k], v[k]];
    if (found.some(({ i, j }) => Math.max(Math.abs(i - i0), Math.abs(j - j0)) < 0.7 * SIDE))
      continue;
    const window: Window = { i: [], j: [], x: [], y: [], z: [] };
    for (let i = 0; i < SIDE; i++) {
      for (let j = 0; j < SIDE; j++) {
        const at = held.get(key(i0 + i - (SIDE >> 1), j0 + j - (SIDE >> 1)));
        if (at === undefined) continue;
        window.i.push(i);
        window.j.push(j);
        window.x.push(spacing * i);
        window.y.push(spacing * j);
        window.z.push(z[at]);
      }
    }
    if (window.z.length >= wanted) found.push({ window, i: i0, j: j0 });
  }
  return found.map(({ window }) => window);
};

/** The restricted log likelihood at its best scale, and the ground's variance there. */
const likelihood = (
  { i: columnsOf, j: rowsOf, x, y, z }: Window,
  ground: Float64Array,
  error: Float64Array | null,
  ratio: number,
): { readonly value: number; readonly scale: number } => {
  const n = z.length;
  const a = new Float64Array(n * n);
  const own = error === null ? ratio : OWN_SHARE * ratio;
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      const apart = Math.abs(columnsOf[i] - columnsOf[j]) + SIDE * Math.abs(rowsOf[i] - rowsOf[j]);
      a[i * n + j] =
        ground[apart] + (error === null ? 0 : ratio * error[apart]) + (i === j ? own + 1e-7 : 0);
    }
  }
  if (!factorDense(a, n)) return { value: -Infinity, scale: 0 };
  const columns = [
    Float64Array.from(z),
    new Float64Array(n).fill(1),
    Float64Array.from(x),
    Float64Array.from(y),
  ];
  for (const column of columns) solveLowerDense(a, n, column);
  const cross = new Float64Array(9);
  const side = new Float64Array(3);
  const dot = (p: Float64Array, q: Float64Array): number =>
    p.reduce((sum, v, k) => sum + v * q[k], 0);
  for (let i = 0; i < 3; i++) {
    for (let j = 0; j < 3; j++) cross[3 * i + j] = dot(columns[i + 1], columns[j + 1]);
    side[i] = dot(columns[i + 1], columns[0]);
  }
  factorDense(cross, 3);
  solveLowerDense(cross, 3, side);
  const square = dot(columns[0], columns[0]) - dot(side, side);
  const scale = square / (n - 3);
  return {
    value:
      -0.5 *
      ((n - 3) * Math.log(scale) + logDeterminantDense(a, n) + logDeterminantDense(cross, 3)),
    scale,
  };
};

/** What a window says of each length of error: its likelihood at its best, and the noise there. */
interface Said {
  readonly value: number;
  readonly noise: GridNoise;
}

const noiseBy = (window: Window, spacing: number, length: number): Said => {
  let best: Said = { value: -Infinity, noise: { power: 0, sigma: 0, length } };
  const area = length === 0 ? spacing ** 2 : Math.PI * length ** 2 + OWN_SHARE * spacing ** 2;
  const error = length === 0 ? null : gaussian(spacing, length);
  for (const groundLength of GROUND_LENGTHS) {
    const ground = gaussian(spacing, groundLength);
    for (const exponent of RATIOS) {
      const ratio = tenTo(exponent);
      const { value, scale } = likelihood(window, ground, error, ratio);
      if (value <= best.value) continue;
      const variance = ratio * scale;
      best = { value, noise: { power: variance * area, sigma: Math.sqrt(variance), length } };
    }
  }
  return best;
};

/** The noise in the middle of what the windows say, each of this length. */
const middleOf = (said: readonly Said[]): GridNoise =>
  said.map(({ noise }) => noise).sort((a, b) => a.power - b.power)[said.length >> 1];

/** Null where the grid holds no window of cells. `turn`: of the grid's rows against +x, radians. */
export const gridNoise = (
  x: Float64Array,
  y: Float64Array,
  z: Float64Array,
  cell: number,
  turn: number,
): GridNoise | null => {
  const spacing = cell * Math.max(1, Math.ceil(LEAST_SPACING / cell - 1e-9));
  const windows = windowsOf(x, y, z, spacing, turn);
  if (windows.length === 0) return null;
  const tried: { value: number; said: readonly Said[] }[] = [];
  let best = -Infinity;
  for (const length of ERROR_LENGTHS) {
    if (length !== 0 && length < 0.6 * spacing) continue;
    const said = windows.map((window) => noiseBy(window, spacing, length));
    const value = said.reduce((sum, one) => sum + one.value, 0);
    if (value < best - HOPELESS) break;
    best = Math.max(best, value);
    tried.push({ value, said });
  }
  const { said } = tried.reduce((most, next) => (next.value > most.value ? next : most));
  if (said[0].noise.length > 0) return middleOf(said);
  // No error that neighbours share all over the grid: some part of it may still have one.
  return middleOf(
    windows.map((_, w) =>
      tried
        .map((one) => one.said[w])
        .reduce((most, next) => (next.value > most.value ? next : most)),
    ),
  );
};
