import { distancesFrom, widthAt } from '../course/distances.js';
import type { GroundModel } from '../course/ground.js';
import type { HoleFigures } from '../course/hole-figures.js';
import { distanceFacts, wholeLength } from '../page/hole/distance-words.js';
import type { HoleFrame } from '../page/hole/hole-frame.js';
import type { Mm } from '../page/marks/marks.js';
import type { UnitSystem } from '../units.js';

/** The distances from a place of a hole, ready to be shown. */
export interface DistancesAnswer {
  readonly facts: readonly (readonly [name: string, value: string])[];
  /** Where the place is, for a screen reader too. */
  readonly said: string;
}

/** Answers as `runnel distances` does; `at` is the place on the page of the hole, millimetres. */
export const answerDistances = (
  hole: HoleFigures,
  frame: HoleFrame,
  at: Mm,
  ground: GroundModel | null,
  units: UnitSystem,
): DistancesAnswer => {
  const from = distancesFrom(hole, frame.onGround(at), ground);
  const long = (metres: number): string => `${wholeLength(metres, units)}`;
  const unit = units === 'metric' ? 'metres' : 'yards';
  const beside =
    Math.abs(from.off) < 0.5
      ? ''
      : `, ${long(Math.abs(from.off))} ${from.off < 0 ? 'left' : 'right'}`;
  const width = widthAt(hole, from.along);
  return {
    said: `${long(from.along)} ${unit} on${beside} of the line of play.`.replace(
      ' on of the line',
      ' on along the line',
    ),
    facts: [
      ...distanceFacts(from, units),
      ...(width === null
        ? []
        : [
            [
              'fairway here',
              `${long(width.width)} wide, ${long(width.left)} left and ${long(width.right)} right of the line`,
            ] as const,
          ]),
    ],
  };
};
