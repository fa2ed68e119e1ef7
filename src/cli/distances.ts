import { loadNotes } from '../book/load-notes.js';
import { courseFigures } from '../course/course-figures.js';
import type { LonLat } from '../course/course-map.js';
import {
  type Distances,
  distancesFrom,
  heightsAlong,
  placeOnHole,
  type Shot,
  widthAt,
} from '../course/distances.js';
import type { HoleFigures } from '../course/hole-figures.js';
import { loadCourse } from '../course/load-course.js';
import { holeAsWritten } from '../course/named-hole.js';
import { withMeasured } from '../event/notes-file.js';
import { InputFault, namesInPart, quoted } from '../fault.js';
import { distanceFacts, signedLength, wholeLength } from '../page/hole/distance-words.js';
import { openFonts } from '../print/fonts.js';
import { firstUnits, METRES_PER_YARD, pacesToMetres, type UnitSystem } from '../units.js';
import { printJson, printText } from './output.js';
import { toldGround } from './told-ground.js';

interface DistancesArguments {
  readonly course: string;
  readonly hole: string;
  readonly from: string | undefined;
  readonly width: string | undefined;
  readonly units: UnitSystem | undefined;
  readonly outside: boolean;
  readonly json: boolean;
}

interface Place {
  readonly name: string;
  readonly at: LonLat;
}

/** Heights along the line are told this far apart, in the units shown. */
const STEP = 25;

const fault = (place: string, problem: string, cure: string): InputFault =>
  new InputFault({ file: 'command line', place }, problem, cure);

const knownPlaces = (hole: HoleFigures): Place[] => [
  ...hole.tees.map(({ name, at }) => ({ name, at })),
  ...hole.landmarks.map(({ name, at }) => ({ name, at })),
];

/** The place that --from names. */
const placeNamed = (hole: HoleFigures, words: string): Place => {
  const known = knownPlaces(hole);
  const named = known.find((one) => one.name.toLowerCase() === words.trim().toLowerCase());
  if (named !== undefined) return named;
  const paced = /^\s*(\d{1,3}(?:\.\d+)?)\s*(?:(left|right)\s+(\d{1,3}(?:\.\d+)?))?\s*$/i.exec(
    words,
  );
  if (paced !== null) {
    const [, on, side, beside] = paced;
    const off = side === undefined ? 0 : Number(beside) * (side.toLowerCase() === 'left' ? -1 : 1);
    return {
      name: words.trim(),
      at: placeOnHole(hole, pacesToMetres(Number(on)), pacesToMetres(off)),
    };
  }
  const point = words.split(',').map((part) => (part.trim() === '' ? Number.NaN : Number(part)));
  if (point.length === 2 && point.every(Number.isFinite) && Math.abs(point[1]) <= 90) {
    return { name: words.trim(), at: [point[0], point[1]] };
  }
  throw fault(
    '--from',
    `${quoted(words, 40)} is no place of hole ${hole.id}`,
    `write paces on ("210", "210 left 15"), longitude,latitude, or ${namesInPart(known.map((one) => one.name))}`,
  );
};

const placeWords = (name: string, from: Distances, units: UnitSystem): string[] => [
  `from ${name}`,
  ...distanceFacts(from, units).map(([fact, value]) =>
    fact.includes(' ') ? `  ${fact}: ${value}` : `  ${fact.padEnd(7)} ${value}`,
  ),
];

const shotJson = (shot: Shot | null) =>
  shot === null ? null : { length_m: shot.length, rise_m: shot.rise, plays_as_m: shot.playsAs };

const placeJson = (name: string, from: Distances) => ({
  from: name,
  at: from.at,
  along_m: from.along,
  off_m: from.off,
  front: shotJson(from.front),
  middle: shotJson(from.middle),
  back: shotJson(from.back),
  landing: from.landing && { ...shotJson(from.landing), laid_up: from.landing.laidUp },
  hazards: from.hazards.map(({ feature, kind, side, near, far }) => ({
    feature: feature.id,
    name: feature.name,
    kind,
    side,
    reach: shotJson(near),
    carry: shotJson(far),
  })),
});

const widthsAsked = (text: string | undefined, units: UnitSystem): number[] =>
  (text ?? '')
    .split(/[\s,;]+/)
    .filter((part) => part !== '')
    .map((part) => {
      const value = Number(part);
      if (value > 0 && value < 1000) return units === 'metric' ? value : value * METRES_PER_YARD;
      throw fault('--width', `${quoted(part, 20)} is no distance`, 'write yards: 200,250');
    });

/** The distances of one hole, in words or as JSON. */
export const runDistances = async (args: DistancesArguments): Promise<void> => {
  const bare = loadCourse(args.course, args);
  const units = firstUnits(args.units, bare.units);
  const course = withMeasured(bare, loadNotes(bare, openFonts()));
  const ground = await toldGround(course);
  const all = courseFigures(course, ground);
  const wanted = args.hole.trim().replace(/^0+(?=\d)/, '');
  const hole = all.find((one) => one.id === wanted);
  if (hole === undefined) {
    throw new InputFault(
      { file: course.file },
      `the course has no hole ${holeAsWritten(wanted)} with a line of play`,
      `it has ${all.map((one) => one.id).join(', ')}`,
    );
  }
  const places = args.from === undefined ? knownPlaces(hole) : [placeNamed(hole, args.from)];
  const from = places.map(({ name, at }) => ({ name, from: distancesFrom(hole, at, ground) }));
  const widths = widthsAsked(args.width, units).map((along) => ({
    along,
    width: widthAt(hole, along),
  }));
  const step = units === 'metric' ? STEP : STEP * METRES_PER_YARD;
  const heights = ground === null ? [] : heightsAlong(hole, ground, step);
  if (args.json) {
    printJson({
      hole: hole.id,
      definition:
        'straight lengths on the ellipsoid; front and back on the line to the middle of the green; reach and carry: near and far edge; plays as: length and rise',
      places: from.map((one) => placeJson(one.name, one.from)),
      widths: widths.map(({ along, width }) => ({
        along_m: along,
        width_m: width?.width ?? null,
        left_m: width?.left ?? null,
        right_m: width?.right ?? null,
      })),
      heights: heights.map(({ along, rise }) => ({ along_m: along, rise_m: rise })),
    });
    return;
  }
  const unit = units === 'metric' ? 'metres' : 'yards';
  printText(
    [
      `hole ${hole.id}, ${hole.name}; ${unit}`,
      ...from.flatMap((one) => placeWords(one.name, one.from, units)),
      ...widths.map(({ along, width }) =>
        width === null
          ? `at ${wholeLength(along, units)} the line is on no fairway`
          : `at ${wholeLength(along, units)} the fairway is ${wholeLength(width.width, units)} wide: ${wholeLength(width.left, units)} to the left of the line, ${wholeLength(width.right, units)} to the right`,
      ),
      ...(heights.length === 0
        ? []
        : [
            `heights along the line over its start: ${heights.map(({ along, rise }) => `${wholeLength(along, units)} ${signedLength(rise, units)}`).join(', ')}`,
          ]),
    ].join('\n'),
  );
};
