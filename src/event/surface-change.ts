import { insideRing } from '../geometry.js';
import { normalQuantile, TWO_SIDED_95 } from '../surface/normal-distribution.js';
import { medianOf } from '../surface/robust-spread.js';
import type { Surface } from '../surface/surface.js';
import { type GroundGrid, nodeX, nodeY, sampleGround } from '../terrain/ground-grid.js';
import { changeByPoints } from './confirm-movement.js';
import { commonSd, type ScannedSurvey, scanDiscs } from './disc-scan.js';
import { leftOver } from './left-over.js';
import { discRegion, type MovedRegion, regionsOf } from './moved-regions.js';
import type { MeasuredPoints, PointErrors } from './point-errors.js';

export interface ChangeOptions {
  /** Distance between the nodes at which the surfaces are compared, metres. */
  readonly gridStep: number;
  /** Connected ground smaller than this is not reported, square metres. */
  readonly leastArea: number;
  /** Chance that ground which did not move is reported anywhere on the green. */
  readonly falseAlarm: number;
  /** Takes a common difference of height (another benchmark) off the newer surface before comparing. */
  readonly level: boolean;
}

const CHANGE_DEFAULTS: ChangeOptions = {
  gridStep: 0.25,
  leastArea: 0.5,
  falseAlarm: 0.05,
  level: false,
};

/** What a green's surface did between two surveys; newer less older, metres. */
export interface SurfaceChange {
  readonly grid: GroundGrid;
  /** At the nodes of `grid`, the common difference taken off when levelling; meaningful inside the outline. */
  readonly difference: Float64Array;
  /** Standard deviation of the difference: both posteriors together. */
  readonly sd: Float64Array;
  /** Median difference of the ground that is not in a region, before levelling. */
  readonly shift: number;
  /** Its standard deviation where nothing has another level; null where the points' errors are not known. */
  readonly shiftSd: number | null;
  readonly levelled: boolean;
  /** Standard deviations beyond which a difference counts as movement. */
  readonly threshold: number;
  /** Largest area first. */
  readonly regions: readonly MovedRegion[];
  /** Square metres in regions. */
  readonly movedArea: number;
  /** Ground on which either survey says too little to tell: sd over 3 cm, square metres. */
  readonly unknownArea: number;
  /** Median sd of the difference on the green, metres. */
  readonly medianSd: number;
  /** Whether any of the ground is known well enough in both for a change of it to be told. */
  readonly isKnown: boolean;
  /** Root mean square of difference over sd, outside the regions: about 1 or less when nothing moved. */
  readonly restRatio: number;
}

/**
 * Standard deviations beyond which a difference is movement, so that a green that did not move raises no
 * alarm with probability 1 - falseAlarm: a Bonferroni bound over as many places as a survey has points
 * (it has no more independent heights than that).
 */
const movementThreshold = (independentPlaces: number, falseAlarm: number): number =>
  normalQuantile(1 - falseAlarm / (2 * Math.max(1, independentPlaces)));

/**
 * Beyond this many standard deviations the ground round a certain movement belongs to it. The tighter one
 * is for movement whose wider surroundings hide it from the test by its points.
 */
const EDGES_OF_MOVEMENT = [TWO_SIDED_95, 3] as const;

/** A survey's points, and their errors where these are known: small movements are looked for by them. */
export interface ComparedPoints extends MeasuredPoints {
  readonly errors?: PointErrors;
}

/** Both surveys as the scan of discs takes them; null where the errors of their points are not known. */
const scannedPair = (
  surfaces: { readonly older: Surface; readonly newer: Surface },
  points: { readonly older: ComparedPoints; readonly newer: ComparedPoints } | null,
): readonly [ScannedSurvey, ScannedSurvey] | null => {
  const [before, since] = [points?.older.errors, points?.newer.errors];
  if (points === null || before === undefined || since === undefined) return null;
  return [
    { surface: surfaces.older, points: points.older, errors: before },
    { surface: surfaces.newer, points: points.newer, errors: since },
  ];
};

const inRegions = (grid: GroundGrid, regions: readonly MovedRegion[]): Uint8Array => {
  const mask = new Uint8Array(grid.inside.length);
  for (let n = 0; n < mask.length; n++) {
    if (grid.inside[n] === 0) continue;
    const [x, y] = [nodeX(grid, n), nodeY(grid, n)];
    if (regions.some((r) => insideRing(r.polygon[0], x, y))) mask[n] = 1;
  }
  return mask;
};

/**
 * Compares two fitted surfaces of one green, both in the same frame and with the same outline. What
 * lies within the combined posterior uncertainty of the two is not movement. When the surveys' own points
 * are given, what the fits left over of them is added to the difference (and its error to the
 * uncertainty), and a region is told only when the points in it confirm it: the two fits may have
 * smoothed the same ground unlike. Surfaces without `trust` are exact: any difference over a tenth of a
 * millimetre counts.
 *
 * @param independentPlaces points on the green of the denser survey: it has no more independent heights.
 */
export const surfaceChange = (
  older: Surface,
  newer: Surface,
  independentPlaces: number,
  options: Partial<ChangeOptions> = {},
  points: { readonly older: ComparedPoints; readonly newer: ComparedPoints } | null = null,
): SurfaceChange => {
  const o: ChangeOptions = { ...CHANGE_DEFAULTS, ...options };
  const grid = sampleGround(older, o.gridStep);
  const after = sampleGround(newer, o.gridStep);
  if (after.height.length !== grid.height.length || after.originX !== grid.originX) {
    throw new RangeError('the two surfaces must share one outline');
  }
  const size = grid.height.length;
  const raw = new Float64Array(size);
  const sd = new Float64Array(size);
  for (let n = 0; n < size; n++) {
    const [x, y] = [nodeX(grid, n), nodeY(grid, n)];
    raw[n] = after.height[n] - grid.height[n];
    sd[n] = Math.hypot(EXACT, older.trust?.heightSd(x, y) ?? 0, newer.trust?.heightSd(x, y) ?? 0);
  }
  if (points !== null) {
    const before = leftOver(grid, older, points.older);
    const since = leftOver(grid, newer, points.newer);
    for (let n = 0; n < size; n++) {
      raw[n] += since.mean[n] - before.mean[n];
      sd[n] = Math.hypot(sd[n], before.error[n], since.error[n]);
    }
  }
  const threshold = movementThreshold(independentPlaces, o.falseAlarm);
  const find = (difference: Float64Array, offset: number): MovedRegion[] => {
    const found: MovedRegion[] = [];
    for (const edge of EDGES_OF_MOVEMENT) {
      const regions = ([1, -1] as const)
        .flatMap((sign) => regionsOf({ grid, difference, sd }, sign, edge, threshold, o.leastArea))
        .filter(({ greatestAt: [x, y] }) => !found.some((r) => insideRing(r.polygon[0], x, y)));
      found.push(...regions.flatMap((region) => confirmed(region, offset)));
    }
    return found.sort((a, b) => b.area - a.area);
  };
  /** The region with its change by the points; nothing when they do not show it. */
  const confirmed = (region: MovedRegion, offset: number): MovedRegion[] => {
    if (points === null) return [region];
    const by = changeByPoints(region.polygon, { older, newer }, points);
    if (by === null) return [];
    const change = by.change - offset;
    const shown = Math.sign(change) === Math.sign(region.meanChange);
    return shown && Math.abs(change) > threshold * by.error
      ? [{ ...region, meanChange: change, meanSd: by.error }]
      : [];
  };
  const onGreen = (values: Float64Array): Float64Array =>
    values.filter((_, n) => grid.inside[n] === 1);
  const shiftOutside = (moved: Uint8Array | null): number =>
    medianOf(raw.filter((_, n) => grid.inside[n] === 1 && (moved === null || moved[n] === 0)));

  let shift = shiftOutside(null);
  let difference = raw.map((d) => d - shift);
  let regions = find(difference, shift);
  // Once more without what moved, so that a rebuilt part does not pull the level of the rest.
  shift = shiftOutside(inRegions(grid, regions));
  difference = o.level ? raw.map((d) => d - shift) : raw;
  regions = find(difference, o.level ? shift : 0);
  const pair = scannedPair({ older, newer }, points);
  if (pair !== null) {
    const discs = scanDiscs(grid, ...pair, o.falseAlarm);
    const left = o.level ? 0 : shift;
    regions.push(
      ...discs.flatMap((disc) => discRegion({ grid, difference, sd }, disc, left, regions)),
    );
    regions.sort((a, b) => b.area - a.area);
  }
  const moved = inRegions(grid, regions);
  let square = 0;
  let count = 0;
  for (let n = 0; n < size; n++) {
    if (grid.inside[n] === 0 || moved[n] === 1) continue;
    square += (difference[n] / sd[n]) ** 2;
    count++;
  }
  return {
    grid,
    difference,
    sd,
    shift,
    shiftSd: pair === null ? null : commonSd(grid, ...pair),
    levelled: o.level,
    threshold,
    regions,
    movedArea: regions.reduce((sum, r) => sum + r.area, 0),
    unknownArea: onGreen(sd).filter((one) => !(one <= UNKNOWN)).length * o.gridStep ** 2,
    isKnown: onGreen(sd).some((one) => one <= UNKNOWN),
    medianSd: medianOf(onGreen(sd)),
    restRatio: count === 0 ? 0 : Math.sqrt(square / count),
  };
};

/** Standard deviation of a difference beyond which nothing is said of the ground, metres. */
const UNKNOWN = 0.03;

/** Least standard deviation of a difference, metres: what exact surfaces are taken to agree to. */
const EXACT = 2e-5;
