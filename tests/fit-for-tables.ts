import type { GreenWorth } from '../src/appraisal/worth.js';

/** The judgement of a green that nothing is wrong with. */
export const FIT_FOR_TABLES: GreenWorth = {
  worth: 'tables',
  judged: 'tables',
  overruled: null,
  reasons: ['made up for a test'],
  mend: [],
  kind: 'points',
  points: 400,
  spacing: 1,
  noise: 0.005,
  statedSigma: null,
  covered: 1,
  bare: [],
  unsure: [],
  notes: [],
  doubtfulCells: 0,
  surveyed: null,
  readAs: null,
};
