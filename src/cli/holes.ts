import { loadDay, loadDays } from '../book/course-days.js';
import type { Course, GreenSite, Hole, PlacedHoleLocation } from '../course/course.js';
import { loadCourse } from '../course/load-course.js';
import { holeOf } from '../course/named-hole.js';
import { type DayLocation, locationOfSurveyed } from '../event/day-locations.js';
import { InputFault, quoted } from '../fault.js';
import type { Point } from '../geometry.js';
import { locationWords } from '../page/kit/location-words.js';
import { fromGreenFrame } from '../survey/survey.js';
import { firstUnits, metresToFeet, type UnitSystem } from '../units.js';
import { printJson, printText, say } from './output.js';

interface HolesArguments {
  readonly course: string;
  readonly day: number | undefined;
  readonly hole: string | undefined;
  readonly locations: string | undefined;
  readonly at: string | undefined;
  readonly units: UnitSystem | undefined;
  readonly outside: boolean;
  readonly json: boolean;
}

interface Line {
  readonly hole: Hole;
  readonly day: number | null;
  readonly location: PlacedHoleLocation;
}

/** The frames of its green, surveyed or known from the map: one of the two, since it has a location. */
const groundOf = ({ hole }: Line): Pick<GreenSite, 'plane' | 'frame'> =>
  (hole.green ?? hole.outline)!;

const surveyed = (line: Line): Point => {
  const frame = groundOf(line).frame;
  return fromGreenFrame(frame, line.location.at[0], line.location.at[1]);
};

const to = (value: number, digits: number): number => Number(value.toFixed(digits));

const jsonOf = (line: Line): object => {
  const { hole, day, location } = line;
  const [x, y] = surveyed(line);
  const [longitude, latitude] = groundOf(line).plane.toMap(x, y);
  return {
    hole: hole.id,
    name: hole.name,
    ...(day === null ? { location: location.name } : { day }),
    on: to(location.on, 4),
    in: to(location.in, 4),
    side: location.side,
    words: locationWords(location),
    at_m: [to(location.at[0], 4), to(location.at[1], 4)],
    plane_m: [to(x, 3), to(y, 3)],
    longitude: to(longitude, 8),
    latitude: to(latitude, 8),
  };
};

/** Signed distance from the line of approach, in words: "8.2 m right of the line". */
const lengthWords = ([x, y]: Point, units: UnitSystem): string => {
  const show = (metres: number): string =>
    units === 'metric' ? `${metres.toFixed(1)} m` : `${Math.round(metresToFeet(metres))} ft`;
  return `${show(y)} on, ${show(Math.abs(x))} ${x < 0 ? 'left' : 'right'} of the line of approach`;
};

const textOf = (lines: readonly Line[], units: UnitSystem): string => {
  const rows = lines.map((line) => [
    line.hole.id,
    line.hole.name,
    line.day === null ? line.location.name : `day ${line.day}`,
    locationWords(line.location),
    lengthWords(line.location.at, units),
  ]);
  const widths = rows[0].map((_, i) => Math.max(...rows.map((row) => row[i].length)));
  return rows
    .map((row) =>
      row
        .map((cell, i) => (i === 0 ? cell.padStart(widths[i]) : cell.padEnd(widths[i])))
        .join('  ')
        .trimEnd(),
    )
    .join('\n');
};

const numbersOf = (text: string): Point => {
  const parts = text.split(/[\s,;]+/).filter((part) => part !== '');
  const numbers = parts.map(Number);
  if (numbers.length === 2 && numbers.every(Number.isFinite)) return [numbers[0], numbers[1]];
  throw new InputFault(
    { file: 'command line', place: '--at' },
    `${quoted(text)} is no position`,
    'write the two coordinates of the survey as in --at 387573.41,3608072.50',
  );
};

const lineOf = (course: Course, { holeId, day, location }: DayLocation): Line => ({
  hole: holeOf(course, holeId),
  day,
  location,
});

/** What is asked for: a surveyed point, one day, all days, or the locations by name when there are no days. */
const linesOf = (args: HolesArguments, course: Course): Line[] => {
  const only = args.hole === undefined ? null : holeOf(course, args.hole);
  if (args.at !== undefined) {
    if (only === null) {
      throw new InputFault(
        { file: 'command line', place: '--at' },
        'a surveyed point belongs to one green',
        'name it by --hole',
      );
    }
    const name = args.day === undefined ? 'surveyed' : `${args.day}`;
    const location = locationOfSurveyed(only, numbersOf(args.at), name, {
      file: 'command line',
      place: '--at',
    });
    return [{ hole: only, day: args.day ?? null, location }];
  }
  const source = { file: args.locations, note: say };
  const wanted =
    args.day === undefined ? loadDays(course, source) : loadDay(course, source, args.day);
  const lines: Line[] =
    wanted.length > 0
      ? wanted.map((one) => lineOf(course, one))
      : course.holes.flatMap((hole) =>
          ((hole.green ?? hole.outline)?.locations ?? []).map((location) => ({
            hole,
            day: null,
            location,
          })),
        );
  const shown = only === null ? lines : lines.filter((line) => line.hole === only);
  if (shown.length > 0) return shown;
  throw new InputFault(
    { file: course.file },
    only === null ? 'the course has no hole location' : `hole ${only.id} has no hole location`,
    'give them by the key "locations" or "days", or by --locations',
  );
};

export const runHoles = async (args: HolesArguments): Promise<void> => {
  const course = loadCourse(args.course, args);
  const lines = linesOf(args, course);
  if (args.json) {
    printJson({
      definition:
        'on: along the line of approach from the middle of the front edge; in: across it from the nearer side; paces of one yard',
      locations: lines.map(jsonOf),
    });
    return;
  }
  printText(textOf(lines, firstUnits(args.units, course.units)));
};
