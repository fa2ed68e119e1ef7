import { boxOf, insideRing, type Point, signedDistanceToRing } from '../geometry.js';
import { seedOf } from '../surface/seeded-normals.js';
import { H, JET_SIZE, type Surface } from '../surface/surface.js';
import type { SharedStep } from '../surface/walk-steps.js';
import type { GroundGrid } from '../terrain/ground-grid.js';
import { GROSS, LEAST_POINTS, medianOf } from './confirm-movement.js';
import { errorDraws, type MeasuredPoints, type PointErrors, walkOrder } from './point-errors.js';

/** A round piece of ground whose mean height changed, metres. */
export interface MovedDisc {
  readonly middle: Point;
  readonly radius: number;
  /** Newer less older over what all of the green changed by, and its standard deviation on ground that did not move. */
  readonly change: number;
  readonly sd: number;
}

export interface ScannedSurvey {
  readonly surface: Surface;
  readonly points: MeasuredPoints;
  readonly errors: PointErrors;
}

/** Radii that are tried, metres, the largest last, and the distance between middles. */
const RADII = [1, 1.5, 2.25, 3.25, 4.75];
const MIDDLES_APART = 0.75;
/** Draws of both surveys' errors, by which a disc's own spread and the greatest of all discs are known. */
const DRAWS = 400;

interface Disc {
  readonly middle: Point;
  readonly radius: number;
  readonly older: Int32Array;
  readonly newer: Int32Array;
}

/** Points further past the outline than this do not count, metres. */
const PAST_OUTLINE = 1;

/** The points in the discs of all radii about a middle. */
const within = ({ x, y }: MeasuredPoints, [cx, cy]: Point): Int32Array[] => {
  const squared = (i: number): number => (x[i] - cx) ** 2 + (y[i] - cy) ** 2;
  const widest = RADII[RADII.length - 1];
  const near: number[] = [];
  for (let i = 0; i < x.length; i++) if (squared(i) <= widest * widest) near.push(i);
  return RADII.map((radius) => Int32Array.from(near.filter((i) => squared(i) <= radius * radius)));
};

const discsOn = ({ outline }: GroundGrid, older: MeasuredPoints, newer: MeasuredPoints): Disc[] => {
  const ring = outline.ring;
  const box = boxOf(ring);
  const discs: Disc[] = [];
  for (let y = box.minY + MIDDLES_APART / 2; y < box.maxY; y += MIDDLES_APART) {
    for (let x = box.minX + MIDDLES_APART / 2; x < box.maxX; x += MIDDLES_APART) {
      if (!insideRing(ring, x, y)) continue;
      const middle: Point = [x, y];
      const [before, since] = [within(older, middle), within(newer, middle)];
      RADII.forEach((radius, k) => {
        if (Math.min(before[k].length, since[k].length) < LEAST_POINTS) return;
        discs.push({ middle, radius, older: before[k], newer: since[k] });
      });
    }
  }
  return discs;
};

const meanOf = (values: Float64Array, at: Int32Array): number => {
  let sum = 0;
  for (let k = 0; k < at.length; k++) sum += values[at[k]];
  return sum / at.length;
};

/** The points on the green and just round it; a step of the walk begins at the same point of them. */
const nearGreen = ({ outline }: GroundGrid, survey: ScannedSurvey): ScannedSurvey => {
  const { points, errors } = survey;
  const kept: number[] = [];
  points.x.forEach((x, i) => {
    if (signedDistanceToRing(outline.ring, x, points.y[i]) <= PAST_OUTLINE) kept.push(i);
  });
  const of = (values: Float64Array): Float64Array => Float64Array.from(kept, (i) => values[i]);
  const { time } = points;
  return {
    ...survey,
    points: {
      x: of(points.x),
      y: of(points.y),
      z: of(points.z),
      time: time ? of(time) : Float64Array.from(kept),
    },
    errors: {
      ...errors,
      steps: errors.steps.map((step) =>
        step.after === null
          ? step
          : { ...step, after: kept.filter((i) => i < (step.after ?? 0)).length },
      ),
    },
  };
};

/** Heights over the mean of both surfaces, so that unlike places compare and what both fits smoothed drops out. */
const overBoth = (
  { points, errors }: ScannedSurvey,
  surfaces: readonly [Surface, Surface],
): Float64Array => {
  const jet = new Float64Array(JET_SIZE);
  const most = GROSS * errors.sigma;
  return points.z.map((z, i) => {
    const [a, b] = surfaces.map((surface) => {
      surface.at(points.x[i], points.y[i], jet);
      return jet[H];
    });
    const half = Math.abs(a - b) / 2;
    // What the two surfaces differ by is no gross error of a point.
    return Math.min(most + half, Math.max(-most - half, z - (a + b) / 2));
  });
};

/** Less their median: what all of the green has in common is another benchmark, not movement. */
const levelled = (heights: Float64Array): Float64Array => {
  const median = medianOf(heights);
  return heights.map((height) => height - median);
};

/** What the discs show on ground that did not move: each one's spread, and the greatest of all, draw by draw. */
const nullSpread = (discs: readonly Disc[], older: ScannedSurvey, newer: ScannedSurvey) => {
  const before = errorDraws(older.points, older.errors, seedOf(older.points.z));
  const since = errorDraws(newer.points, newer.errors, seedOf(newer.points.z) ^ 0x5bd1e995);
  const drawn = new Float64Array(DRAWS * discs.length);
  for (let d = 0; d < DRAWS; d++) {
    const [a, b] = [levelled(before()), levelled(since())];
    discs.forEach((disc, k) => {
      drawn[d * discs.length + k] = meanOf(b, disc.newer) - meanOf(a, disc.older);
    });
  }
  const sd = Float64Array.from(discs, (_, k) => {
    let square = 0;
    for (let d = 0; d < DRAWS; d++) square += drawn[d * discs.length + k] ** 2;
    return Math.sqrt(square / DRAWS);
  });
  const greatest = Float64Array.from({ length: DRAWS }, (_, d) => {
    let most = 0;
    for (let k = 0; k < sd.length; k++) {
      most = Math.max(most, Math.abs(drawn[d * discs.length + k]) / sd[k]);
    }
    return most;
  }).sort();
  return { sd, greatest };
};

/** Part of a walk, at least, on each side of a step of it. */
const LEAST_PART = 0.1;

/**
 * The clearest step of a walk, by the survey's heights over the other survey's ground: far smaller ones show there
 * than over the survey's own, which bends to them.
 */
const walkStep = (
  { points, errors }: ScannedSurvey,
  other: Surface,
): { readonly step: SharedStep; readonly clear: number } | null => {
  const { x, y, z } = points;
  const count = x.length;
  if (!errors.walked || count < 2 / LEAST_PART) return null;
  const jet = new Float64Array(JET_SIZE);
  const order = walkOrder(points);
  const over = order.map((i) => {
    other.at(x[i], y[i], jet);
    return z[i] - jet[H];
  });
  const total = over.reduce((sum, v) => sum + v, 0);
  let best: { readonly step: SharedStep; readonly clear: number } | null = null;
  let before = 0;
  for (let k = 1; k < count; k++) {
    before += over[k - 1];
    if (k < LEAST_PART * count || k > (1 - LEAST_PART) * count) continue;
    const height = (total - before) / (count - k) - before / k;
    const sd = errors.sigma * Math.sqrt(1 / k + 1 / (count - k));
    const clear = Math.abs(height) / sd;
    if (best === null || clear > best.clear) {
      best = { step: { height, sd, after: order[k], line: null }, clear };
    }
  }
  return best;
};

/** Standard deviations by which a step of a walk stands out, some hundreds of moments being tried. */
const CLEAR_STEP = 3.5;
/** And the share of the clearest disc's: both surveys may have a step, and each explains a part. */
const STEP_SHARE = 0.7;

/** The clearest disc of each place; none overlaps another. */
const apart = (clear: readonly MovedDisc[]): MovedDisc[] => {
  const told: MovedDisc[] = [];
  for (const disc of clear) {
    const isFar = ({ middle: [x, y], radius }: MovedDisc): boolean =>
      Math.hypot(x - disc.middle[0], y - disc.middle[1]) >= radius + disc.radius;
    if (told.every(isFar)) told.push(disc);
  }
  return told;
};

const clearness = ({ change, sd }: MovedDisc): number => Math.abs(change) / sd;

/** Discs and the change of each, by which the clear ones are told. */
interface Shown {
  readonly discs: readonly Disc[];
  readonly changes: readonly number[];
}

const shownBy = (grid: GroundGrid, older: ScannedSurvey, newer: ScannedSurvey): Shown => {
  const discs = discsOn(grid, older.points, newer.points);
  const [was, is] = [older, newer].map((one) =>
    levelled(overBoth(one, [older.surface, newer.surface])),
  );
  return { discs, changes: discs.map((disc) => meanOf(is, disc.newer) - meanOf(was, disc.older)) };
};

/** The discs that changed by more than the errors of both surveys explain, the clearest first. */
const clearDiscs = (
  { discs, changes }: Shown,
  older: ScannedSurvey,
  newer: ScannedSurvey,
  falseAlarm: number,
): MovedDisc[] => {
  const { sd, greatest } = nullSpread(discs, older, newer);
  const limit = greatest[Math.ceil((1 - falseAlarm) * DRAWS) - 1];
  return discs
    .map(({ middle, radius }, k) => ({ middle, radius, change: changes[k], sd: sd[k] }))
    .filter((disc) => clearness(disc) > limit)
    .sort((a, b) => clearness(b) - clearness(a));
};

/** With a step of its walk among its errors. */
const withStep = (survey: ScannedSurvey, step: SharedStep): ScannedSurvey => ({
  ...survey,
  errors: { ...survey.errors, steps: [...survey.errors.steps, step] },
});

/**
 * Looks for round pieces of ground, of several sizes all over the green, whose mean height changed between two
 * surveys: a scan statistic (Kulldorff, Communications in Statistics - Theory and Methods 26 (1997) 1481-1496),
 * whose chance of a false alarm holds for the whole green, since its limit is that of the greatest disc in draws of
 * both surveys' errors. The mean of the points in a disc is not smoothed, so that small movements show that two fits
 * flatten. Where a step of either walk (another session) explains the difference about as well as the clearest disc,
 * it counts as an error of that survey, and the scan is made anew.
 *
 * @param falseAlarm chance that a green which did not move shows a disc.
 */
export const scanDiscs = (
  grid: GroundGrid,
  older: ScannedSurvey,
  newer: ScannedSurvey,
  falseAlarm: number,
): MovedDisc[] => {
  const [before, since] = [older, newer].map((survey) => nearGreen(grid, survey));
  const shown = shownBy(grid, before, since);
  if (shown.discs.length === 0) return [];
  const first = clearDiscs(shown, before, since, falseAlarm);
  if (first.length === 0) return [];
  const steps = [walkStep(before, newer.surface), walkStep(since, older.surface)];
  const limit = Math.max(CLEAR_STEP, STEP_SHARE * clearness(first[0]));
  const [was, is] = steps.map((one) => (one !== null && one.clear > limit ? one.step : null));
  if (was === null && is === null) return apart(first);
  return apart(
    clearDiscs(
      shown,
      was === null ? before : withStep(before, was),
      is === null ? since : withStep(since, is),
      falseAlarm,
    ),
  );
};
