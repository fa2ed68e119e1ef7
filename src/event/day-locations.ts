import type { Course, Hole, PlacedHoleLocation } from '../course/course.js';
import { locationOfPoint, pointOfLocation, sidesAt } from '../course/frame.js';
import { inPlane } from '../course/green-site.js';
import { greenSize } from '../course/green-size.js';
import { noSuchHole } from '../course/named-hole.js';
import { type FaultPlace, InputFault } from '../fault.js';
import type { Point, Ring } from '../geometry.js';
import { ringInFrame, toGreenFrame } from '../survey/survey.js';
import { metresToPaces, pacesToMetres } from '../units.js';
import type { DayEntry } from './day-file.js';

/** The hole location of one hole on one day. */
export interface DayLocation {
  readonly holeId: string;
  readonly day: number;
  readonly location: PlacedHoleLocation;
  /** Of today's tees, as the file has it; null where it says nothing. */
  readonly tees: string | null;
}

/** The outline of a hole's green in its own frame, metres; a fault when the map has no area of it. */
export const outlineInFrame = (hole: Hole, file: string): Ring => {
  const green = hole.green ?? hole.outline ?? null;
  if (green !== null) return ringInFrame(green.frame, green.outline);
  throw new InputFault(
    { file, place: `hole ${hole.id}` },
    'the map has no outline of its green, so that no place on it can be told',
    'name its green in the map by the key "green"',
  );
};

/** Depths of one green that differ by more are told: each is walked, or drawn, to a pace. */
const DEPTHS_APART = 2;

const tenth = (paces: number): number => Math.round(10 * paces) / 10;

/** Paces on from the front and in from the nearer side, whichever edges the entry counts from, or none. */
const fromNearEdges = (
  outline: Ring,
  entry: DayEntry,
  note: (words: string) => void,
): Pick<PlacedHoleLocation, 'on' | 'in' | 'side'> => {
  const { side } = entry;
  const depth = metresToPaces(greenSize(outline).depth);
  const on = entry.fromBack === true ? tenth(depth - entry.on) : entry.on;
  if (entry.fromBack === true) {
    note(
      `${tenth(entry.on)} from the back is ${on} from the front: the green is ${tenth(depth)} paces deep`,
    );
  }
  if (entry.depth !== undefined && Math.abs(entry.depth - depth) > DEPTHS_APART) {
    note(
      `the sheet has the green ${tenth(entry.depth)} paces deep, the map ${tenth(depth)}: look whether it is the same hole, and the map as the ground is`,
    );
  }
  const sides = sidesAt(outline, pacesToMetres(on));
  const wide = sides === null ? 0 : metresToPaces(sides[1] - sides[0]);
  if (entry.isCentred === true) {
    note(`the centre ${on} on is ${tenth(wide / 2)} from the left`);
    return { on, in: tenth(wide / 2), side: 'left' };
  }
  // Half a pace of grace, as in `pointOfLocation`.
  if (entry.in <= wide / 2 + 0.5 || entry.in > wide) return { on, in: entry.in, side };
  const other = side === 'left' ? 'right' : 'left';
  const rest = tenth(wide - entry.in);
  note(
    `${tenth(entry.in)} from the ${side} is past the middle: taken as ${rest} from the ${other}`,
  );
  return { on, in: rest, side: other };
};

/**
 * All hole locations by day: those of a file of days, and for the rest those that the course file gives
 * for single holes (the sheet that came in the evening is the newer word). By day, then in the order of
 * the book.
 *
 * @param entries what `readDayFile` read from `file`.
 * @param note told what was taken otherwise than it was written.
 * @throws InputFault with the line, when a hole is not in the course or a location is off its green.
 */
export const locationsByDay = (
  course: Course,
  entries: readonly DayEntry[],
  file: string,
  note: (words: string) => void,
): DayLocation[] => {
  const found = new Map<string, DayLocation>();
  for (const hole of course.holes) {
    for (const { day, location } of (hole.green ?? hole.outline)?.days ?? []) {
      found.set(`${hole.id} ${day}`, { holeId: hole.id, day, location, tees: null });
    }
  }
  const outlines = new Map<string, Ring>();
  for (const entry of entries) {
    const where = { file, place: `line ${entry.line}` };
    const hole = course.holes.find((one) => one.id === entry.hole);
    if (hole === undefined) {
      throw new InputFault(where, ...noSuchHole(course, entry.hole));
    }
    const outline = outlines.get(hole.id) ?? outlineInFrame(hole, course.file);
    outlines.set(hole.id, outline);
    const location = {
      name: `${entry.day}`,
      ...fromNearEdges(outline, entry, (words) => note(`${file}, line ${entry.line}: ${words}`)),
    };
    const at = pointOfLocation(
      outline,
      { ...location, name: `of hole ${hole.id}, day ${entry.day}` },
      where,
    );
    found.set(`${hole.id} ${entry.day}`, {
      holeId: hole.id,
      day: entry.day,
      location: { ...location, at },
      tees: entry.tees ?? null,
    });
  }
  const order = new Map(course.holes.map((hole, i) => [hole.id, i]));
  return [...found.values()].sort(
    (a, b) => a.day - b.day || (order.get(a.holeId) ?? 0) - (order.get(b.holeId) ?? 0),
  );
};

/** The days for which any location is given, rising. */
export const daysOf = (locations: readonly DayLocation[]): number[] =>
  [...new Set(locations.map((one) => one.day))].sort((a, b) => a - b);

/** A point as its survey gives it, or by longitude and latitude where there is none, in the frame of its green. */
const pointInFrame = ({ green, outline }: Hole, at: Point): Point => {
  if (green !== null) {
    return toGreenFrame(green.frame, ...inPlane(green.survey, green.plane, at));
  }
  return toGreenFrame(outline!.frame, ...outline!.plane.toPlane(at[0], at[1]));
};

/**
 * A surveyed point as a hole location: paces not rounded.
 *
 * @param at in the coordinates of the green's survey; longitude and latitude where it has none.
 * @throws InputFault when it is off the green.
 */
export const locationOfSurveyed = (
  hole: Hole,
  at: Point,
  name: string,
  where: FaultPlace,
): PlacedHoleLocation => {
  const outline = outlineInFrame(hole, where.file ?? '');
  const inFrame = pointInFrame(hole, at);
  return { ...locationOfPoint(outline, name, inFrame, where), at: inFrame };
};
