import type { Survey } from '../survey/survey.js';
import { type GridNoise, gridNoise } from './grid-noise.js';

/** How the error of one point (or cell) is known, metres. */
export interface PointError {
  /** The error by which the smoothing is chosen, where the points themselves do not show it; else null. */
  readonly known: number | null;
  /** The error of a point is never taken for less. */
  readonly least: number;
  /** By how much two swaths may differ where the survey does not tell them apart; 0 where there are none. */
  readonly swathStep: number;
  /** What a grid's cells show of their error; null for all other surveys. */
  readonly cells: GridNoise | null;
  /** Cells that were interpolated or smoothed from fewer points. */
  readonly smoothed: boolean;
  /** Nothing but the table of kinds of survey tells the error. */
  readonly assumed: boolean;
}

/**
 * What a survey from the air is taken for where it does not state its error: the best class, so that it is
 * never called worse than it can be. US Geological Survey, Lidar Base Specification, table of quality
 * levels: QL0 has RMSEz 5 cm on open ground, and swaths that differ by 4 cm (figures quoted from memory).
 */
const AERIAL_SIGMA = 0.05;
const SWATHS_APART = 0.04;
/** The same: aggregate density of QL2, two points a square metre (from memory): ground a point has to itself. */
const AREA_A_POINT = 0.5;
/**
 * Tails of the correlation that a Gaussian leaves out, set on grids made of triangles of known points; a cell wider
 * than the ground that a point has to itself holds them within.
 */
const TAILS = 2;
/**
 * A grid that shows less than this share of the error that its points have was smoothed. A place in a triangle of three
 * points has 0.71 of their error (the squares of its shares of them are 1/2 on the mean), a wide cell what the mean of its
 * points has; less is asked, the more so of an error that is only taken from the table.
 */
const SMOOTHED = 0.55;
const SMOOTHED_UNSTATED = 0.45;

/** Cells with less error of their own than this are smooth, metres. */
const ROUNDED = 5e-4;
/** Smoothing also takes part of the ground's bends off: by so much a smoothed grid's error is doubted more. */
const SMOOTHED_AWAY = 1.3;

/** Direction of a grid's rows against +x, from its first two cells, radians. */
const turnOf = (x: Float64Array, y: Float64Array, cell: number): number => {
  for (let k = 1; k < x.length; k++) {
    const [dx, dy] = [x[k] - x[k - 1], y[k] - y[k - 1]];
    if (Math.abs(Math.hypot(dx, dy) - cell) < 0.02 * cell) return Math.atan2(dy, dx);
  }
  return 0;
};

type Told = Pick<Survey, 'x' | 'y'> & {
  readonly kind?: Survey['kind'];
  readonly cellSize?: number | null;
  readonly statedSigma?: number | null;
};

/** @param flat heights over a plane. */
export const pointError = (
  { x, y, kind, cellSize, statedSigma }: Told,
  flat: Float64Array,
): PointError => {
  const stated = statedSigma ?? null;
  const aerial = kind === 'grid' || kind === 'cloud';
  const swathStep = !aerial ? 0 : Math.min(SWATHS_APART, stated ?? Infinity);
  const cell = cellSize ?? 0;
  const cells =
    kind === 'grid' && cell > 0 ? gridNoise(x, y, flat, cell, turnOf(x, y, cell)) : null;
  if (kind !== 'grid' || cell <= 0) {
    return {
      known: null,
      least: stated ?? 0,
      swathStep,
      cells,
      smoothed: false,
      assumed: false,
    };
  }
  const expected = stated ?? AERIAL_SIGMA;
  const isFine = cell ** 2 < AREA_A_POINT;
  const shown = cells === null ? 0 : cells.power * (cells.length > 0 && isFine ? TAILS : 1);
  const ofCell = expected * Math.sqrt(Math.min(1, AREA_A_POINT / cell ** 2));
  const share = stated === null ? SMOOTHED_UNSTATED : SMOOTHED;
  const smoothed =
    cells === null ||
    cells.sigma < (cells.length > 0 ? share * ofCell : Math.min(expected, ROUNDED));
  const beneath = expected ** 2 * Math.max(cell ** 2, AREA_A_POINT);
  const power = smoothed ? Math.max(shown, beneath) : shown;
  const known = Math.sqrt(power) / cell;
  return {
    // Cells whose errors are their own show them: the fit learns them as it does a rover's.
    known: smoothed || (cells?.length ?? 0) > 0 ? known : null,
    least: smoothed ? SMOOTHED_AWAY * known : known,
    swathStep,
    cells,
    smoothed,
    assumed: smoothed && stated === null,
  };
};
