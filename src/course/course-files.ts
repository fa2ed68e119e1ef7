import { realpathSync } from 'node:fs';
import { isAbsolute, join, relative, sep } from 'node:path';
import { type InputFault, quoted } from '../fault.js';
import { MESSAGE_LIMITS } from '../input-limits.js';
import { kindOfFile } from '../named-file.js';
import { filesBeside } from '../survey/readers/byte-source.js';
import type { FaultAt, Path } from './course-file.js';

/** The caddie's notes, beside the course file. */
export const NOTES = 'notes.yaml';

/** Where a file lies that a course file in `folder` names. */
export const fileOfCourse = (folder: string, name: string): string =>
  isAbsolute(name) ? name : join(folder, name);

/** Looks at a file that a key of the course file names; `beside`: with what is read with a survey. */
export type NamedFileCheck = (
  name: string,
  path: Path,
  fault: FaultAt,
  beside?: 'files beside',
) => string;

const liesIn = (folder: string, file: string): boolean => {
  const way = relative(folder, file);
  return way !== '..' && !way.startsWith(`..${sep}`) && !isAbsolute(way);
};

/**
 * A check that gives the path of a named file: it is there, a plain file, and inside the course's folder with
 * all links resolved, unless `outside` allows more. Who sends a course sends no way to other files with it.
 */
export const namedFiles =
  (folder: string, outside: boolean): NamedFileCheck =>
  (name, path, fault, beside) => {
    const file = fileOfCourse(folder, name);
    const home = realpathSync(folder);
    const refuseOutside = (one: string, told: string): void => {
      if (!outside && !liesIn(home, realpathSync(one))) throw outsideFault(told);
    };
    const outsideFault = (told: string): InputFault =>
      fault(
        path,
        `${quoted(told, MESSAGE_LIMITS.file)} lies outside the course's folder`,
        'move it there, or allow it by --outside',
      );
    // By its words first: what is there outside is not even told.
    if (!outside && !liesIn(folder, file)) throw outsideFault(name);
    const kind = kindOfFile(file);
    if (kind === undefined) {
      throw fault(
        path,
        `there is no file ${quoted(name, MESSAGE_LIMITS.file)}`,
        `names are relative to the course file's folder`,
      );
    }
    refuseOutside(file, name);
    if (kind !== 'a file')
      throw fault(
        path,
        `${quoted(name, MESSAGE_LIMITS.file)} is ${kind}, not a file`,
        'name a file',
      );
    for (const one of beside === undefined ? [] : filesBeside(file)) {
      if (kindOfFile(one) === 'a file') refuseOutside(one, relative(folder, one));
    }
    return file;
  };
