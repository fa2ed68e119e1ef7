import { boxOf, insideRing } from '../geometry.js';
import { TWO_SIDED_95 } from '../surface/normal-distribution.js';
import { HX, HY, JET_SIZE, type Surface } from '../surface/surface.js';
import { chanceOfWrongWay, DOUBT } from '../terrain/doubt.js';
import { fallAt } from '../terrain/fall.js';
import { feetToMetres } from '../units.js';

/** How well a fitted surface knows its own slope. Shares are of the green's area. */
export interface GroundQuality {
  /** Ground under 0.9 %: doubtful, since a green is nowhere dead flat. */
  readonly level: number;
  /** Half the ground is steeper, as a fraction. */
  readonly medianGrade: number;
  /** Of the ground over 0.9 %, the share whose direction of fall is known to 45 degrees at 95 %. */
  readonly directionKnown: number;
  /** Standard deviation of the grade that 80 % of the ground keep within, as a fraction. */
  readonly gradeSd: number;
  /** Of putts of ten feet across the fall, 80 % have an aim known to this at 95 %, metres. */
  readonly aimKnownTo: number;
}

/** "No part of a green is dead flat: at least about half a degree (0.9 %)": common practice, no source. */
const LEVEL_GRADE = 0.009;

const STEP = 1;
const PUTT = feetToMetres(10);
const PUTT_STEP = 3;
const PUTT_PARTS = 8;

/**
 * A putt of ten feet across a fall of 2 % on a stimp reading of ten feet is aimed 11.8 in (0.30 m) beside
 * the hole: 0.15 m for each per cent, so that an error of the mean cross slope of 1 % is one of 0.15 m.
 * Source: the putt's equation of motion on a plane, solved by this program (see src/putt).
 */
const AIM_PER_GRADE = 15;

const quantile = (values: number[], share: number): number => {
  values.sort((a, b) => a - b);
  return values.length === 0 ? Infinity : values[Math.floor(share * (values.length - 1))];
};

/**
 * @param inflation factor on the surface's own standard deviations: over 1 where the survey states a
 * larger error than its points show. They already count the stated error, but as if each point had its
 * own; what the points do not show of it neighbours have in common, and no number of them averages it
 * out.
 */
export const groundQuality = (surface: Surface, inflation: number): GroundQuality => {
  const { outline, trust } = surface;
  const box = boxOf(outline);
  const jet = new Float64Array(JET_SIZE);
  const covariance = new Float64Array(3);
  const sds: number[] = [];
  const grades: number[] = [];
  const aims: number[] = [];
  let inside = 0;
  let level = 0;
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
        for (let k = 0; k < 3; k++) covariance[k] *= inflation * inflation;
        sds.push(Math.sqrt((covariance[0] + covariance[2]) / 2));
      }
      const [xx, xy, yy] = covariance;
      if (!flat && chanceOfWrongWay(jet[HX], jet[HY], xx, xy, yy) <= DOUBT) known += 1;
    }
  }
  for (let y = box.minY + PUTT_STEP / 2; y < box.maxY; y += PUTT_STEP) {
    for (let x = box.minX + PUTT_STEP / 2; x < box.maxX; x += PUTT_STEP) {
      if (insideRing(outline, x, y)) aims.push(...aimSds(surface, x, y, inflation));
    }
  }
  const over = inside - level;
  return {
    level: inside === 0 ? 0 : level / inside,
    medianGrade: grades.length === 0 ? 0 : quantile(grades, 0.5),
    directionKnown: over === 0 ? 0 : known / over,
    gradeSd: trust === null ? 0 : quantile(sds, 0.8),
    aimKnownTo: TWO_SIDED_95 * quantile(aims, 0.8),
  };
};

/** Standard deviations of the aims of the two ten-foot putts across the fall to a hole at (x, y). */
const aimSds = (surface: Surface, x: number, y: number, inflation: number): number[] => {
  const { toward } = fallAt(surface, [x, y]);
  const sds: number[] = [];
  for (const side of [1, -1]) {
    const line = new Float64Array(4 * PUTT_PARTS);
    let on = true;
    for (let k = 0; k < PUTT_PARTS; k++) {
      const d = (side * PUTT * (k + 0.5)) / PUTT_PARTS;
      const px = x - d * -toward[1];
      const py = y + d * -toward[0];
      on &&= insideRing(surface.outline, px, py);
      line.set([px, py, -toward[0] / PUTT_PARTS, -toward[1] / PUTT_PARTS], 4 * k);
    }
    if (!on) continue;
    const variance = surface.trust === null ? 0 : surface.trust.functionalVariance(line);
    sds.push(inflation * AIM_PER_GRADE * Math.sqrt(variance));
  }
  return sds;
};

/** What is known of ground to which no surface can be fitted. */
export const NOTHING_KNOWN: GroundQuality = {
  level: 0,
  medianGrade: 0,
  directionKnown: 0,
  gradeSd: Infinity,
  aimKnownTo: Infinity,
};
