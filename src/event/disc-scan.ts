import { type Point, signedDistanceToRing } from '../geometry.js';
import { medianOf } from '../surface/robust-spread.js';
import { seedOf } from '../surface/seeded-normals.js';
import { H, JET_SIZE, type Surface } from '../surface/surface.js';
import type { SharedStep } from '../surface/walk-steps.js';
import type { GroundGrid } from '../terrain/ground-grid.js';
import { type BinnedPoints, binned } from './binned-points.js';
import { GROSS } from './confirm-movement.js';
import { type Discs, discsOn, RADII } from './discs.js';
import { errorDraws, type MeasuredPoints, type PointErrors, walkOrder } from './point-errors.js';
import { limitsBySize } from './size-limits.js';

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

/** Draws of both surveys' errors, by which a disc's own spread and the greatest of each size are known. */
const DRAWS = 400;

/** Points further past the outline than this do not count, metres. */
const PAST_OUTLINE = 1;

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

/** A survey near its green, and its points put together where they are dense. */
interface Binned {
  readonly survey: ScannedSurvey;
  readonly bins: BinnedPoints;
}

const inBins = (survey: ScannedSurvey): Binned => ({
  survey,
  bins: binned(survey.points, survey.errors),
});

/** Less their median: what all of the green has in common is another benchmark, not movement. */
const levelled = (heights: Float64Array): Float64Array => {
  const median = medianOf(heights);
  return heights.map((height) => height - median);
};

/** What the discs show on ground that did not move: each one's spread, and the greatest of each size, draw by draw. */
const nullSpread = ({ all, changes }: Discs, older: BinnedPoints, newer: BinnedPoints) => {
  const drawsOf = ({ points, errors, count }: BinnedPoints, salt: number): (() => Float64Array) =>
    errorDraws(points, errors, seedOf(points.z) ^ salt, count);
  const [before, since] = [drawsOf(older, 0), drawsOf(newer, 0x5bd1e995)];
  const drawn = Array.from({ length: DRAWS }, () => changes(levelled(before()), levelled(since())));
  const square = new Float64Array(all.length);
  for (const one of drawn)
    one.forEach((change, k) => {
      square[k] += change * change;
    });
  const sd = square.map((sum) => Math.sqrt(sum / DRAWS));
  const greatest = RADII.map(() => new Float64Array(DRAWS));
  drawn.forEach((one, d) => {
    one.forEach((change, k) => {
      const own = greatest[all[k].size];
      own[d] = Math.max(own[d], Math.abs(change) / sd[k]);
    });
  });
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

/** Draws by which the spread of a common difference is known. */
const COMMON_DRAWS = 200;

/** Standard deviation of what all of a green differs by between two surveys of ground that did not move, metres. */
export const commonSd = (grid: GroundGrid, older: ScannedSurvey, newer: ScannedSurvey): number => {
  const square = [older, newer].map((survey) => {
    const { points, errors, count } = inBins(nearGreen(grid, survey)).bins;
    const draw = errorDraws(points, errors, seedOf(points.z), count);
    let sum = 0;
    for (let d = 0; d < COMMON_DRAWS; d++) sum += medianOf(draw()) ** 2;
    return sum / COMMON_DRAWS;
  });
  return Math.sqrt(square[0] + square[1]);
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
  readonly discs: Discs;
  readonly changes: Float64Array;
}

const shownBy = ({ outline }: GroundGrid, older: Binned, newer: Binned): Shown => {
  const discs = discsOn(outline.ring, older.bins, newer.bins);
  const [was, is] = [older, newer].map(({ survey, bins }) =>
    levelled(bins.meanOf(overBoth(survey, [older.survey.surface, newer.survey.surface]))),
  );
  return { discs, changes: discs.changes(was, is) };
};

/** The discs that changed by more than the errors of both surveys explain, the clearest first. */
const clearDiscs = (
  { discs, changes }: Shown,
  older: BinnedPoints,
  newer: BinnedPoints,
  falseAlarm: number,
): MovedDisc[] => {
  const { sd, greatest } = nullSpread(discs, older, newer);
  const limits = limitsBySize(greatest, falseAlarm);
  return discs.all
    .map(({ middle, radius }, k) => ({ middle, radius, change: changes[k], sd: sd[k] }))
    .filter((disc, k) => clearness(disc) > limits[discs.all[k].size])
    .sort((a, b) => clearness(b) - clearness(a));
};

/** With a step of its walk among its errors. */
const withStep = ({ survey, bins }: Binned, step: SharedStep | null): Binned => {
  if (step === null) return { survey, bins };
  const steps = [...survey.errors.steps, step];
  return inBins({ ...survey, errors: { ...survey.errors, steps } });
};

/**
 * Looks for round pieces of ground, of several sizes all over the green, whose mean height changed between two
 * surveys: a scan statistic (Kulldorff, Communications in Statistics - Theory and Methods 26 (1997) 1481-1496),
 * whose chance of a false alarm holds for the whole green, since its limits are those of the greatest discs in draws of
 * both surveys' errors. The mean of the points in a disc is not smoothed, so that small movements show that two fits
 * flatten; the points of dense surveys are put together first. Where a step of either walk (another session) explains
 * the difference about as well as the clearest disc, it counts as an error of that survey, and the scan is made anew.
 *
 * @param falseAlarm chance that a green which did not move shows a disc.
 */
export const scanDiscs = (
  grid: GroundGrid,
  older: ScannedSurvey,
  newer: ScannedSurvey,
  falseAlarm: number,
): MovedDisc[] => {
  const [before, since] = [older, newer].map((survey) => inBins(nearGreen(grid, survey)));
  const shown = shownBy(grid, before, since);
  if (shown.discs.all.length === 0) return [];
  const first = clearDiscs(shown, before.bins, since.bins, falseAlarm);
  if (first.length === 0) return [];
  const steps = [walkStep(before.survey, newer.surface), walkStep(since.survey, older.surface)];
  const limit = Math.max(CLEAR_STEP, STEP_SHARE * clearness(first[0]));
  const [was, is] = steps.map((one) => (one !== null && one.clear > limit ? one.step : null));
  if (was === null && is === null) return apart(first);
  const [a, b] = [withStep(before, was), withStep(since, is)];
  return apart(clearDiscs(shown, a.bins, b.bins, falseAlarm));
};
