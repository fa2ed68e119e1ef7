import { WORTH_WORDS } from '../appraisal/worth.js';
import { puttOverBare } from '../book/surveyed-only.js';
import { locationOfPoint } from '../course/frame.js';
import { insideRing, type Point } from '../geometry.js';
import type { GreenContent } from '../page/book-content.js';
import { locationWords } from '../page/kit/location-words.js';
import { HOLE_RADIUS } from '../putt/capture.js';
import type { PuttSolution } from '../putt/putt.js';
import { aimReading, lengthReading, paceReading } from '../putt/rounding.js';
import { solvePutt } from '../putt/solve.js';
import { spreadOfPutt } from '../putt/spread.js';
import { TWO_SIDED_95 } from '../surface/normal-distribution.js';
import type { Surface } from '../surface/surface.js';
import type { UnitSystem } from '../units.js';

/** One putt in words and lines, ready to be shown; places in the frame of the green, metres. */
export interface PuttAnswer {
  readonly ball: Point;
  readonly hole: Point;
  readonly ballWords: string;
  readonly holeWords: string;
  /** Null when there is nothing to solve. */
  readonly aim: string | null;
  readonly pace: string | null;
  /** The rest, a name and a value each. */
  readonly facts: readonly (readonly [name: string, value: string])[];
  /** One sentence for a screen reader, and for what is wrong. */
  readonly said: string;
  readonly path: readonly Point[];
  /** Where the line of aim passes the hole; null when there is nothing to aim at. */
  readonly aimAt: Point | null;
}

const STATUS: Readonly<Record<PuttSolution['status'], string>> = {
  holed: 'holed',
  short: 'no launch reaches the hole',
  'never-stops': 'no pace holds this putt; this one arrives slowest',
  'leaves-green': 'the path leaves the green',
};

const placeWords = (green: GreenContent, at: Point): string =>
  insideRing(green.outline, at[0], at[1])
    ? locationWords(locationOfPoint(green.outline, '', at, {}))
    : 'off the green';

/** Beside the hole at the hole's distance, square to the straight line. */
const besideHole = ({ ball, hole, length, aimOffset }: PuttSolution): Point => [
  hole[0] - (aimOffset * (hole[1] - ball[1])) / length,
  hole[1] + (aimOffset * (hole[0] - ball[0])) / length,
];

const factsOf = (
  putt: PuttSolution,
  aimSd: number | null,
  isPastKnown: boolean,
  units: UnitSystem,
): PuttAnswer['facts'] => [
  ['length', lengthReading(putt.length, units)],
  ['breaks', putt.breakSide === 'straight' ? 'straight' : `to the ${putt.breakSide}`],
  ['enters', `${putt.entryClock.toFixed(1)} o’clock`],
  [
    'if it misses',
    !isPastKnown
      ? 'rolls onto ground that was not surveyed'
      : putt.wouldRollPast === null
        ? 'does not stop'
        : `rolls ${lengthReading(putt.wouldRollPast, units)} past`,
  ],
  ...(aimSd === null || !Number.isFinite(aimSd)
    ? []
    : [['survey', `aim ± ${aimReading(TWO_SIDED_95 * aimSd, units).figure} (95 %)`] as const]),
];

/** Solves a putt as `runnel putt` does, on the same surface as the book's tables. */
export const answerPutt = (
  surface: Surface,
  green: GreenContent,
  ball: Point,
  hole: Point,
  units: UnitSystem,
): PuttAnswer => {
  const places = {
    ball,
    hole,
    ballWords: placeWords(green, ball),
    holeWords: placeWords(green, hole),
  };
  const nothing = (said: string): PuttAnswer => ({
    ...places,
    aim: null,
    pace: null,
    facts: [],
    said,
    path: [],
    aimAt: null,
  });
  if (!insideRing(green.outline, hole[0], hole[1])) return nothing('The hole lies off the green.');
  if (!insideRing(green.outline, ball[0], ball[1])) return nothing('The ball lies off the green.');
  if (Math.hypot(ball[0] - hole[0], ball[1] - hole[1]) <= HOLE_RADIUS) {
    return nothing('The ball lies in the hole.');
  }
  if (green.worth.worth === 'outline') {
    return nothing(`No putts: this green is ${WORTH_WORDS.outline}.`);
  }
  const settings = { stimp: green.stimp, past: green.past };
  const putt = solvePutt(surface, ball, hole, settings);
  const over = puttOverBare(green.worth.bare, putt);
  if (over.way) {
    return nothing('The way crosses ground that was not surveyed.');
  }
  if (puttOverBare(green.worth.unsure, putt).way) {
    return nothing('The way crosses a face that the survey does not tell.');
  }
  if (putt.status === 'short') {
    return { ...nothing('No launch reaches the hole.'), path: putt.path };
  }
  const reading = aimReading(putt.aimOffset, units);
  const aim = reading.side === 'straight' ? 'straight' : `${reading.figure} ${reading.side}`;
  const pace = paceReading(putt.pace, units);
  const spread = spreadOfPutt(surface, putt, settings);
  const trouble = putt.status === 'holed' ? '' : ` ${STATUS[putt.status]}.`;
  return {
    ...places,
    aim,
    pace,
    facts: factsOf(putt, spread?.aimSd ?? null, !over.past, units),
    said: `Aim ${aim}, pace ${pace}.${trouble}${green.worth.worth === 'tables' ? '' : ` This green is ${WORTH_WORDS[green.worth.worth]}.`}`,
    path: putt.path,
    aimAt: Number.isFinite(putt.aimOffset) ? besideHole(putt) : null,
  };
};
