import { boxOf, insideRing, type Point } from '../geometry.js';
import { HOLE_RADIUS } from '../putt/capture.js';
import { linesAcross } from '../surface/lines-across.js';
import { TEN_FEET } from '../surface/missed-step.js';
import { TWO_SIDED_95 } from '../surface/normal-distribution.js';
import { HX, HY, JET_SIZE, type Surface } from '../surface/surface.js';
import { chanceOfWrongWay, DOUBT } from '../terrain/doubt.js';
import { aimRightTo, LEVEL_GRADE, waysRight } from './right-share.js';
import { inSquares } from './spacing.js';
import { unsureFace } from './unsure-face.js';

/**
 * How well a fitted surface knows its own slope. Shares are of the green's area. What is known is told as widely as all
 * intervals are (`Trust.widening`); what is expected to be right, by which a survey is judged, is the best estimate.
 */
export interface GroundQuality {
  /** Ground under 0.9 %: doubtful, since greens are built to drain. */
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
  /** The same of what the edge of a swath that may run unseen does to them, by itself; null where none is expected. */
  readonly edgeAim: number | null;
  /** Of those putts the share whose aim is known to half a hole at 95 %: all others have a `~` in a table. */
  readonly aimsKnown: number;
  /**
   * Squares on the face of a tier that no putt with a figure may cross: the three figures above are of the
   * other putts. None where they would take most of the putts: then all putts are judged.
   */
  readonly unsure: readonly Point[];
}

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
  const edges = trust?.edges ?? null;
  const told = trust?.widening ?? 1;
  const ways = waysRight(edges);
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
        sds.push(told * Math.sqrt((covariance[0] + covariance[2]) / 2));
      }
      ways.add([x, y], [jet[HX], jet[HY]], covariance);
      if (flat) continue;
      const [xx, xy, yy] = covariance.map((own) => told * told * own);
      if (chanceOfWrongWay(jet[HX], jet[HY], xx, xy, yy) <= DOUBT) known += 1;
    }
  }
  const { aims, parts, unsure } = aimsOf(surface);
  const over = inside - level;
  return {
    level: inside === 0 ? 0 : level / inside,
    medianGrade: grades.length === 0 ? 0 : quantile(grades, 0.5),
    // Of a strip with no place in it that is looked at nothing is known.
    directionKnown: inside === 0 ? 0 : over < HARDLY_ANY * inside ? 1 : known / over,
    directionRight: inside === 0 ? 0 : ways.share(HARDLY_ANY * inside),
    gradeSd: trust === null ? 0 : quantile(sds, 0.8),
    aimKnownTo: told * TWO_SIDED_95 * quantile(aims.slice(), 0.8),
    aimRightTo: aimRightTo(aims, parts, edges),
    edgeAim:
      edges === null
        ? null
        : aimRightTo(
            aims.map(() => 0),
            parts,
            edges,
          ),
    aimsKnown:
      aims.filter((sd) => told * TWO_SIDED_95 * sd <= HOLE_RADIUS).length /
      Math.max(1, aims.length),
    unsure,
  };
};

/** Standard deviations of the aims all over the green, but for putts across the face of a tier that is not known. */
const aimsOf = (surface: Surface) => {
  const unsure = unsureFace(surface);
  const isUnsure = inSquares(unsure);
  const { trust } = surface;
  const all = linesAcross(surface, TEN_FEET).map(({ slope, places }) => ({
    clear: !places.some(isUnsure),
    sd: AIM_PER_GRADE * Math.sqrt(trust === null ? 0 : trust.functionalVariance(slope)),
    parts: (trust?.edges?.parts(slope) ?? new Float64Array(0)).map((part) => AIM_PER_GRADE * part),
  }));
  const clear = all.filter((one) => one.clear);
  const left = clear.length >= LEAST_LEFT * all.length;
  const judged = left ? clear : all;
  return {
    aims: judged.map(({ sd }) => sd),
    parts: judged.map(({ parts }) => parts),
    unsure: left ? unsure : [],
  };
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
  edgeAim: null,
  aimsKnown: 0,
  unsure: [],
};
