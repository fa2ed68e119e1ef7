import { locationOfPoint } from '../../course/frame.js';
import { greenSize } from '../../course/green-size.js';
import { insideRing, type Point } from '../../geometry.js';
import { isKept } from '../../terrain/reading.js';
import { metresToInches, metresToPaces, type UnitSystem } from '../../units.js';
import type { GreenContent, LocationContent } from '../book-content.js';
import { locationWords } from '../kit/location-words.js';

/** A green's figures in words, for those who do not see its picture: what the picture shows and no more. */

type NamedOutline = Pick<GreenContent, 'holeId' | 'name' | 'outline'>;

/** "Green 7, Gull's Table: 24 paces deep, 31 wide". */
export const outlineInWords = ({ holeId, name, outline }: NamedOutline): string => {
  const { depth, width } = greenSize(outline);
  return `Green ${holeId}, ${name}: ${Math.round(metresToPaces(depth))} paces deep, ${Math.round(metresToPaces(width))} wide`;
};

/** Tangent of 22.5 degrees: within it of an axis a direction goes by that axis alone. */
const EIGHTH = Math.SQRT2 - 1;

/** "the front left", as one stands before the green; the frame's y leads to the back. */
const directionWords = ([x, y]: Point): string => {
  const along = Math.abs(y) >= EIGHTH * Math.abs(x) ? (y < 0 ? 'front' : 'back') : '';
  const across = Math.abs(x) >= EIGHTH * Math.abs(y) ? (x < 0 ? 'left' : 'right') : '';
  return `the ${[along, across].filter((word) => word !== '').join(' ')}`;
};

/** "14 on, 5 from left", or how far on it is where it lies on the edge or beyond. */
const placeWords = (outline: GreenContent['outline'], at: Point): string =>
  insideRing(outline, at[0], at[1])
    ? locationWords(locationOfPoint(outline, '', at, {}))
    : `the edge ${Math.max(0, Math.round(metresToPaces(at[1])))} on, ${at[0] < 0 ? 'left' : 'right'}`;

const heightWords = (metres: number, units: UnitSystem): string =>
  units === 'metric'
    ? `${Math.round(metres * 100)} cm`
    : `${Math.round(metresToInches(metres))} in`;

/** "Hole location A, 14 on, 5 from left, falls 1.9 % toward the front left". */
export const locationInWords = (location: LocationContent): string => {
  const { name, ground } = location;
  const falls =
    ground === null
      ? ''
      : `, falls ${(ground.grade * 100).toFixed(1)} % toward ${directionWords(ground.toward)}`;
  return `Hole location ${name}${name === '' ? '' : ', '}${locationWords(location)}${falls}`;
};

/** The main drainage line: from where to where, and whether it is one of many alike. */
const mainLineWords = ({ reading, outline }: GreenContent): string[] =>
  reading.streams
    .filter(({ main, points }) => main && points.length > 1)
    .map((stream) => {
      const [head, mouth] = [stream.points[0], stream.points.at(-1)!].map(
        ([x, y]): Point => [x, y],
      );
      const end = stream.mouth === 'drain' ? 'to a drain at ' : 'off the green at ';
      return `The main line of drainage runs from ${placeWords(outline, head)} ${end}${placeWords(outline, mouth)}${isKept(stream) ? '' : ', one of many alike'}`;
    });

/** High and low points with their heights above the lowest, as the picture gives them. */
const pointWords = ({ reading, outline }: GreenContent, units: UnitSystem): string[] => {
  const lowest = Math.min(...reading.critical.map(({ height }) => height));
  return reading.critical
    .filter(({ kind }) => kind !== 'saddle')
    .map(
      ({ kind, at, height }) =>
        `${kind === 'high' ? 'High' : 'Low'} point at ${placeWords(outline, at)}, height ${heightWords(height - lowest, units)}`,
    );
};

/** How steep most and the steepest of the ground is. */
const bandWords = ({ reading }: GreenContent): string[] => {
  const held = reading.bands.filter(({ polygons }) => polygons.length > 0);
  if (held.length === 0) return [];
  const percent = (grade: number): string => `${Number((grade * 100).toFixed(1))} %`;
  const last = held[held.length - 1];
  return [
    last.to === Infinity
      ? `Steepest ground over ${percent(last.from)}`
      : `No ground over ${percent(last.to)}`,
  ];
};

/**
 * The picture of a green: depth and width, fall, main line, high and low points, hole locations. A committee
 * edition's has its sections by name, and nothing measured (Model Local Rule G-11).
 */
export const greenInWords = (
  green: GreenContent,
  units: UnitSystem,
  detail: 'full' | 'sections',
): string => {
  const sentences =
    detail === 'full'
      ? [
          ...bandWords(green),
          ...mainLineWords(green),
          ...pointWords(green, units),
          ...green.locations.map(locationInWords),
        ]
      : [
          ...green.reading.sections.map(({ name }) => name.charAt(0).toUpperCase() + name.slice(1)),
          ...green.locations.map(
            (location) => `Hole location ${location.name}, ${locationWords(location)}`,
          ),
        ];
  return `${[outlineInWords(green), ...sentences].join('. ')}.`;
};
