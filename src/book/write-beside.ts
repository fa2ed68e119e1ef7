import {
  closeSync,
  fsyncSync,
  mkdirSync,
  openSync,
  readdirSync,
  renameSync,
  rmSync,
  statSync,
  writeSync,
} from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { withPath } from '../machine-fault.js';
import { refuseToReplace } from '../named-file.js';

/** Marks a file that a run was still writing; `sweep` removes those that a killed run left. */
const PART = '.runnel-part';
const PART_OF_PROCESS = new RegExp(`\\.(\\d+)\\${PART}$`);

/** Writes the bytes beside their place and returns the part's name; no part is left when that fails. */
const writePart = (path: string, bytes: Uint8Array | string): string => {
  const part = `${path}.${process.pid}${PART}`;
  let file: number | undefined;
  try {
    refuseToReplace(path);
    mkdirSync(dirname(path), { recursive: true });
    file = openSync(part, 'w');
    const data = typeof bytes === 'string' ? Buffer.from(bytes, 'utf8') : bytes;
    let at = 0;
    while (at < data.length) at += writeSync(file, data, at);
    fsyncSync(file);
    closeSync(file);
    return part;
  } catch (error) {
    if (file !== undefined) {
      closeSync(file);
      rmSync(part, { force: true });
    }
    throw withPath(error, path);
  }
};

/**
 * Writes files, each whole or not at all: all of them beside their places first, then renamed over the old
 * ones, which stay as they were until every new one is complete on disk.
 */
const writeTogether = (
  files: readonly { readonly path: string; readonly bytes: Uint8Array | string }[],
): void => {
  const parts: { readonly path: string; readonly part: string }[] = [];
  try {
    for (const { path, bytes } of files) parts.push({ path, part: writePart(path, bytes) });
    // A folder in the way stops all of them, not the one that it is in the way of.
    for (const { path } of parts) {
      if (statSync(path, { throwIfNoEntry: false })?.isDirectory()) {
        throw Object.assign(new Error('a folder is in the way'), { code: 'EISDIR', path });
      }
    }
    for (const { path, part } of parts) renameSync(part, path);
  } catch (error) {
    for (const { part } of parts) rmSync(part, { force: true });
    throw error;
  }
};

/** Writes one file whole or not at all. */
export const writeBeside = (path: string, bytes: Uint8Array | string): void =>
  writeTogether([{ path, bytes }]);

const isAlive = (pid: number): boolean => {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'EPERM';
  }
};

/** Removes parts in a folder that no living run is writing. */
export const sweep = (folder: string): void => {
  try {
    if (!statSync(folder).isDirectory()) return;
  } catch {
    return;
  }
  for (const name of readdirSync(folder)) {
    const match = PART_OF_PROCESS.exec(basename(name));
    if (match !== null && !isAlive(Number(match[1]))) rmSync(join(folder, name), { force: true });
  }
};

/**
 * Writes files into a folder after all of them are made, each whole or not at all. Clears first what
 * killed runs left there.
 */
export const writeAll = (
  folder: string,
  files: readonly { readonly file: string; readonly bytes: Uint8Array }[],
): void => {
  const paths = files.map(({ file }) => join(folder, file));
  for (const place of new Set([folder, ...paths.map((path) => dirname(path))])) sweep(place);
  writeTogether(paths.map((path, i) => ({ path, bytes: files[i].bytes })));
};
