import type { Course } from '../course/course.js';
import { fileOfCourse } from '../course/course-files.js';
import type { OutlineGreen } from '../course/outline-green.js';
import { type DayEntry, type DayFileOptions, readDayFile } from '../event/day-file.js';
import { type DayLocation, daysOf, locationsByDay } from '../event/day-locations.js';
import { InputFault, quoted } from '../fault.js';
import { readTextFile } from '../user-text.js';
import type { WantedGreen } from './wanted-green.js';

const PASTED = 'the lines pasted';

export interface DaySource {
  /** The file named on the command line; else the one in the course file. */
  readonly file?: string | undefined;
  /** Lines that were typed or pasted, instead of a file. */
  readonly pasted?: string | undefined;
  /** Told what was taken otherwise than it was written. */
  readonly note: (words: string) => void;
}

const locationsFrom = (
  course: Course,
  { file, pasted, note }: DaySource,
  options: DayFileOptions,
): DayLocation[] => {
  const titlesOf =
    (source: string) =>
    (line: number, words: string): void =>
      note(`${source}, line ${line}: ${quoted(words, 60)} names no hole: passed over`);
  if (pasted !== undefined) {
    const onTitle = titlesOf(PASTED);
    const entries = readDayFile(pasted, PASTED, { ...options, onTitle, isPasted: true });
    return locationsByDay(course, entries, PASTED, note);
  }
  const path =
    file ?? (course.dayFile === null ? null : fileOfCourse(course.folder, course.dayFile));
  const entries: DayEntry[] =
    path === null
      ? []
      : readDayFile(readTextFile(path), path, { ...options, onTitle: titlesOf(path) });
  return locationsByDay(course, entries, path ?? course.file, note);
};

/** The hole locations of all days. */
export const loadDays = (course: Course, source: DaySource): DayLocation[] =>
  locationsFrom(course, source, {});

/** The locations of one day, by what is said of that day alone; a fault when it has none. */
export const loadDay = (course: Course, source: DaySource, day: number): DayLocation[] => {
  const known = new Set<number>();
  const all = locationsFrom(course, source, { day, onOtherDay: (other) => known.add(other) });
  const found = all.filter((one) => one.day === day);
  if (found.length > 0) return found;
  for (const other of daysOf(all)) known.add(other);
  throw new InputFault(
    { file: course.file },
    `there is no hole location for day ${day}`,
    known.size === 0
      ? 'name a file with the columns hole,day,on,in,side by --locations, or by the key "days"'
      : `there are locations for day ${[...known].sort((a, b) => a - b).join(', ')}`,
  );
};

/** The greens of a day, in the order of the course, each with its one location. */
export const greensOfDay = (
  course: Course,
  locations: readonly DayLocation[],
  stimp: number | null,
): WantedGreen[] =>
  course.holes.flatMap((hole): WantedGreen[] => {
    const found = locations.find(({ holeId }) => holeId === hole.id);
    if (found === undefined || hole.green === null) return [];
    return [
      { hole, locations: [found.location], stimp: stimp ?? hole.green.stimp, regions: 'lanes' },
    ];
  });

/** What is shown of a green with its one location of a day. */
interface Shown {
  readonly holeId: string;
}

/** All greens of a day in the order of its locations: the surveyed ones, and the rest by their outlines. */
export const sheetOfDay = <G extends Shown>(
  locations: readonly DayLocation[],
  greens: readonly G[],
  outlines: readonly OutlineGreen[],
): (G | OutlineGreen)[] =>
  locations.flatMap(({ holeId, location }): (G | OutlineGreen)[] => {
    const green = greens.find((one) => one.holeId === holeId);
    if (green !== undefined) return [green];
    const outline = outlines.find((one) => one.holeId === holeId);
    return outline === undefined ? [] : [{ ...outline, locations: [location] }];
  });
