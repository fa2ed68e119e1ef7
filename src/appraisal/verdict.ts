import { HOLE_RADIUS } from '../putt/capture.js';
import type { GroundQuality } from './ground-quality.js';
import { inEnglish, type Told, told } from './judge-words.js';
import type { Spacing } from './spacing.js';
import type { StripStep } from './strip-lines.js';

/** What a survey may be used for. */
export type SurveyUse = 'break-tables' | 'fall-arrows' | 'outline';

export interface Demand {
  /** What is asked: "points no more than 2 m apart". */
  readonly words: string;
  /** What the survey has: "2.9 m". */
  readonly has: string;
  /** Both, for any language. */
  readonly told: Told;
  readonly met: boolean;
  /** Why it is asked. */
  readonly why: string;
}

export interface Verdict {
  readonly use: SurveyUse;
  /** One line. */
  readonly line: string;
  /** Why: what is asked and not met, else how well it is known. */
  readonly reasons: readonly Told[];
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
  /** Whether its heights drift along the walk, or may: then neighbouring putts err together. */
  readonly adrift: boolean;
  /** Whether a grid's own roughness is all that tells its error. */
  readonly ownWord: boolean;
  /** Whether its places were paced: a reading that is wrong in all alike is not seen. */
  readonly byHand?: boolean;
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
  aimAdrift: 0.75 * HOLE_RADIUS,
  step: 0.01,
  hidden: HOLE_RADIUS,
  outliers: 0.02,
};
const ARROW = { coverage: 0.8, spacing: 5, direction: 0.95 };

/** A demand by its sentences. */
const demand = (
  asked: Told,
  found: string | Told,
  { met, why }: Pick<Demand, 'met' | 'why'>,
): Demand => ({
  words: inEnglish(asked),
  has: typeof found === 'string' ? found : inEnglish(found),
  told: told('judge.asked', { asked, found }),
  met,
  why,
});

export const judge = (evidence: Evidence): Verdict => {
  const { spacing, quality, steps, outlierShare, length, small } = evidence;
  const highest = steps.reduce((most, step) => Math.max(most, Math.abs(step.height)), 0);
  const apart = Math.max(spacing.mean, spacing.nearest);
  const covered = (least: number): Demand =>
    demand(told('judge.covered', { share: percent(least) }), percent(spacing.coverage), {
      met: spacing.coverage >= least,
      why: 'ground without points is guessed from the ground beside it',
    });
  const near = (most: number, why: string): Demand =>
    demand(
      told('judge.near', { length: length(most) }),
      Number.isFinite(apart) ? length(apart) : told('judge.none-on-it'),
      { met: apart <= most, why },
    );
  const stepFound =
    highest > 0
      ? small(highest)
      : Number.isFinite(evidence.stepPower)
        ? told('judge.step-found', {
            size: small(evidence.stepPower),
            aim: Number.isFinite(evidence.stepAim)
              ? small(evidence.stepAim)
              : told('judge.not-known'),
          })
        : told('judge.not-known');
  const aimFound = Number.isFinite(quality.aimRightTo)
    ? small(quality.aimRightTo)
    : told('judge.not-known');
  const aim = evidence.adrift ? TABLE.aimAdrift : TABLE.aim;
  const tables: Demand[] = [
    covered(TABLE.coverage),
    near(TABLE.spacing, 'the face of a tier is about as wide, and must not fall between points'),
    demand(told('judge.aim', { size: small(aim) }), aimFound, {
      met: quality.aimRightTo <= aim,
      why: "half a hole's width, less a tenth for what the estimate itself may be off, or a quarter where the heights drift, since putts then err together: an aim less well known does not tell the edge of the hole from its middle; the putts that miss it are marked in the tables",
    }),
    evidence.byHand === true
      ? demand(told('judge.instrument'), told('judge.by-hand'), {
          met: false,
          why: 'a level that is set up anew, or reads all alike too much, does not show in its places',
        })
      : demand(
          told('judge.step', { size: small(TABLE.step), aim: small(TABLE.hidden) }),
          stepFound,
          {
            met: highest < TABLE.step && evidence.stepAim <= TABLE.hidden,
            why: 'the ground beside it is tilted, and putts along it are aimed beside the hole',
          },
        ),
    demand(told('judge.error'), told(evidence.ownWord ? 'judge.error-none' : 'judge.known'), {
      met: !evidence.ownWord,
      why: 'a grid is smooth already: its roughness tells nothing of the error of the points beneath it',
    }),
    demand(told('judge.outliers', { share: percent(TABLE.outliers) }), percent(outlierShare), {
      met: outlierShare <= TABLE.outliers,
      why: 'more are no accident: the survey holds something that is not the ground',
    }),
  ];
  const arrows: Demand[] = [
    covered(ARROW.coverage),
    near(ARROW.spacing, 'a swale or a shelf is about as wide'),
    demand(
      told('judge.direction', { share: percent(ARROW.direction) }),
      percent(quality.directionRight),
      {
        met: quality.directionRight >= ARROW.direction,
        why: 'an arrow that may point a quarter turn wrong is worse than none',
      },
    ),
  ];
  const met = (demands: readonly Demand[]): boolean => demands.every((demand) => demand.met);
  const use: SurveyUse = !met(arrows) ? 'outline' : met(tables) ? 'break-tables' : 'fall-arrows';
  const missed = (use === 'outline' ? arrows : tables).filter((demand) => !demand.met);
  const step =
    highest > 0
      ? told('judge.a-step', { size: small(highest) })
      : told('judge.no-step', { size: small(evidence.stepPower) });
  const reasons =
    use === 'break-tables'
      ? [told('judge.right', { size: tables[2].has, step })]
      : missed.map((one) => one.told);
  const line = `${USE_WORDS[use]} (${reasons.map(inEnglish).join('; ')})`;
  return { use, line, reasons, tables, arrows };
};
