import { readFileSync, type Stats, statSync } from 'node:fs';
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
export const requireFile = (path: string, cure: string, told = path): void => {
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
};

/** The bytes of a file that a user named; throws as `requireFile` does. */
export const readNamedFile = (path: string, cure: string): Buffer => {
  requireFile(path, cure);
  try {
    return readFileSync(path);
  } catch (error) {
    throw withPath(error, path);
  }
};

/** The bytes of a file that this program keeps for itself; a pipe or a device in its place is not waited for. Any error: it is none. */
export const readOwnFile = (path: string): Buffer => {
  if (kindOfFile(path) !== 'a file') throw new Error('no plain file');
  return readFileSync(path);
};

/** A place to write to is free, or a plain file; a folder there is the system's to tell. */
export const refuseToReplace = (path: string): void => {
  const stats = statSync(path, { throwIfNoEntry: false });
  if (stats === undefined || stats.isFile() || stats.isDirectory()) return;
  throw new InputFault({ file: path }, `this is ${kindOf(stats)}, not a file`, 'name a file');
};
