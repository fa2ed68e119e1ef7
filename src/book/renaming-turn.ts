import { rmSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { withPath } from '../machine-fault.js';
import { readOwnFile } from '../named-file.js';

/** Says whose turn it is to rename a set in the folder: two runs at once would leave some of each. */
export const TURN = '.runnel-turn';

const isAlive = (pid: number): boolean => {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'EPERM';
  }
};

/** A set is renamed in a moment: a list that is older than this, milliseconds, is of no run that has it in hand. */
export const LONGEST_RENAMING = 60_000;

/**
 * Whether a file was left by a run that is gone. Its number may be another process's by now, or our own: where each run has
 * the machine to itself, as in a container, all have the same.
 */
export const isLeft = (path: string, pid: number, age = Infinity): boolean => {
  if (!isAlive(pid)) return true;
  const written = statSync(path, { throwIfNoEntry: false })?.mtimeMs ?? Infinity;
  return Date.now() - written > age || (pid === process.pid && written < performance.timeOrigin);
};

/** Milliseconds between two looks whether it is one's turn. */
const LOOK_EVERY = 20;

/** Whether the file that says whose turn it is was left by a run that is gone. */
const isTurnLeft = (path: string): boolean => {
  try {
    return isLeft(
      path,
      Number(readOwnFile(path).toString('utf8')) || process.ppid,
      LONGEST_RENAMING,
    );
  } catch {
    return false;
  }
};

/** Takes away what says so of a run that is gone. */
export const clearTurn = (folder: string): void => {
  const path = join(folder, TURN);
  if (isTurnLeft(path)) rmSync(path, { force: true });
};

/** Waits until no other run renames a set in the folder, and gives what ends the own turn. */
export const takeTurn = (folder: string): (() => void) => {
  const path = join(folder, TURN);
  const wait = new Int32Array(new SharedArrayBuffer(4));
  for (let waited = 0; waited < LONGEST_RENAMING; waited += LOOK_EVERY) {
    try {
      writeFileSync(path, String(process.pid), { flag: 'wx' });
      return () => rmSync(path, { force: true });
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== 'EEXIST') {
        rmSync(path, { force: true });
        throw withPath(error, path);
      }
    }
    clearTurn(folder);
    Atomics.wait(wait, 0, 0, LOOK_EVERY);
  }
  return () => {};
};
