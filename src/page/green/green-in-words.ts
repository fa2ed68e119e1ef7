import type { HoleLocation } from '../../course/course.js';
import { locationOfPoint } from '../../course/frame.js';
import { greenSize } from '../../course/green-size.js';
import { boxOf, middleOfBox, type Point, signedDistanceToRing } from '../../geometry.js';
import { isKept } from '../../terrain/reading.js';
import { metresToInches, metresToPaces, pacesToMetres } from '../../units.js';
import type { GreenContent, LocationContent, OutlinedGreen } from '../book-content.js';
import { locationWords } from '../kit/location-words.js';
import { phrase, type Telling, type Worded } from '../words/words.js';
import { sectionWords } from './section-words.js';

/** A green's figures in words, for those who do not see its picture: what the picture shows and no more. */

type NamedOutline = Pick<GreenContent, 'holeId' | 'name' | 'outline'>;

/** "Green 7, Gull's Table: 24 paces deep, 31 wide". */
export const outlineInWords = ({ holeId, name, outline }: NamedOutline, tell: Worded): string => {
  const { depth, width } = greenSize(outline);
  return phrase(tell, 'picture.green', {
    number: holeId,
    name,
    depth: Math.round(metresToPaces(depth)),
    width: Math.round(metresToPaces(width)),
  });
};

/** Tangent of 22.5 degrees: within it of an axis a direction goes by that axis alone. */
const EIGHTH = Math.SQRT2 - 1;

/** "the front left", as one stands before the green; the frame's y leads to the back. */
const directionWords = ([x, y]: Point, tell: Worded): string => {
  const along = Math.abs(y) >= EIGHTH * Math.abs(x) ? (y < 0 ? 'front' : 'back') : null;
  const across = Math.abs(x) >= EIGHTH * Math.abs(y) ? (x < 0 ? 'left' : 'right') : null;
  if (along !== null && across !== null) return phrase(tell, `picture.${along}-${across}`);
  return phrase(tell, `picture.${along ?? across ?? 'back'}`);
};

/** Nearer to the edge than this a place is on it: from a side it would read 0 or half a pace; paces. */
const ON_EDGE = 0.5;

/** "14 on, 5 from left", or how far on it is where it lies on the edge or beyond. */
const placeWords = (outline: GreenContent['outline'], at: Point, tell: Worded): string =>
  signedDistanceToRing(outline, at[0], at[1]) < -pacesToMetres(ON_EDGE)
    ? locationWords(locationOfPoint(outline, '', at, {}), tell)
    : phrase(tell, at[0] < 0 ? 'picture.edge-left' : 'picture.edge-right', {
        on: Math.max(0, Math.round(metresToPaces(at[1]))),
      });

const heightWords = (metres: number, tell: Telling): string =>
  tell.units === 'metric'
    ? `${Math.round(metres * 100)} ${phrase(tell, 'unit.cm')}`
    : `${Math.round(metresToInches(metres))} ${phrase(tell, 'unit.in')}`;

/** "Hole location A, 14 on, 5 from left, falls 1.9 % toward the front left". */
export const locationInWords = (location: LocationContent, tell: Worded): string => {
  const { ground } = location;
  const place = namedPlace(location, tell);
  return ground === null
    ? phrase(tell, 'picture.location', { place })
    : phrase(tell, 'picture.location-falls', {
        place,
        percent: (ground.grade * 100).toFixed(1),
        direction: directionWords(ground.toward, tell),
      });
};

/** "A, 14 on, 5 from left", without the letter where there is none. */
const namedPlace = (location: HoleLocation, tell: Worded): string =>
  [location.name, locationWords(location, tell)].filter((words) => words !== '').join(', ');

/** The main drainage line: from where to where, and whether it is one of many alike. */
const mainLineWords = ({ reading, outline }: GreenContent, tell: Worded): string[] =>
  reading.streams
    .filter(({ main, points }) => main && points.length > 1)
    .map((stream) => {
      const [head, mouth] = [stream.points[0], stream.points.at(-1)!].map(
        ([x, y]): Point => [x, y],
      );
      const line = phrase(tell, stream.mouth === 'drain' ? 'picture.drain' : 'picture.mouth', {
        from: placeWords(outline, head, tell),
        to: placeWords(outline, mouth, tell),
      });
      return isKept(stream) ? line : phrase(tell, 'picture.one-of-many', { line });
    });

/** High and low points with their heights above the lowest, as the picture gives them. */
const pointWords = ({ reading, outline }: GreenContent, tell: Telling): string[] => {
  const lowest = Math.min(...reading.critical.map(({ height }) => height));
  return reading.critical
    .filter(({ kind }) => kind !== 'saddle')
    .map(({ kind, at, height }) =>
      phrase(tell, kind === 'high' ? 'picture.high' : 'picture.low', {
        place: placeWords(outline, at, tell),
        height: heightWords(height - lowest, tell),
      }),
    );
};

/** How steep most and the steepest of the ground is. */
const bandWords = ({ reading }: GreenContent, tell: Worded): string[] => {
  const held = reading.bands.filter(({ polygons }) => polygons.length > 0);
  if (held.length === 0) return [];
  const percent = (grade: number): number => Number((grade * 100).toFixed(1));
  const last = held[held.length - 1];
  return [
    last.to === Infinity
      ? phrase(tell, 'picture.steepest', { percent: percent(last.from) })
      : phrase(tell, 'picture.no-steeper', { percent: percent(last.to) }),
  ];
};

/**
 * The picture of a green: depth and width, fall, main line, high and low points, hole locations. A committee
 * edition's has its sections by name, and nothing measured (Model Local Rule G-11).
 */
export const greenInWords = (
  green: GreenContent,
  tell: Telling,
  detail: 'full' | 'sections',
): string => {
  const sentences =
    detail === 'full'
      ? [
          ...bandWords(green, tell),
          ...mainLineWords(green, tell),
          ...pointWords(green, tell),
          ...green.locations.map((location) => locationInWords(location, tell)),
        ]
      : [
          ...green.reading.sections.map((section) => sectionWords(section, tell)),
          ...green.locations.map((location) =>
            phrase(tell, 'picture.location', { place: namedPlace(location, tell) }),
          ),
        ];
  return `${[outlineInWords(green, tell), ...sentences].join('. ')}.`;
};

/** The picture of a green by its outline: the hazards that are drawn round it, and its hole locations. */
export const outlinedInWords = (
  green: OutlinedGreen,
  hazards: OutlinedGreen['hazards'],
  tell: Worded,
): string => {
  const middle = middleOfBox(boxOf(green.outline));
  const sentences = [
    ...hazards.map(({ kind, ring }) => {
      const [x, y] = middleOfBox(boxOf(ring));
      const beside: Point = [x - middle[0], y - middle[1]];
      return phrase(tell, `picture.${kind}`, { direction: directionWords(beside, tell) });
    }),
    ...green.locations.map((location) =>
      phrase(tell, 'picture.location', { place: namedPlace(location, tell) }),
    ),
  ];
  const outline = phrase(tell, 'picture.from-map', { green: outlineInWords(green, tell) });
  return sentences.length === 0 ? outline : `${outline} ${sentences.join('. ')}.`;
};
