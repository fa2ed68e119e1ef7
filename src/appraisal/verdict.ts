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
const TABLE = { coverage: 0.95, spacing: 2, aim: HOLE_RADIUS, step: 0.01, outliers: 0.02 };
const ARROW = { coverage: 0.8, spacing: 5, direction: 0.75 };

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
  const tables: Demand[] = [
    covered(TABLE.coverage),
    near(TABLE.spacing, 'the face of a tier is about as wide, and must not fall between points'),
    {
      words: `the aim of ten-foot putts across the fall known to ${small(TABLE.aim)} at 95 %`,
      has: Number.isFinite(quality.aimKnownTo) ? small(quality.aimKnownTo) : 'not known',
      met: quality.aimKnownTo <= TABLE.aim,
      why: "half a hole's width: an aim less well known does not tell the edge of the hole from its middle; four putts in five must keep to it",
    },
    {
      words: `no step between strips of ${small(TABLE.step)} or more`,
      has: highest === 0 ? 'none' : small(highest),
      met: highest < TABLE.step,
      why: 'across a metre it would be a grade of 1 % that is not there',
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
      words: `the direction of fall known to 45 degrees at 95 % on ${percent(ARROW.direction)} of the ground over 0.9 %`,
      has: percent(quality.directionKnown),
      met: quality.directionKnown >= ARROW.direction,
      why: 'an arrow that may point a quarter turn wrong is worse than none',
    },
  ];
  const met = (demands: readonly Demand[]): boolean => demands.every((demand) => demand.met);
  const use: SurveyUse = !met(arrows) ? 'outline' : met(tables) ? 'break-tables' : 'fall-arrows';
  const missed = (use === 'outline' ? arrows : tables).filter((demand) => !demand.met);
  const reason =
    use === 'break-tables'
      ? `the aim of ten-foot putts across the fall is known to ${tables[2].has} at 95 %`
      : missed.map((demand) => `asked: ${demand.words}; found: ${demand.has}`).join('; ');
  return { use, line: `${USE_WORDS[use]} (${reason})`, tables, arrows };
};
