import { closedToPutts, WORTH_WORDS } from '../appraisal/worth.js';
import { locationOfPoint } from '../course/frame.js';
import { insideRing, type Point } from '../geometry.js';
import type { GreenContent } from '../page/book-content.js';
import type { PuttSettings } from '../putt/putt.js';
import { practiceStation } from '../putt/station.js';
import { stationSetting } from '../putt/station-setting.js';
import { walkRound } from '../putt/walk-round.js';
import type { Surface } from '../surface/surface.js';
import { metresToPaces, pacesToMetres } from '../units.js';
import type { StationFigures } from './station-figures.js';
import { isBare, surveyedRound, surveyedStation } from './surveyed-only.js';

/** What is asked of a station about a hole. */
export interface AskedStation {
  /** The hole's letter; "" where it has none. */
  readonly name: string;
  readonly hole: Point;
  readonly settings: PuttSettings;
  /** Metres from the hole to each tee. */
  readonly step: number;
  /** Tees of the walk round the hole; 0 without one. */
  readonly round: number;
}

/** Why there is no station, and what would be right. */
export interface NoStation {
  readonly refused: string;
  readonly cure: string;
}

/** The least and the most from the hole to a tee, metres. */
const LEAST_STEP = pacesToMetres(1 / 3);
const MOST_STEP = pacesToMetres(6);

/** Why a step is none; null where it is one. */
export const refusedStep = (step: number): NoStation | null =>
  step >= LEAST_STEP && step <= MOST_STEP
    ? null
    : {
        refused: `tees ${metresToPaces(step).toFixed(1)} paces from the hole are no station`,
        cure: 'a third of a pace to six paces are, 1pace as a rule',
      };

const refusalOf = (
  { outline, worth, holeId }: GreenContent,
  asked: AskedStation,
): NoStation | null => {
  const { hole, step } = asked;
  if (worth.worth !== 'tables') {
    return {
      refused: `no station: the green of hole ${holeId} is ${WORTH_WORDS[worth.worth]}`,
      cure: 'a station rests on putts, and no putt rests on such a survey',
    };
  }
  if (!insideRing(outline, hole[0], hole[1])) {
    return { refused: 'the hole lies off the green', cure: 'choose a place on the green' };
  }
  if (isBare(closedToPutts(worth), hole)) {
    return {
      refused: 'the hole lies on ground that was not surveyed',
      cure: 'no figure rests on it: survey that ground, or choose another place',
    };
  }
  return refusedStep(step);
};

/** A practice station about any hole of a green, as far as the worth of its survey allows. */
export const stationOnGreen = (
  surface: Surface,
  green: GreenContent,
  asked: AskedStation,
): StationFigures | NoStation => {
  const refusal = refusalOf(green, asked);
  if (refusal !== null) return refusal;
  const { hole, settings, step, name } = asked;
  const closed = closedToPutts(green.worth);
  const station = surveyedStation(practiceStation(surface, hole, settings, step), closed);
  if (station === null || !station.tees.some(({ outcome }) => outcome === 'solved')) {
    return {
      refused: 'no tee of this station has a putt that the hole holds',
      cure: 'choose a place farther from the edge, or a shorter step',
    };
  }
  const round =
    asked.round === 0
      ? null
      : surveyedRound(
          walkRound(surface, hole, settings, { distance: step, count: asked.round }),
          closed,
        );
  return {
    location: locationOfPoint(green.outline, name, hole, {}),
    setting: stationSetting(green.outline, green.reading.streams, hole, station.fall),
    station,
    round,
  };
};
