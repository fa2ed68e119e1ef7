import type { Point, Polygon } from '../geometry.js';
import { insideRing } from '../geometry.js';
import { normalQuantile, TWO_SIDED_95 } from '../surface/normal-distribution.js';
import type { Surface } from '../surface/surface.js';
import { fieldAt, type GroundGrid, nodeX, nodeY, sampleGround } from '../terrain/ground-grid.js';
import { traceIsolines } from '../terrain/regions/isolines.js';
import { areaOfPolygon, assembleRegion, clipToOutline } from '../terrain/regions/region.js';
import { changeByPoints, type SurveyPoints } from './confirm-movement.js';
import { leftOver } from './left-over.js';

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

/** Connected ground that rose or sank beyond the uncertainty of both surveys. */
export interface MovedRegion {
  readonly polygon: Polygon;
  readonly area: number;
  /** Metres, positive where the ground rose: by the points of both surveys where they are known. */
  readonly meanChange: number;
  /** Standard error of that mean by the points; else the mean standard deviation over the region. */
  readonly meanSd: number;
  /** Where the two surfaces differ most, and by how much. */
  readonly greatestChange: number;
  readonly greatestAt: Point;
  /** A node of the region near its middle. */
  readonly middle: Point;
}

/** What a green's surface did between two surveys; newer less older, metres. */
export interface SurfaceChange {
  readonly grid: GroundGrid;
  /** At the nodes of `grid`, the common difference taken off when levelling; meaningful inside the outline. */
  readonly difference: Float64Array;
  /** Standard deviation of the difference: both posteriors together. */
  readonly sd: Float64Array;
  /** Median difference of the ground that is not in a region, before levelling. */
  readonly shift: number;
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
  /** Root mean square of difference over sd, outside the regions: about 1 or less when nothing moved. */
  readonly restRatio: number;
}

const median = (values: Float64Array): number => {
  const sorted = Float64Array.from(values).sort();
  const middle = sorted.length >> 1;
  if (sorted.length === 0) return 0;
  return sorted.length % 2 === 1 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2;
};

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

/** What is compared, at the nodes of a grid. */
type Compared = Pick<SurfaceChange, 'grid' | 'difference' | 'sd'>;

/** The regions of one sign: ground over an edge level that holds a node over the threshold. */
const regionsOf = (
  compared: Compared,
  sign: 1 | -1,
  edge: number,
  threshold: number,
  leastArea: number,
): MovedRegion[] => {
  const { grid, difference, sd } = compared;
  const size = difference.length;
  const score = new Float64Array(size);
  for (let n = 0; n < size; n++) {
    score[n] = Number.isFinite(sd[n]) ? (sign * difference[n]) / sd[n] : 0;
  }
  // Asked only where no line meets the outline: then the whole edge is on one side of the level.
  const [edgeX, edgeY] = grid.outline.ring[0];
  const wholeIsIn = fieldAt(grid, score, edgeX, edgeY) >= edge;
  const { originX, originY, step, columns, rows } = grid;
  const lines = traceIsolines({ originX, originY, step, columns, rows, value: score }, edge);
  const polygons = assembleRegion(grid.outline, clipToOutline(grid.outline, lines), wholeIsIn);
  const regions: MovedRegion[] = [];
  for (const polygon of polygons) {
    const area = areaOfPolygon(polygon);
    if (area < leastArea) continue;
    const nodes: number[] = [];
    for (let n = 0; n < size; n++) {
      if (grid.inside[n] === 0 || score[n] < edge) continue;
      const x = nodeX(grid, n);
      const y = nodeY(grid, n);
      if (insideRing(polygon[0], x, y) && !polygon.slice(1).some((hole) => insideRing(hole, x, y)))
        nodes.push(n);
    }
    if (!nodes.some((n) => score[n] > threshold)) continue;
    regions.push(describe(compared, nodes, polygon, area));
  }
  return regions;
};

const describe = (
  { grid, difference, sd }: Compared,
  nodes: readonly number[],
  polygon: Polygon,
  area: number,
): MovedRegion => {
  let sum = 0;
  let sumSd = 0;
  let [cx, cy] = [0, 0];
  let greatest = nodes[0];
  for (const n of nodes) {
    sum += difference[n];
    sumSd += sd[n];
    cx += nodeX(grid, n);
    cy += nodeY(grid, n);
    if (Math.abs(difference[n]) > Math.abs(difference[greatest])) greatest = n;
  }
  cx /= nodes.length;
  cy /= nodes.length;
  const off = (n: number): number => Math.hypot(nodeX(grid, n) - cx, nodeY(grid, n) - cy);
  const middle = nodes.reduce((best, n) => (off(n) < off(best) ? n : best), nodes[0]);
  return {
    polygon,
    area,
    meanChange: sum / nodes.length,
    meanSd: sumSd / nodes.length,
    greatestChange: difference[greatest],
    greatestAt: [nodeX(grid, greatest), nodeY(grid, greatest)],
    middle: [nodeX(grid, middle), nodeY(grid, middle)],
  };
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
  points: { readonly older: SurveyPoints; readonly newer: SurveyPoints } | null = null,
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
    median(raw.filter((_, n) => grid.inside[n] === 1 && (moved === null || moved[n] === 0)));

  let shift = shiftOutside(null);
  let difference = raw.map((d) => d - shift);
  let regions = find(difference, shift);
  // Once more without what moved, so that a rebuilt part does not pull the level of the rest.
  shift = shiftOutside(inRegions(grid, regions));
  difference = o.level ? raw.map((d) => d - shift) : raw;
  regions = find(difference, o.level ? shift : 0);
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
    levelled: o.level,
    threshold,
    regions,
    movedArea: regions.reduce((sum, r) => sum + r.area, 0),
    unknownArea: onGreen(sd).filter((one) => !(one <= UNKNOWN)).length * o.gridStep ** 2,
    medianSd: median(onGreen(sd)),
    restRatio: count === 0 ? 0 : Math.sqrt(square / count),
  };
};

/** Standard deviation of a difference beyond which nothing is said of the ground, metres. */
const UNKNOWN = 0.03;

/** Least standard deviation of a difference, metres: what exact surfaces are taken to agree to. */
const EXACT = 2e-5;
