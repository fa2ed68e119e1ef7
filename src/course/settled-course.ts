import { readTextFile } from '../user-text.js';
import {
  type NamedInMap,
  namedGreens,
  otherNumbers,
  withNamedLines,
  withNamedTees,
} from './corrections.js';
import type { CourseFile, FaultAt, Path } from './course-file.js';
import type { CourseMap, MapFinding } from './course-map.js';
import { mapOfCourse } from './courses-in-map.js';
import { readMap } from './read-map.js';
import { settleMap } from './settle-map.js';
import type { SettledHole } from './settled-hole.js';
import { soundMap } from './sound-map.js';

/** The id of a hole that the course file numbers or names. */
export const holeIdOf = (entry: number | string): string =>
  /^\d+$/.test(String(entry)) ? String(Number(entry)) : String(entry).trim();

interface SettledCourse {
  readonly named: ReadonlyMap<string, string>;
  readonly settled: readonly SettledHole[];
  readonly map: CourseMap;
  readonly findings: readonly MapFinding[];
}

/** What is made of words alone: as an earlier run has made it, where that is kept. */
export type Remember = <T>(words: string, make: () => T) => T;

/** Makes all anew. */
export const rememberNothing: Remember = (_, make) => make();

/** All that a map is settled by, wherever it lies. */
interface Settling {
  readonly text: string;
  /** The course that is named; null where the map has one. */
  readonly course: string | null;
  readonly named: readonly { readonly id: string; readonly entry: NamedInMap }[];
}

const namedInMap = ({ green, line, tees }: NamedInMap): NamedInMap => ({
  ...(green === undefined ? {} : { green }),
  ...(line === undefined ? {} : { line }),
  ...(tees === undefined ? {} : { tees }),
});

/** What a course's map at a path is settled by; reads the map. */
export const settlingOf = ({ course, holes }: CourseFile, path: string): Settling => ({
  text: readTextFile(path),
  course: course ?? null,
  named: holes.map(({ hole, ...entry }) => ({ id: holeIdOf(hole), entry: namedInMap(entry) })),
});

/** The map of the course, corrected by the course file, settled and checked. */
export const settledCourse = (
  { text, course, named: entries }: Settling,
  path: string,
  fault: FaultAt,
): SettledCourse => {
  const chosen = mapOfCourse(readMap(text, path), course, (problem, cure) =>
    fault(course === null ? ['map'] : ['course'], problem, cure),
  );
  const corrected = entries.map(({ id, entry }, i) => ({
    id,
    entry,
    fault: (path: Path, problem: string, cure?: string) =>
      fault(['holes', i, ...path], problem, cure),
  }));
  const lined = withNamedLines(chosen, corrected);
  const named = namedGreens(lined, corrected);
  const {
    map: settledMap,
    holes,
    findings,
  } = settleMap(lined, {
    greens: named,
    lines: new Set(corrected.flatMap((one) => (one.entry.line === undefined ? [] : [one.id]))),
  });
  const map = withNamedTees(settledMap, corrected);
  // What the user names needs no second look.
  const isNamed = (words: string): boolean =>
    corrected.some(
      ({ id, entry }) =>
        (entry.green !== undefined || entry.line !== undefined) && words.startsWith(`hole ${id}: `),
    );
  return {
    named,
    settled: holes,
    map,
    findings: [
      ...otherNumbers(chosen, corrected),
      ...soundMap(map),
      ...findings.filter((one) => !isNamed(one.problem)),
    ],
  };
};
