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

/** Marks a file that a run was still writing; `sweep` removes those that a killed run left. */
const PART = '.runnel-part';
const PART_OF_PROCESS = new RegExp(`\\.(\\d+)\\${PART}$`);

/**
 * Writes a file whole or not at all: beside its place first, then renamed over it. The old file stays
 * as it was until the new one is complete on disk.
 */
export const writeBeside = (path: string, bytes: Uint8Array | string): void => {
  mkdirSync(dirname(path), { recursive: true });
  const part = `${path}.${process.pid}${PART}`;
  const file = openSync(part, 'w');
  try {
    const data = typeof bytes === 'string' ? Buffer.from(bytes, 'utf8') : bytes;
    let at = 0;
    while (at < data.length) at += writeSync(file, data, at);
    fsyncSync(file);
  } catch (error) {
    closeSync(file);
    rmSync(part, { force: true });
    throw error;
  }
  closeSync(file);
  renameSync(part, path);
};

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
  paths.forEach((path, i) => {
    writeBeside(path, files[i].bytes);
  });
};
