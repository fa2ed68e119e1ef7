import { closeSync, writeSync } from 'node:fs';
import { deserialize, serialize } from 'node:v8';
import { type FilePart, type PiecedBytes, readPart, wholeOf } from '../file-bytes.js';
import { withPath } from '../machine-fault.js';
import { hashedPieces, type StoredBytes } from './stored-bytes.js';
import { openUnnamed } from './write-beside.js';

/** A value on a shelf. */
export interface Shelved<T> {
  /** The value, or a copy of it. */
  readonly bring: () => T;
  /** Whether it is in memory. */
  readonly isHeld: boolean;
}

/** Values that a run asks for again. Those over a number lie in a file that goes with the run, so that memory does not grow by them. */
export interface Shelf {
  /** Takes plain data (what the structured clone algorithm copies). */
  readonly put: <T>(value: T) => Shelved<T>;
}

/** Greens that a run keeps in memory: those of a course and some for practice. With what is told of it each takes some 3 MB. */
export const GREENS_IN_MEMORY = 20;

/** Values brought back last, which are asked for again at once. */
const RECENT = 8;

interface UnnamedFile {
  readonly file: number;
  end: number;
}

const open = new FinalizationRegistry<number>((file) => closeSync(file));

/** While a part is held, its file stays open. */
const readFrom = new WeakMap<FilePart, UnnamedFile>();

const openFile = (folder: string): UnnamedFile => {
  const opened = { file: openUnnamed(folder), end: 0 };
  open.register(opened, opened.file);
  return opened;
};

/** Does what may find no room in the folder, or no right to it. */
const inFolder = <T>(folder: string, work: () => T): T => {
  try {
    return work();
  } catch (error) {
    throw withPath(error, folder);
  }
};

const openFor = (folder: string): UnnamedFile => inFolder(folder, () => openFile(folder));

/** Writes behind all that is there; gives where. */
const putAt = (folder: string, to: UnnamedFile, bytes: Uint8Array): number => {
  const at = to.end;
  inFolder(folder, () => writeAt(to, bytes, at));
  to.end += bytes.length;
  return at;
};

const writeAt = ({ file }: UnnamedFile, bytes: Uint8Array, at: number): void => {
  for (let done = 0; done < bytes.length; ) {
    done += writeSync(file, bytes, done, bytes.length - done, at + done);
  }
};

const readAt = ({ file }: UnnamedFile, at: number, length: number): Buffer =>
  readPart({ descriptor: file, at, length });

/** Of a function of its own: a closure made beside others holds all that any of them asks for. */
const holding =
  <T>(value: T): (() => T) =>
  () =>
    value;

const bringing =
  (from: UnnamedFile, at: number, length: number): (() => Uint8Array) =>
  () =>
    readAt(from, at, length);

/**
 * Keeps bytes that a run asks for again: those over a number of bytes in a file that goes with the run. Gives what brings them.
 *
 * @param folder where its file may lie; null: all is kept in memory.
 */
export const openByteShelf = (
  folder: string | null,
  most: number,
): ((bytes: Uint8Array) => () => Uint8Array) => {
  let held = 0;
  let opened: UnnamedFile | null = null;
  return (bytes) => {
    if (folder === null || held + bytes.length <= most) {
      held += bytes.length;
      return holding(bytes);
    }
    opened ??= openFor(folder);
    return bringing(opened, putAt(folder, opened, bytes), bytes.length);
  };
};

/**
 * Keeps made files that a run asks for again: those over a number of bytes in a file that goes with the run, into which they are
 * written piece by piece.
 *
 * @param folder where its file may lie; null: all is kept in memory.
 */
export const openFileShelf = (
  folder: string | null,
  most: number,
): ((made: PiecedBytes) => StoredBytes) => {
  let held = 0;
  let opened: UnnamedFile | null = null;
  return (made) => {
    const hashed = hashedPieces(made);
    const { length } = made;
    if (folder === null || held + length <= most) {
      held += length;
      const where = wholeOf(hashed);
      return { where, sha256: hashed.digest(), bring: holding(where) };
    }
    opened ??= openFor(folder);
    const at = opened.end;
    for (const piece of hashed.pieces()) putAt(folder, opened, piece);
    const where = { descriptor: opened.file, at, length };
    readFrom.set(where, opened);
    return { where, sha256: hashed.digest(), bring: bringing(opened, at, length) };
  };
};

/**
 * A shelf for a run.
 *
 * @param folder where its file may lie; null: all is kept in memory.
 * @param most values that are kept in memory.
 */
export const openShelf = (folder: string | null, most: number): Shelf => {
  let kept = 0;
  let opened: UnnamedFile | null = null;
  const recent = new Map<number, unknown>();
  const bringer = (from: UnnamedFile, at: number, length: number) => (): unknown => {
    const value = recent.has(at) ? recent.get(at) : deserialize(readAt(from, at, length));
    recent.delete(at);
    recent.set(at, value);
    if (recent.size > RECENT) recent.delete(recent.keys().next().value as number);
    return value;
  };
  return {
    put: <T>(value: T): Shelved<T> => {
      if (folder === null || kept < most) {
        kept++;
        return { bring: holding(value), isHeld: true };
      }
      const bytes = serialize(value);
      opened ??= openFor(folder);
      const bring = bringer(opened, putAt(folder, opened, bytes), bytes.length) as () => T;
      return { bring, isHeld: false };
    },
  };
};
