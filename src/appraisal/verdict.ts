import { HOLE_RADIUS } from '../putt/capture.js';
import type { GroundQuality } from './ground-quality.js';
import type { Spacing } from './spacing.js';
import type { StripStep } from './strip-steps.js';

/** What a survey may be used for. */
export type SurveyUse = 'break-tables' | 'fall-arrows' | 'outline';

export interface Demand {
  /** What is asked: "points no more than 2 m apart". */
  readonly words: string;
  /** What the survey has: "2.9 m". */
  readonly has: string;
  readonly met: boolean;
  /** Why it is asked. */
  readonly why: string;
}

export interface Verdict {
  readonly use: SurveyUse;
  /** One line. */
  readonly line: string;
  readonly tables: readonly Demand[];
  readonly arrows: readonly Demand[];
}

const USE_WORDS: Readonly<Record<SurveyUse, string>> = {
  'break-tables': 'fit for break tables',
  'fall-arrows': 'fit for fall arrows only',
  outline: 'fit for the outline only',
};

export interface Evidence {
  readonly spacing: Spacing;
  readonly quality: GroundQuality;
  readonly steps: readonly StripStep[];
  /** A step as large as this would have been found, metres. */
  readonly stepPower: number;
  /** What a step that the heights allow would turn the aim of four in five ten-foot putts by, at most; metres. */
  readonly stepAim: number;
  /** Whether a grid's own roughness is all that tells its error. */
  readonly ownWord: boolean;
  /** Share of the points on the green that do not fit the others. */
  readonly outlierShare: number;
  /** Shows a length: "2.0 m" or "6.6 ft". */
  readonly length: (metres: number) => string;
  /** Shows a small length: "8 mm" or "0.3 in". */
  readonly small: (metres: number) => string;
}

/** Rounded down, so that a share that misses its limit does not read as if it met it. */
const percent = (share: number): string => `${Math.floor(share * 1000 + 1e-6) / 10} %`;

/**
 * Limits; each demand says its reason. The hole is 108 mm wide (Rules of Golf, definition of Hole); the
 * others are this program's own.
 */
const TABLE = {
  coverage: 0.95,
  spacing: 2.2,
  aim: 0.9 * HOLE_RADIUS,
  step: 0.01,
  hidden: HOLE_RADIUS,
  outliers: 0.02,
};
const ARROW = { coverage: 0.8, spacing: 5, direction: 0.95 };

export const judge = (evidence: Evidence): Verdict => {
  const { spacing, quality, steps, outlierShare, length, small } = evidence;
  const highest = steps.reduce((most, step) => Math.max(most, Math.abs(step.height)), 0);
  const apart = Math.max(spacing.mean, spacing.nearest);
  const covered = (least: number): Demand => ({
    words: `${percent(least)} of the green surveyed`,
    has: percent(spacing.coverage),
    met: spacing.coverage >= least,
    why: 'ground without points is guessed from the ground beside it',
  });
  const near = (most: number, why: string): Demand => ({
    words: `points no more than ${length(most)} apart`,
    has: Number.isFinite(apart) ? length(apart) : 'none on it',
    met: apart <= most,
    why,
  });
  const stepFound =
    highest > 0
      ? small(highest)
      : Number.isFinite(evidence.stepPower)
        ? `none over ${small(evidence.stepPower)}, ${small(evidence.stepAim)} by one that may be hidden`
        : 'not known';
  const tables: Demand[] = [
    covered(TABLE.coverage),
    near(TABLE.spacing, 'the face of a tier is about as wide, and must not fall between points'),
    {
      words: `the aim of four in five ten-foot putts across the fall right to ${small(TABLE.aim)}`,
      has: Number.isFinite(quality.aimRightTo) ? small(quality.aimRightTo) : 'not known',
      met: quality.aimRightTo <= TABLE.aim,
      why: "half a hole's width, less a tenth for what the estimate itself may be off: an aim less well known does not tell the edge of the hole from its middle; the putts that miss it are marked in the tables",
    },
    {
      words: `no step over ${small(TABLE.step)} left in, and none hidden that turns four in five such aims by over ${small(TABLE.hidden)}`,
      has: stepFound,
      met: highest < TABLE.step && evidence.stepAim <= TABLE.hidden,
      why: 'the ground beside it is tilted, and putts along it are aimed beside the hole',
    },
    {
      words: 'an error that the survey states, or that its points show',
      has: evidence.ownWord ? 'a grid that states none' : 'known',
      met: !evidence.ownWord,
      why: 'a grid is smooth already: its roughness tells nothing of the error of the points beneath it',
    },
    {
      words: `no more than ${percent(TABLE.outliers)} of the points outliers`,
      has: percent(outlierShare),
      met: outlierShare <= TABLE.outliers,
      why: 'more are no accident: the survey holds something that is not the ground',
    },
  ];
  const arrows: Demand[] = [
    covered(ARROW.coverage),
    near(ARROW.spacing, 'a swale or a shelf is about as wide'),
    {
      words: `the direction of fall right to 45 degrees on ${percent(ARROW.direction)} of the ground over 0.9 %`,
      has: percent(quality.directionRight),
      met: quality.directionRight >= ARROW.direction,
      why: 'an arrow that may point a quarter turn wrong is worse than none',
    },
  ];
  const met = (demands: readonly Demand[]): boolean => demands.every((demand) => demand.met);
  const use: SurveyUse = !met(arrows) ? 'outline' : met(tables) ? 'break-tables' : 'fall-arrows';
  const missed = (use === 'outline' ? arrows : tables).filter((demand) => !demand.met);
  const reason =
    use === 'break-tables'
      ? `the aim of four in five ten-foot putts across the fall is right to ${tables[2].has}; ${highest > 0 ? `a step of ${small(highest)}` : `no step over ${small(evidence.stepPower)}`}`
      : missed.map((demand) => `asked: ${demand.words}; found: ${demand.has}`).join('; ');
  return { use, line: `${USE_WORDS[use]} (${reason})`, tables, arrows };
};
