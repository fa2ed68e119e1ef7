import { filled } from '../wording.js';

/** What a judgement of a survey says, in English; pages of other languages phrase it by the same names. */
export const JUDGE_WORDS = {
  'judge.asked': 'asked: {asked}; found: {found}',
  'judge.covered': '{share} of the green surveyed',
  'judge.near': 'points no more than {length} apart',
  'judge.none-on-it': 'none on it',
  'judge.aim': 'the aim of four in five ten-foot putts across the fall right to {size}',
  'judge.step':
    'no step over {size} left in, and none hidden that turns four in five such aims by over {aim}',
  'judge.instrument': 'heights by an instrument',
  'judge.by-hand': 'a sheet by hand',
  'judge.step-found': 'none over {size}, {aim} by one that may be hidden',
  'judge.error': 'an error that the survey states, or that its points show',
  'judge.error-none': 'a grid that states none',
  'judge.outliers': 'no more than {share} of the points outliers',
  'judge.direction':
    'the direction of fall right to 45 degrees on {share} of the ground over 0.9 %',
  'judge.known': 'known',
  'judge.not-known': 'not known',
  'judge.right':
    'the aim of four in five ten-foot putts across the fall is right to {size}; {step}',
  'judge.a-step': 'a step of {size}',
  'judge.no-step': 'no step over {size}',

  'mend.bare': 'points on the ground that has none',
  'mend.near': 'points no more than {length} apart',
  'mend.grid-error':
    'the error of the points beneath the grid, stated by the key "sigma", or those points themselves',
  'mend.sessions': 'one session for the whole green, or points that tie sessions',
  'mend.instrument': 'heights by an instrument: a sheet by hand is worth arrows at most',
  'mend.better': 'points {length} apart, each height good to {size} or better',
} as const;

export type JudgeKey = keyof typeof JUDGE_WORDS;

/** A sentence of a judgement: its wording and what is put into it, figures as they are written or sentences of their own. */
export interface Told {
  readonly key: JudgeKey;
  readonly with: Readonly<Record<string, string | Told>>;
}

export const told = (key: JudgeKey, values: Told['with'] = {}): Told => ({ key, with: values });

/** The sentence in English. */
export const inEnglish = ({ key, with: values }: Told): string =>
  filled(
    JUDGE_WORDS[key],
    Object.fromEntries(
      Object.entries(values).map(([name, value]) => [
        name,
        typeof value === 'string' ? value : inEnglish(value),
      ]),
    ),
  );
