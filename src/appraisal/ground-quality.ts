import { boxOf, insideRing, type Point } from '../geometry.js';
import { HOLE_RADIUS } from '../putt/capture.js';
import { linesAcross } from '../surface/lines-across.js';
import { TEN_FEET } from '../surface/missed-step.js';
import { TWO_SIDED_95, upperTail } from '../surface/normal-distribution.js';
import { HX, HY, JET_SIZE, type Surface } from '../surface/surface.js';
import { chanceOfWrongWay, DOUBT } from '../terrain/doubt.js';
import { inSquares } from './spacing.js';
import { unsureFace } from './unsure-face.js';

/** How well a fitted surface knows its own slope. Shares are of the green's area. */
export interface GroundQuality {
  /** Ground under 0.9 %: doubtful, since a green is nowhere dead flat. */
  readonly level: number;
  /** Half the ground is steeper, as a fraction. */
  readonly medianGrade: number;
  /** Of the ground over 0.9 %, the share whose direction of fall is known to 45 degrees at 95 %. */
  readonly directionKnown: number;
  /**
   * Of the ground that is expected to be truly over 0.9 %, the share whose direction of fall is expected to be
   * right to 45 degrees; 1 where the green has hardly any such ground.
   */
  readonly directionRight: number;
  /** Standard deviation of the grade that 80 % of the ground keep within, as a fraction. */
  readonly gradeSd: number;
  /** Of putts of ten feet across the fall, 80 % have an aim known to this at 95 %, metres. */
  readonly aimKnownTo: number;
  /** Of putts of ten feet across the fall, four in five are expected to have an aim right to this, metres. */
  readonly aimRightTo: number;
  /** Of those putts the share whose aim is known to half a hole at 95 %: all others have a `~` in a table. */
  readonly aimsKnown: number;
  /**
   * Squares on the face of a tier that no putt with a figure may cross: the three figures above are of the
   * other putts. None where they would take most of the putts: then all putts are judged.
   */
  readonly unsure: readonly Point[];
}

/** "No part of a green is dead flat: at least about half a degree (0.9 %)": common practice, no source. */
const LEVEL_GRADE = 0.009;

const STEP = 1;

/**
 * A putt of ten feet across a fall of 2 % on a stimp reading of ten feet is aimed 11.8 in (0.30 m) beside
 * the hole: 0.15 m for each per cent, so that an error of the mean cross slope of 1 % is one of 0.15 m.
 * Source: the putt's equation of motion on a plane, solved by this program (see src/putt).
 */
export const AIM_PER_GRADE = 15;

/** Where a face leaves less than this share of the putts, it is not the face that is at fault. */
const LEAST_LEFT = 0.4;

/** Ground over 0.9 % that is less than this share of a green does not judge it. */
const HARDLY_ANY = 0.05;

/** The error that a share of normal errors of these standard deviations is expected to keep within. */
const errorKeptBy = (sds: readonly number[], share: number): number => {
  if (sds.length === 0 || sds.some((sd) => !Number.isFinite(sd))) return Infinity;
  let low = 0;
  let high = 3 * Math.max(...sds);
  for (let round = 0; round < 40; round++) {
    const middle = (low + high) / 2;
    const kept = sds.reduce(
      (sum, sd) => sum + (sd === 0 ? 1 : 1 - 2 * upperTail(middle / sd)) / sds.length,
      0,
    );
    if (kept < share) low = middle;
    else high = middle;
  }
  return high;
};

/** Unit normal errors of a gradient, each as likely as another: rings of equal chance, and turns on each. */
const RINGS = 16;
const TURNS = 16;
const ERRORS: readonly Point[] = Array.from({ length: RINGS * TURNS }, (_, k): Point => {
  const ring = Math.floor(k / TURNS);
  const radius = Math.sqrt(-2 * Math.log(1 - (ring + 0.5) / RINGS));
  const turn = (2 * Math.PI * ((k % TURNS) + (ring % 2) / 2)) / TURNS;
  return [radius * Math.cos(turn), radius * Math.sin(turn)];
});

/** Chance that ground of this fitted gradient is truly over 0.9 %, and that it is so and falls as fitted to 45 degrees. */
const chancesOver = (gx: number, gy: number, [xx, xy, yy]: Float64Array) => {
  const grade = Math.hypot(gx, gy);
  const a = Math.sqrt(xx);
  const b = a === 0 ? 0 : xy / a;
  const c = Math.sqrt(Math.max(0, yy - b * b));
  let over = 0;
  let right = 0;
  for (const [u, v] of ERRORS) {
    const [tx, ty] = [gx + a * u, gy + b * u + c * v];
    const truth = Math.hypot(tx, ty);
    if (truth <= LEVEL_GRADE) continue;
    over += 1;
    if (gx * tx + gy * ty >= Math.SQRT1_2 * grade * truth) right += 1;
  }
  return { over: over / ERRORS.length, right: right / ERRORS.length };
};

const quantile = (values: number[], share: number): number => {
  values.sort((a, b) => a - b);
  return values.length === 0 ? Infinity : values[Math.floor(share * (values.length - 1))];
};

export const groundQuality = (surface: Surface): GroundQuality => {
  const { outline, trust } = surface;
  const box = boxOf(outline);
  const jet = new Float64Array(JET_SIZE);
  const covariance = new Float64Array(3);
  const sds: number[] = [];
  const grades: number[] = [];
  let inside = 0;
  let level = 0;
  let steep = 0;
  let right = 0;
  let known = 0;
  for (let y = box.minY + STEP / 2; y < box.maxY; y += STEP) {
    for (let x = box.minX + STEP / 2; x < box.maxX; x += STEP) {
      if (!insideRing(outline, x, y)) continue;
      inside += 1;
      surface.at(x, y, jet);
      const grade = Math.hypot(jet[HX], jet[HY]);
      const flat = grade < LEVEL_GRADE;
      grades.push(grade);
      if (flat) level += 1;
      if (trust !== null) {
        trust.gradientCovariance(x, y, covariance);
        sds.push(Math.sqrt((covariance[0] + covariance[2]) / 2));
      }
      const [xx, xy, yy] = covariance;
      const chances = chancesOver(jet[HX], jet[HY], covariance);
      steep += chances.over;
      right += chances.right;
      if (flat) continue;
      if (chanceOfWrongWay(jet[HX], jet[HY], xx, xy, yy) <= DOUBT) known += 1;
    }
  }
  const { aims, unsure } = aimsOf(surface);
  const over = inside - level;
  return {
    level: inside === 0 ? 0 : level / inside,
    medianGrade: grades.length === 0 ? 0 : quantile(grades, 0.5),
    directionKnown: over < HARDLY_ANY * inside ? 1 : known / over,
    directionRight: steep < HARDLY_ANY * inside ? 1 : right / steep,
    gradeSd: trust === null ? 0 : quantile(sds, 0.8),
    aimKnownTo: TWO_SIDED_95 * quantile(aims.slice(), 0.8),
    aimRightTo: errorKeptBy(aims, 0.8),
    aimsKnown:
      aims.filter((sd) => TWO_SIDED_95 * sd <= HOLE_RADIUS).length / Math.max(1, aims.length),
    unsure,
  };
};

/** Standard deviations of the aims all over the green, but for putts across the face of a tier that is not known. */
const aimsOf = (surface: Surface) => {
  const unsure = unsureFace(surface);
  const isUnsure = inSquares(unsure);
  const all: number[] = [];
  const clear: number[] = [];
  for (const { slope, places } of linesAcross(surface, TEN_FEET)) {
    const variance = surface.trust === null ? 0 : surface.trust.functionalVariance(slope);
    const sd = AIM_PER_GRADE * Math.sqrt(variance);
    all.push(sd);
    if (!places.some(isUnsure)) clear.push(sd);
  }
  return clear.length >= LEAST_LEFT * all.length
    ? { aims: clear, unsure }
    : { aims: all, unsure: [] };
};

/** What is known of ground to which no surface can be fitted. */
export const NOTHING_KNOWN: GroundQuality = {
  level: 0,
  medianGrade: 0,
  directionKnown: 0,
  directionRight: 0,
  gradeSd: Infinity,
  aimKnownTo: Infinity,
  aimRightTo: Infinity,
  aimsKnown: 0,
  unsure: [],
};
