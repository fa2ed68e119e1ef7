import { phrase, type Worded } from '../words/words.js';

/** By what pages call a green: the number of its hole, or a letter for a practice green. */
export const greenMark = (holeId: string, tell: Worded): string =>
  /^[A-Z]?\d+$/.test(holeId) ? holeId : phrase(tell, 'green.practice');
