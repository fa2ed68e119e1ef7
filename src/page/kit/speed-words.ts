import { metresToFeet, metresToInches, type UnitSystem } from '../../units.js';

const trim = (value: number, digits: number): string => `${Number(value.toFixed(digits))}`;

/** "speed 10 ft, pace 12 in past". */
export const speedWords = (stimp: number, past: number, units: UnitSystem): string =>
  units === 'metric'
    ? `speed ${trim(stimp, 2)} m, pace ${trim(past * 100, 0)} cm past`
    : `speed ${trim(metresToFeet(stimp), 1)} ft, pace ${trim(metresToInches(past), 0)} in past`;

/** What may be done with a page, in the fewest words; the how-to-read page says it in full. */
export const useWords = (use: 'practice' | 'play' | 'committee'): string =>
  ({
    practice: 'practice only',
    play: 'for play where the Committee allows it',
    committee: 'committee edition',
  })[use];
