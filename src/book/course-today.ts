import type { Course, GreenSite } from '../course/course.js';
import type { LonLat } from '../course/course-map.js';
import type { GroundModel } from '../course/ground.js';
import type { HoleFigures } from '../course/hole-figures.js';
import { type DayDistances, dayDistances } from '../event/day-distances.js';
import type { DayLocation } from '../event/day-locations.js';
import type { Today } from '../event/today.js';
import { type TodaysTees, teesOfCourse, todaysTees } from '../event/todays-tees.js';
import type { Wind } from '../event/wind.js';
import { InputFault, quoted } from '../fault.js';
import type { Point } from '../geometry.js';
import { fromGreenFrame } from '../survey/survey.js';
import { degreesToRadians, radiansToDegrees } from '../units.js';

/** What the command line says of the day. */
export interface TodayOptions {
  /** Tees of all holes and of single ones; see `teesOfCourse`. */
  readonly tees?: string | undefined;
  readonly date?: string | undefined;
  readonly wind?: Wind | undefined;
}

/** A green, surveyed or known by its outline. */
type Framed = Pick<GreenSite, 'frame' | 'plane'>;

const onMap = ({ frame, plane }: Framed, [x, y]: Point): LonLat =>
  plane.toMap(...fromGreenFrame(frame, x, y));

/** The bearing of the line of approach, degrees clockwise from north; over a few metres the earth is flat. */
const bearingOf = (site: Framed): number => {
  const [a, b] = [onMap(site, [0, 0]), onMap(site, [0, 10])];
  const east = (b[0] - a[0]) * Math.cos(degreesToRadians(a[1]));
  return (radiansToDegrees(Math.atan2(east, b[1] - a[1])) + 360) % 360;
};

/** Tees that the course has, or a fault that lists them. */
const known = (tees: TodaysTees, names: ReadonlySet<string>, place: string): TodaysTees => {
  const wanted = tees.name?.toLowerCase();
  if (wanted === undefined || [...names].some((name) => name.toLowerCase() === wanted)) return tees;
  throw new InputFault(
    { place },
    `the course has no tees ${quoted(tees.name)}`,
    names.size === 0 ? 'its map shows none' : `its tees are ${[...names].join(', ')}`,
  );
};

export interface MeasuredCourse {
  readonly course: Course;
  readonly figures: readonly HoleFigures[];
  readonly ground: GroundModel | null;
}

/** Distances, bearings and weather of a day; `locations` are those of the day. */
export const todayOf = (
  { course, figures, ground }: MeasuredCourse,
  locations: readonly DayLocation[],
  options: TodayOptions = {},
): Today => {
  const names = new Set(figures.flatMap(({ tees }) => tees.map(({ name }) => name)));
  const asked = teesOfCourse(options.tees ?? '', '--tees');
  const teesOf = ({ holeId, tees }: DayLocation): TodaysTees => {
    const place = `hole ${holeId}`;
    const own =
      tees === null
        ? asked.ofHole.get(holeId)
        : todaysTees(
            tees,
            (problem) => new InputFault({ place }, problem, 'write as in: Moor +6, -10, 5m'),
          );
    return known({ ...asked.all, ...own, name: own?.name ?? asked.all.name }, names, place);
  };
  const distances = new Map<string, DayDistances>();
  const bearings = new Map<string, number>();
  for (const one of locations) {
    const own = course.holes.find(({ id }) => id === one.holeId);
    const site = own?.green ?? own?.outline ?? null;
    const hole = figures.find(({ id }) => id === one.holeId);
    if (site === null || hole === undefined) continue;
    bearings.set(one.holeId, bearingOf(site));
    distances.set(
      one.holeId,
      dayDistances(hole, onMap(site, one.location.at), teesOf(one), ground),
    );
  }
  return { distances, bearings, date: options.date ?? null, wind: options.wind ?? null };
};
