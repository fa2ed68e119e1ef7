import type { Point, Ring } from '../geometry.js';
import type { Survey } from '../survey/survey.js';
import type { UnitSystem } from '../units.js';
import { appraise, type KnownGround } from './appraise.js';
import { lengthWordsIn } from './length-words.js';
import { type GreenWorth, worthOf } from './worth.js';

/** A fitted green: survey, outline, surface and reading in one frame, metres. */
export interface FittedGreen extends KnownGround {
  readonly survey: Survey;
  readonly outline: Ring;
  readonly drains?: readonly Point[];
  /** When and how it was surveyed, in words of the user's. */
  readonly surveyed?: string | null;
}

/** What the survey of a fitted green is worth, worded in a system of units. */
export const judgeSurvey = (
  { survey, outline, drains = [], surveyed = null, ...known }: FittedGreen,
  units: UnitSystem,
): GreenWorth => {
  const words = lengthWordsIn(units);
  const told = { surveyed, readAs: survey.how ?? null };
  return worthOf(appraise(survey, { outline, drains, ...words, known }), told, words);
};
