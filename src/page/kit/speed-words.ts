import { metresToFeet, metresToInches } from '../../units.js';
import { phrase, type Telling, type Worded } from '../words/words.js';

const trim = (value: number, digits: number): string => `${Number(value.toFixed(digits))}`;

/** "speed 10 ft, pace 12 in past". */
export const speedWords = (stimp: number, past: number, tell: Telling): string =>
  tell.units === 'metric'
    ? phrase(tell, 'speed.metric', { speed: trim(stimp, 2), past: trim(past * 100, 0) })
    : phrase(tell, 'speed.imperial', {
        speed: trim(metresToFeet(stimp), 1),
        past: trim(metresToInches(past), 0),
      });

/** What may be done with a page, in the fewest words; the how-to-read page says it in full. */
export const useWords = (use: 'practice' | 'play' | 'committee', tell: Worded): string =>
  phrase(tell, `use.${use}-short`);
