import {
  closeSync,
  constants,
  fstatSync,
  openSync,
  readFileSync,
  type Stats,
  statSync,
} from 'node:fs';
import { InputFault } from './fault.js';
import { withPath } from './machine-fault.js';

const kindOf = (stats: Stats): string =>
  stats.isFile()
    ? 'a file'
    : stats.isDirectory()
      ? 'a folder'
      : stats.isFIFO()
        ? 'a pipe'
        : stats.isSocket()
          ? 'a socket'
          : 'a device';

/** What is at a path, links followed: "a file", "a folder", "a pipe"; undefined when nothing is. */
export const kindOfFile = (path: string): string | undefined => {
  const stats = statSync(path, { throwIfNoEntry: false });
  return stats === undefined ? undefined : kindOf(stats);
};

/**
 * Looks at what a user named before it is opened, since a pipe would wait for ever and a device never end.
 * `told` is the name in the fault, `cure` what should be named.
 *
 * @throws InputFault when nothing is there, or no plain file; the system's error when it may not be looked at.
 */
const requireFile = (path: string, cure: string, told: string): Stats => {
  let stats: Stats;
  try {
    stats = statSync(path);
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code;
    if (code !== 'ENOENT' && code !== 'ENOTDIR' && code !== 'ERR_INVALID_ARG_VALUE') throw error;
    throw new InputFault({ file: told }, 'there is no such file', cure);
  }
  if (!stats.isFile()) {
    throw new InputFault({ file: told }, `this is ${kindOf(stats)}, not a file`, cure);
  }
  return stats;
};

/** A pipe that takes the place of a file once it was looked at is not waited for. (Windows has no such flag, nor such pipes.) */
const UNWAITING = constants.O_RDONLY | (constants.O_NONBLOCK ?? 0);

/**
 * Opens the file that a user named, to read: it is what was looked at, whatever takes its name meanwhile. `told` is the
 * name in the fault. Who opens it closes it.
 *
 * @throws InputFault when nothing is there, no plain file, or another than was looked at; the system's error when it may
 *   not be read.
 */
export const openNamedFile = (path: string, cure: string, told = path): number => {
  const seen = requireFile(path, cure, told);
  let file: number;
  try {
    file = openSync(path, UNWAITING);
  } catch (error) {
    throw withPath(error, path);
  }
  const { dev, ino } = fstatSync(file);
  if (dev === seen.dev && ino === seen.ino) return file;
  closeSync(file);
  throw new InputFault(
    { file: told },
    'another file took its place while it was opened',
    'run again',
  );
};

/** The bytes of a file that a user named; throws as `openNamedFile` does. */
export const readNamedFile = (path: string, cure: string): Buffer => {
  const file = openNamedFile(path, cure);
  try {
    return readFileSync(file);
  } catch (error) {
    throw withPath(error, path);
  } finally {
    closeSync(file);
  }
};

/** The bytes of a file that this program keeps for itself; a pipe or a device in its place is not waited for. Any error: it is none. */
export const readOwnFile = (path: string): Buffer => readNamedFile(path, '');

/** A place to write to is free, or a plain file; a folder there is the system's to tell. */
export const refuseToReplace = (path: string): void => {
  const stats = statSync(path, { throwIfNoEntry: false });
  if (stats === undefined || stats.isFile() || stats.isDirectory()) return;
  throw new InputFault({ file: path }, `this is ${kindOf(stats)}, not a file`, 'name a file');
};
