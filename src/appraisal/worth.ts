import type { Point } from '../geometry.js';
import type { Survey } from '../survey/survey.js';
import type { Appraisal } from './appraise.js';
import { inEnglish, type Told, told } from './judge-words.js';
import type { LengthWords } from './length-words.js';
import type { SurveyUse } from './verdict.js';

/** What may be printed of a green: its putts, how its ground falls, or no more than its edge. */
export type Worth = 'tables' | 'arrows' | 'outline';

/** The judgement of one green: made once from its survey, carried with it, obeyed by every product. */
export interface GreenWorth {
  /** What is printed. */
  readonly worth: Worth;
  /** What the survey is worth by itself; differs from `worth` only where the course file says so. */
  readonly judged: Worth;
  /** Why the course file overrules the judgement; null where it does not. */
  readonly overruled: string | null;
  /** Why it is worth no more; for tables, how well it is known. A sentence each, without a full stop. */
  readonly reasons: readonly string[];
  /** What a further survey must bring; nothing when it is fit for tables. */
  readonly mend: readonly string[];
  /** Both for any language; left out where the judgement is made up by hand. */
  readonly told?: { readonly reasons: readonly Told[]; readonly mend: readonly Told[] };
  readonly kind: Survey['kind'];
  /** A rough survey by hand, in paces. */
  readonly byHand?: boolean;
  /** On the green. */
  readonly points: number;
  /** Of neighbouring points, metres. */
  readonly spacing: number;
  /** Standard deviation of one height as its neighbours show it, and as the survey states it, metres. */
  readonly noise: number | null;
  readonly statedSigma: number | null;
  /** Share of the green near enough to a point. */
  readonly covered: number;
  /** Middles of the squares of `BARE_STEP` that are not, in the frame that was judged. */
  readonly bare: readonly Point[];
  /** Squares on the face of a tier whose grade is not known: see `GroundQuality.unsure`. */
  readonly unsure: readonly Point[];
  /** What the reader of the file had to assume, and what looks wrong. */
  readonly notes: readonly string[];
  /** Share of the cells of its tables whose aim is not known to half a hole; null where none were solved. */
  readonly doubtfulCells: number | null;
  /** When and how it was surveyed, as the course file tells; null where it does not. */
  readonly surveyed: string | null;
  /** How its file was read, one line; null where nothing was read from a file. */
  readonly readAs: string | null;
}

const WORTH_OF: Readonly<Record<SurveyUse, Worth>> = {
  'break-tables': 'tables',
  'fall-arrows': 'arrows',
  outline: 'outline',
};

/** "fit for fall arrows only" */
export const WORTH_WORDS: Readonly<Record<Worth, string>> = {
  tables: 'fit for break tables',
  arrows: 'fit for fall arrows only',
  outline: 'fit for the outline only',
};

/** Points no farther apart than this tell the face of a tier; asked of a survey for tables. */
const CLOSE = 2;
/** Share of the green that a survey for tables covers. */
const COVERED = 0.95;

/** What a further survey must bring, by what this one lacks. */
const mendOf = (
  appraisal: Appraisal,
  { length, small }: Pick<LengthWords, 'length' | 'small'>,
): Told[] => {
  const { spacing, kind, byHand, statedSigma, steps } = appraisal;
  const mend: Told[] = [];
  if (spacing.coverage < COVERED) mend.push(told('mend.bare'));
  if (!(Math.max(spacing.mean, spacing.nearest) <= CLOSE)) {
    mend.push(told('mend.near', { length: length(CLOSE) }));
  }
  if (kind === 'grid' && statedSigma === null) mend.push(told('mend.grid-error'));
  if (steps.length > 0) mend.push(told('mend.sessions'));
  if (byHand) mend.push(told('mend.instrument'));
  return mend.length > 0 ? mend : [told('mend.better', { length: length(1), size: small(0.008) })];
};

/** The judgement that an appraisal comes to. */
export const worthOf = (
  appraisal: Appraisal,
  { surveyed, readAs }: Pick<GreenWorth, 'surveyed' | 'readAs'>,
  words: Pick<LengthWords, 'length' | 'small'>,
): GreenWorth => {
  const { verdict, spacing } = appraisal;
  const judged = WORTH_OF[verdict.use];
  const { reasons } = verdict;
  const mend = judged === 'tables' ? [] : mendOf(appraisal, words);
  return {
    worth: judged,
    judged,
    overruled: null,
    reasons: reasons.map(inEnglish),
    mend: mend.map(inEnglish),
    told: { reasons, mend },
    kind: appraisal.kind,
    byHand: appraisal.byHand,
    points: spacing.onGreen,
    spacing: spacing.nearest,
    noise: appraisal.noise,
    statedSigma: appraisal.statedSigma,
    covered: spacing.coverage,
    bare: spacing.bare,
    unsure: appraisal.quality.unsure,
    notes: appraisal.notes,
    doubtfulCells: null,
    surveyed,
    readAs,
  };
};

/** Squares that no putt with a figure may cross. */
export const closedToPutts = ({ bare, unsure }: Pick<GreenWorth, 'bare' | 'unsure'>): Point[] => [
  ...bare,
  ...unsure,
];

/** What a course file says of a green against the judgement of its survey. */
export interface TrustEntry {
  readonly printAs: Worth;
  readonly because: string;
}

/** The judgement as the course file overrules it. */
export const overruledBy = (own: GreenWorth, trust: TrustEntry | null): GreenWorth =>
  trust === null || trust.printAs === own.judged
    ? own
    : { ...own, worth: trust.printAs, overruled: trust.because };

/** "fit for fall arrows only (asked: …)", or what the course file says in its place; one line. */
export const worthSentence = (own: GreenWorth): string => {
  const why = own.reasons.join('; ');
  if (own.overruled === null) return `${WORTH_WORDS[own.worth]} (${why})`;
  return `printed as ${WORTH_WORDS[own.worth]} by the course file (${own.overruled}); its survey is ${WORTH_WORDS[own.judged]} (${why})`;
};
