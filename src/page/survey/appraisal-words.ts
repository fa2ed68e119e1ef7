import type { Appraisal } from '../../appraisal/appraise.js';
import { lengthWordsIn } from '../../appraisal/length-words.js';
import type { SurveyUse } from '../../appraisal/verdict.js';
import type { Point } from '../../geometry.js';
import { feetToMetres } from '../../units.js';
import { sentenceWords } from '../kit/told-words.js';
import { intervalWords, withUnit } from '../kit/unit-words.js';
import { phrase, type Telling } from '../words/words.js';
import type { AppraisalWords } from './appraisal-page.js';

const WORTH_OF = {
  'break-tables': 'tables',
  'fall-arrows': 'arrows',
  outline: 'outline',
} as const satisfies Record<SurveyUse, string>;

const percent = (share: number): string => (100 * share).toFixed(0);

const pointsWords = ({ spacing, area, noise, quality }: Appraisal, tell: Telling): string => {
  const show = lengthWordsIn(tell.units);
  const values = {
    count: spacing.onGreen,
    area: withUnit(show.area(area), tell),
    apart: withUnit(show.length(spacing.mean), tell),
    covered: percent(spacing.coverage),
    level: percent(quality.level),
  };
  return noise === null
    ? phrase(tell, 'survey-picture.points', values)
    : phrase(tell, 'survey-picture.points-noise', {
        ...values,
        noise: withUnit(show.small(noise), tell),
      });
};

/** From contour to contour where some lie beside each other. */
const intervalOf = ({ contours }: NonNullable<Appraisal['reading']>): number | null => {
  const rises = contours.slice(1).map(({ height }, i) => height - contours[i].height);
  return rises.length === 0 ? null : Math.min(...rises);
};

const contourWords = ({ reading }: Appraisal, tell: Telling): string | null => {
  const interval = reading === null ? null : intervalOf(reading);
  if (interval === null) return null;
  return phrase(tell, 'survey-picture.contours', { interval: intervalWords(interval, tell) });
};

/** What a picture is of. */
export interface PicturedSurvey {
  readonly source: string;
  /** Where north lies in it, of unit length; null where no map tells. */
  readonly north: Point | null;
}

/** What stands beside the picture of a survey's worth. */
export const appraisalWords = (
  appraisal: Appraisal,
  { source, north }: PicturedSurvey,
  tell: Telling,
): AppraisalWords => {
  const show = lengthWordsIn(tell.units);
  const { quality, reading, verdict } = appraisal;
  const bar = tell.units === 'metric' ? '5 m' : '15 ft';
  return {
    words: tell.words,
    title: phrase(tell, 'survey-picture.title'),
    subtitle: source,
    lines: [
      phrase(tell, 'survey-picture.verdict', {
        worth: phrase(tell, `worth.${WORTH_OF[verdict.use]}`),
        reasons: verdict.reasons.map((one) => sentenceWords(one, tell)).join('; '),
      }),
      pointsWords(appraisal, tell),
      reading === null
        ? phrase(tell, 'survey-picture.too-few')
        : phrase(tell, 'survey-picture.slope', {
            slope: (100 * quality.gradeSd).toFixed(2),
            known: percent(quality.directionKnown),
          }),
    ],
    signed: (metres) => withUnit(show.signed(metres), tell),
    bar: {
      metres: tell.units === 'metric' ? 5 : feetToMetres(15),
      words: withUnit(bar, tell),
    },
    contours: contourWords(appraisal, tell),
    north,
  };
};
