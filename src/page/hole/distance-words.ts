import type { Distances, Shot } from '../../course/distances.js';
import type { UnitSystem } from '../../units.js';
import { shownLength } from './hole-words.js';

/** A length in the units shown, whole. */
export const wholeLength = (metres: number, units: UnitSystem): number =>
  Math.round(shownLength(metres, units));

/** A rise with its sign: "+6". */
export const signedLength = (metres: number, units: UnitSystem): string => {
  const value = wholeLength(metres, units);
  return value > 0 ? `+${value}` : `${value}`;
};

/** "138 (rise +5, plays 143)", of the figures shown, so that the line adds up. */
const shotWords = ({ length, rise }: Shot, units: UnitSystem): string => {
  const whole = wholeLength(length, units);
  return rise === null
    ? `${whole}`
    : `${whole} (rise ${signedLength(rise, units)}, plays ${whole + wholeLength(rise, units)})`;
};

/** What is asked from one place: names and values, the green first, then hazards, the nearest first. */
export const distanceFacts = (
  from: Distances,
  units: UnitSystem,
): readonly (readonly [name: string, value: string])[] => [
  ['front', from.front === null ? '–' : shotWords(from.front, units)],
  ['middle', shotWords(from.middle, units)],
  ['back', from.back === null ? '–' : shotWords(from.back, units)],
  ...(from.landing === null
    ? []
    : [
        [
          from.landing.laidUp ? 'landing, laid up' : 'landing',
          shotWords(from.landing, units),
        ] as const,
      ]),
  ...from.hazards.map(
    ({ kind, side, near, far, feature }) =>
      [
        `${kind} ${side}${feature.name === null ? '' : `, ${feature.name}`}`,
        `reach ${shotWords(near, units)}, carry ${shotWords(far, units)}`,
      ] as const,
  ),
];
