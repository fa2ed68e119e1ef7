import { JUDGE_WORDS } from '../../appraisal/judge-words.js';
import { COMMON_WORDS } from './english/common.js';
import { DAY_WORDS } from './english/day.js';
import { FRONT_WORDS } from './english/front.js';
import { GREEN_WORDS } from './english/green.js';
import { HANDOUT_WORDS } from './english/handouts.js';
import { HOLE_WORDS } from './english/hole.js';
import { NOTE_WORDS } from './english/notes.js';
import { PICTURE_WORDS } from './english/pictures.js';
import { PUTT_WORDS } from './english/putts.js';
import { SHEET_WORDS } from './english/sheets.js';
import { STATION_WORDS } from './english/station.js';
import { SURVEY_WORDS } from './english/survey.js';

/**
 * English, complete: what it lacks no page can phrase. One file a room of pages; a translation names the same keys
 * in one words file.
 */
export const ENGLISH = {
  ...COMMON_WORDS,
  ...FRONT_WORDS,
  ...GREEN_WORDS,
  ...PUTT_WORDS,
  ...STATION_WORDS,
  ...DAY_WORDS,
  ...NOTE_WORDS,
  ...HOLE_WORDS,
  ...HANDOUT_WORDS,
  ...SURVEY_WORDS,
  ...SHEET_WORDS,
  ...PICTURE_WORDS,
  ...JUDGE_WORDS,
} as const;
