import type { Point } from '../../geometry.js';
import { HOLE_RADIUS } from '../../putt/capture.js';
import type { PracticeStation } from '../../putt/station.js';
import type { WalkRound } from '../../putt/walk-round.js';
import { phrase, type Telling } from '../words/words.js';
import { type DrawnStation, type PicturedHole, picturedTogether } from './station-figure.js';
import { aimWords, clockWords, levelPaceWords } from './station-words.js';

/** Aims nearer to the centre than this are drawn to the hole itself. */
const NEAR_CENTRE = HOLE_RADIUS / 4;

/** Uphill of the hole by so many metres. */
const uphillOf = ({ hole, fall }: Pick<PracticeStation, 'hole' | 'fall'>, by: number): Point => [
  hole[0] - fall[0] * by,
  hole[1] - fall[1] * by,
];

/** Where the strokes from below and above picture a hole on the level. */
const picturedOf = (station: PracticeStation, tell: Telling): readonly PicturedHole[] => {
  const holes = station.tees.flatMap(({ quadrant, pictured, outcome }): PicturedHole[] => {
    if (pictured === null || outcome !== 'solved') return [];
    if (quadrant !== 'below' && quadrant !== 'above') return [];
    // Farther on from below, and nearer from above: both uphill where the ground falls evenly.
    const up = quadrant === 'below' ? pictured : -pictured;
    if (Math.abs(up) < HOLE_RADIUS || Math.abs(up) > station.distance) return [];
    const words = phrase(tell, 'station.pictured-from', {
      quadrant: phrase(tell, `quadrant.${quadrant}`),
    });
    return [{ at: uphillOf(station, up), words }];
  });
  return picturedTogether(holes, phrase(tell, 'station.pictured'));
};

type PuttTee = Parameters<typeof aimWords>[0] & Parameters<typeof levelPaceWords>[0];

/** The putts of all tees in a row, for who has them read to them. */
const puttsInWords = <T extends PuttTee>(
  tees: readonly T[],
  nameOf: (tee: T) => string,
  tell: Telling,
): string =>
  tees
    .map((tee) =>
      phrase(tell, 'station.alt-putt', {
        quadrant: nameOf(tee),
        aim: aimWords(tee, tell),
        pace: levelPaceWords(tee, tell),
      }),
    )
    .join('; ');

/** A station as its figure draws it. */
export const drawnStation = (station: PracticeStation, tell: Telling): DrawnStation => {
  const { above, marker } = station;
  const serving = marker?.verdict === 'serves' ? marker : null;
  const target =
    serving !== null
      ? serving.best.at
      : above !== null && above.distance > NEAR_CENTRE
        ? above.at
        : null;
  const nameOf = ({ quadrant }: (typeof station.tees)[number]): string =>
    phrase(tell, `quadrant.${quadrant}`);
  const putts = puttsInWords(station.tees, nameOf, tell);
  return {
    ...station,
    tees: station.tees.map((tee) => ({
      at: tee.tee,
      outcome: tee.outcome,
      putt: tee.putt,
      lines: [
        { words: nameOf(tee), face: 'text-italic' as const },
        { words: aimWords(tee, tell), face: 'text-bold' as const },
        ...paceLine(levelPaceWords(tee, tell)),
      ],
    })),
    aims:
      target === null
        ? []
        : station.tees
            .filter(
              ({ picture, outcome }) => picture === 'over the point above' && outcome === 'solved',
            )
            .map(({ tee }) => ({ from: tee, to: target })),
    marker,
    over: serving === null ? target : null,
    pictured: picturedOf(station, tell),
    labels: 'inside',
    alt: phrase(tell, 'station.alt', { putts }),
  };
};

const paceLine = (words: string): { readonly words: string; readonly face: 'text' }[] =>
  words === '' ? [] : [{ words, face: 'text' }];

/** A walk round a hole as its figure draws it. */
export const drawnRound = (round: WalkRound, tell: Telling): DrawnStation => {
  const over = round.over;
  const isOff = over !== null && Math.hypot(over.uphill, over.right) > NEAR_CENTRE;
  const putts = puttsInWords(round.tees, ({ clock }) => clockWords(clock, tell), tell);
  return {
    ...round,
    tees: round.tees.map((tee) => ({
      at: tee.tee,
      outcome: tee.outcome,
      putt: tee.putt,
      lines: [
        { words: clockWords(tee.clock, tell), face: 'text-italic' as const },
        { words: aimWords(tee, tell), face: 'text-bold' as const },
      ],
    })),
    aims: isOff
      ? round.tees
          .filter(({ outcome }) => outcome === 'solved')
          .map(({ tee }) => ({ from: tee, to: over.at }))
      : [],
    marker: null,
    over: isOff ? over.at : null,
    pictured: [],
    labels: 'outside',
    alt: phrase(tell, 'round.alt', { putts }),
  };
};
