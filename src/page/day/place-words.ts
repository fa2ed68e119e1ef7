import { sidesAt } from '../../course/frame.js';
import { greenSize } from '../../course/green-size.js';
import type { DayDistances } from '../../event/day-distances.js';
import { insideRing } from '../../geometry.js';
import { metresToFeet, metresToPaces, metresToYards } from '../../units.js';
import type { GreenContent } from '../book-content.js';
import { paceWords } from '../kit/location-words.js';
import { phrase, type Telling, type Worded } from '../words/words.js';
import type { SheetGreen } from './day-green.js';

/**
 * Paces to the four edges: on from the front and in from the near side as the location is given, and the
 * rest of the depth through the middle of the front and of the width there, so that each pair adds up.
 */
export const fourEdges = (
  { outline, locations }: Pick<SheetGreen, 'outline' | 'locations'>,
  tell: Worded,
): readonly string[] => {
  const { on, in: paces, side, at } = locations[0];
  const rest = (whole: number, part: number): string => paceWords(Math.max(0, whole - part));
  const depth = Math.round(metresToPaces(greenSize(outline).depth));
  const sides = sidesAt(outline, at[1]) ?? [at[0], at[0]];
  const wide = Math.round(metresToPaces(sides[1] - sides[0]));
  return [
    phrase(tell, 'day.on', { paces: paceWords(on) }),
    phrase(tell, `day.${side}`, { paces: paceWords(paces) }),
    phrase(tell, 'day.back', { paces: rest(depth, on) }),
    phrase(tell, side === 'left' ? 'day.right' : 'day.left', { paces: rest(wide, paces) }),
  ];
};

/** What is left of depth and width, in one line below the location's own: "9 back, 16 right". */
export const restInOne = ([, , back, far]: readonly string[], tell: Worded): string =>
  phrase(tell, 'day.rest', { back, far });

/** Farther off an axis than this share of the other, a miss is told by both: an eighth of a turn a word. */
const DIAGONAL = Math.tan(Math.PI / 8);

/**
 * The miss that is best in words, as a player on the line of approach sees it: "short left". It is where the best
 * leave lies from the hole; null where none is known on the green.
 */
export const bestMiss = ({ outline, locations }: GreenContent, tell: Worded): string | null => {
  const [{ at, regions }] = locations;
  const best = regions?.leave?.best;
  if (best === undefined || !insideRing(outline, best[0], best[1])) return null;
  const [across, along] = [best[0] - at[0], best[1] - at[1]];
  const deep = along < 0 ? 'short' : 'long';
  const side = across < 0 ? 'left' : 'right';
  if (Math.abs(along) < DIAGONAL * Math.abs(across)) return phrase(tell, `day.miss-${side}`);
  if (Math.abs(across) < DIAGONAL * Math.abs(along)) return phrase(tell, `day.${deep}`);
  return phrase(tell, `day.${deep}-${side}`);
};

/** To the hole and up to it, to front and back, and what is carried last: "412", "+9 ft", "401–430", "18 past sand". */
export const distanceWords = (
  { front, hole, back, rise, past }: DayDistances,
  tell: Telling,
): { readonly hole: string; readonly rise: string | null; readonly others: readonly string[] } => {
  const metric = tell.units === 'metric';
  const long = (metres: number): string => `${Math.round(metric ? metres : metresToYards(metres))}`;
  const high = (metres: number): string => {
    const size = Math.round(metric ? metres : metresToFeet(metres));
    const sign = size > 0 ? '+' : size < 0 ? '\u2212' : '';
    return `${sign}${Math.abs(size)} ${phrase(tell, metric ? 'unit.m' : 'unit.ft')}`;
  };
  return {
    hole: long(hole),
    rise: rise === null ? null : high(rise),
    others: [
      ...(front === null || back === null ? [] : [`${long(front)}\u2013${long(back)}`]),
      ...(past === null
        ? []
        : [
            phrase(tell, past.kind === 'water' ? 'day.past-water' : 'day.past-sand', {
              length: long(past.length),
            }),
          ]),
    ],
  };
};
