import {
  accessSync,
  closeSync,
  constants,
  existsSync,
  fsyncSync,
  lstatSync,
  mkdirSync,
  openSync,
  readdirSync,
  realpathSync,
  renameSync,
  rmdirSync,
  rmSync,
  statSync,
  writeSync,
} from 'node:fs';
import { basename, dirname, isAbsolute, join, relative, resolve } from 'node:path';
import { threadId } from 'node:worker_threads';
import { withPath } from '../machine-fault.js';
import { readOwnFile, refuseToReplace } from '../named-file.js';
import { digestOfFile } from './file-digest.js';
import { clearTurn, isLeft, LONGEST_RENAMING, TURN, takeTurn } from './renaming-turn.js';
import { piecesOf } from './stored-bytes.js';

/** Marks a file that a run was still writing; `sweep` removes those that a killed run left. */
const PART = '.runnel-part';
/** Lists the files of a set whose parts are complete: `sweep` ends the renaming that a killed run began. */
const SET = '.runnel-set';
const SET_OF_PROCESS = new RegExp(`^\\.(\\d+)\\${SET}$`);
const PART_OF_PROCESS = new RegExp(`\\.(\\d+)\\${PART}$`);

/** Threads of a process write beside each other. */
const ownPart = (path: string): string =>
  threadId === 0 ? partOf(path, process.pid) : partOf(`${path}.${threadId}`, process.pid);

const partOf = (path: string, pid: number): string => `${path}.${pid}${PART}`;

/** Makes a folder and those above it. (A system may deny one for ever: asking it for all at once does not end there.) */
const makeFolder = (folder: string): void => {
  if (statSync(folder, { throwIfNoEntry: false })?.isDirectory() === true) return;
  const above = dirname(folder);
  if (above !== folder) makeFolder(above);
  try {
    mkdirSync(folder);
  } catch (error) {
    // Another run may have made it meanwhile.
    if (!statSync(folder, { throwIfNoEntry: false })?.isDirectory()) throw error;
  }
};

/**
 * Looks whether products may be written into a folder that is perhaps not made yet, before anything is computed for it.
 *
 * @throws the system's error when a file is in the way, or there is no permission.
 */
export const requirePlaceToWrite = (folder: string): void => {
  const stats = statSync(folder, { throwIfNoEntry: false });
  if (stats === undefined && lstatSync(folder, { throwIfNoEntry: false }) === undefined) {
    requirePlaceToWrite(dirname(resolve(folder)));
  } else if (stats?.isDirectory() === true) {
    accessSync(folder, constants.W_OK);
  } else {
    const code = stats === undefined ? 'ENOENT' : 'ENOTDIR';
    throw Object.assign(new Error('no folder'), { code, path: folder });
  }
};

/** Opens a file for a run's own use, to write and to read, that no name leads to: it goes when the run ends, however it ends. */
export const openUnnamed = (folder: string): number => {
  const path = ownPart(join(folder, 'shelf'));
  makeFolder(folder);
  const file = openSync(path, 'w+');
  try {
    rmSync(path, { force: true });
  } catch {
    // A system that keeps the name while the file is open: `sweep` removes what is left.
  }
  return file;
};

/** Writes the pieces beside their place and returns the part's name; no part is left when that fails. */
const writePieces = (path: string, pieces: Iterable<Uint8Array>, isFlushed: boolean): string => {
  const part = ownPart(path);
  let file: number | undefined;
  try {
    refuseToReplace(path);
    makeFolder(dirname(path));
    file = openSync(part, 'w');
    for (const piece of pieces) {
      for (let at = 0; at < piece.length; ) at += writeSync(file, piece, at);
    }
    if (isFlushed) fsyncSync(file);
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

const writePart = (path: string, bytes: Uint8Array | string): string =>
  writePieces(path, [bytesOfText(bytes)], true);

const bytesOfText = (bytes: Uint8Array | string): Uint8Array =>
  typeof bytes === 'string' ? Buffer.from(bytes, 'utf8') : bytes;

/** A file that an earlier run made and this one does not: it goes where it is still the same, by its digest. */
export interface StaleFile {
  /** In the folder of its set. */
  readonly file: string;
  readonly sha256: string;
}

/**
 * The real path of a place that is perhaps not made yet, its last name as it is: a link on the way that leads elsewhere
 * while a set is written takes no part of it along.
 */
const realPlace = (path: string): string => join(realFolder(dirname(path)), basename(path));

/** Without a link on the way it is the folder as it was named, which faults tell. */
const realFolder = (folder: string): string => {
  const real = existsSync(folder) ? realpathSync(folder) : realPlace(folder);
  return real === resolve(folder) ? folder : real;
};

/** Writes down in the folder that the set is complete and being renamed; null for one file, which needs no list. */
const listSet = (
  folder: string,
  names: readonly string[],
  stale: readonly StaleFile[],
): string | null => {
  if (names.length + stale.length < 2) return null;
  const list = join(folder, `.${process.pid}${SET}`);
  const told = [...names, ...stale];
  renameSync(writePart(list, JSON.stringify(told)), list);
  return list;
};

const isStale = (one: unknown): one is StaleFile => {
  const { file, sha256 } = (one ?? {}) as Partial<Record<keyof StaleFile, unknown>>;
  return typeof file === 'string' && typeof sha256 === 'string' && liesInside(file);
};

/** Whether a name stays in the folder that it is read against. */
export const liesInside = (name: string): boolean =>
  !isAbsolute(name) && !name.split(/[/\\]/).includes('..');

/** Removes the file, and its folder in the set's where nothing is left there; not where it has been changed. */
const takeAway = (folder: string, { file, sha256 }: StaleFile): boolean => {
  const path = join(folder, file);
  if (lstatSync(path, { throwIfNoEntry: false })?.isFile() !== true) return false;
  if (digestOfFile(path) !== sha256) return false;
  rmSync(path);
  const inner = dirname(path);
  if (relative(folder, inner) !== '' && readdirSync(inner).length === 0) rmdirSync(inner);
  return true;
};

/** What is known of a set only once no other run renames one in its folder. */
export interface SetEnd {
  /** What the folder says of itself, in it. */
  readonly ledger: { readonly file: string; readonly bytes: Uint8Array };
  readonly stale: readonly StaleFile[];
}

/** A folder in the way stops all of them, not the one that it is in the way of. */
const requireNoFolder = (paths: readonly string[]): void => {
  const path = paths.find((one) => statSync(one, { throwIfNoEntry: false })?.isDirectory());
  if (path === undefined) return;
  throw Object.assign(new Error('a folder is in the way'), { code: 'EISDIR', path });
};

/**
 * Writes files, each whole or not at all: all of them beside their places first, then renamed over the old
 * ones, which stay as they were until every new one is complete on disk. A run that is killed while it
 * renames leaves a list, by which the next one ends it: the set is the old one or the new one.
 */
const writeTogether = (
  named: string,
  files: readonly { readonly path: string; readonly pieces: () => Iterable<Uint8Array> }[],
  endOf?: () => SetEnd,
): string[] => {
  // Once, at the start: what is renamed at the end lies where it was written.
  const folder = realFolder(named);
  const places = files.map(({ path }) => ({ name: relative(named, path), path: realPlace(path) }));
  const parts: { readonly name: string; readonly path: string; readonly part: string }[] = [];
  const write = (name: string, path: string, pieces: Iterable<Uint8Array>): void => {
    parts.push({ name, path, part: writePieces(path, pieces, true) });
  };
  let list: string | null = null;
  let endTurn = (): void => {};
  try {
    files.forEach(({ pieces }, i) => {
      write(places[i].name, places[i].path, pieces());
    });
    requireNoFolder(parts.map(({ path }) => path));
    if (parts.length > 1 || endOf !== undefined) endTurn = takeTurn(folder);
    const { ledger, stale } = endOf?.() ?? { ledger: null, stale: [] };
    if (ledger !== null) {
      const path = join(folder, ledger.file);
      requireNoFolder([path]);
      write(ledger.file, path, [ledger.bytes]);
    }
    list = listSet(
      folder,
      parts.map(({ name }) => name),
      stale,
    );
    for (const { path, part } of parts) renameSync(part, path);
    const gone = stale.filter((one) => takeAway(folder, one)).map(({ file }) => file);
    if (list !== null) rmSync(list, { force: true });
    return gone;
  } catch (error) {
    if (list !== null) rmSync(list, { force: true });
    for (const { part } of parts) rmSync(part, { force: true });
    throw error;
  } finally {
    endTurn();
  }
};

/** Writes one file whole or not at all, after what killed runs left beside it is cleared. */
export const writeBeside = (path: string, bytes: Uint8Array | string): void => {
  sweep(dirname(path));
  writeTogether(dirname(path), [{ path, pieces: () => [bytesOfText(bytes)] }]);
};

/**
 * Writes a file whole or not at all for whoever reads it, and does not wait for the disk: for what is made again where the
 * machine stops and it comes back damaged.
 */
export const writeUnflushed = (path: string, pieces: readonly Uint8Array[]): void => {
  const part = writePieces(path, pieces, false);
  try {
    requireNoFolder([path]);
    renameSync(part, path);
  } catch (error) {
    rmSync(part, { force: true });
    throw error;
  }
};

/** Ends the renaming of a set that a killed run had complete on disk. */
const finishSet = (folder: string, list: string, pid: number): void => {
  let names: unknown;
  try {
    names = JSON.parse(readOwnFile(join(folder, list)).toString('utf8'));
  } catch {
    names = [];
  }
  for (const name of Array.isArray(names) ? names : []) {
    if (isStale(name)) takeAway(folder, name);
    if (typeof name !== 'string' || !liesInside(name)) continue;
    const path = join(folder, name);
    if (existsSync(partOf(path, pid))) renameSync(partOf(path, pid), path);
  }
  rmSync(join(folder, list), { force: true });
};

/** Ends the sets that killed runs were renaming in a folder, and removes parts that no living run is writing. */
export const sweep = (folder: string): void => {
  let names: string[];
  try {
    names = readdirSync(folder);
  } catch {
    // No folder, or one that may not be looked into.
    return;
  }
  if (names.includes(TURN)) clearTurn(folder);
  for (const name of names) {
    const pid = SET_OF_PROCESS.exec(name)?.[1];
    if (pid !== undefined && isLeft(join(folder, name), Number(pid), LONGEST_RENAMING)) {
      finishSet(folder, name, Number(pid));
    }
  }
  for (const name of names) {
    const match = PART_OF_PROCESS.exec(basename(name));
    if (match !== null && isLeft(join(folder, name), Number(match[1]))) {
      rmSync(join(folder, name), { force: true });
    }
  }
};

/**
 * Writes files into a folder after all of them are made, each whole or not at all, and takes the stale ones away.
 * Clears first what killed runs left there. Gives the names of what was taken away. `endOf` is asked while no other run
 * renames a set there, so that of two runs at once the later one knows of the earlier.
 */
export const writeAll = (
  folder: string,
  files: readonly { readonly file: string; readonly bytes: Uint8Array }[],
  endOf?: () => SetEnd,
): string[] => {
  const paths = files.map(({ file }) => join(folder, file));
  for (const place of new Set([folder, ...paths.map((path) => dirname(path))])) sweep(place);
  return writeTogether(
    folder,
    // Each file's bytes are asked for when it is written, and no more of them than are being written.
    files.map((file, i) => ({ path: paths[i], pieces: () => piecesOf(file).pieces() })),
    endOf,
  );
};
