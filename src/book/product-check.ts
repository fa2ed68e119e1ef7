import type { KnownPages } from '../check/known-pages.js';
import type { PassedFile, UncheckedFile } from './unchecked-file.js';

/** Reads the products of a run back. */
export interface ProductCheck {
  /**
   * Begins with a file; it is read before those that come after it. Null for what is no PDF.
   *
   * @throws InputFault, by its promise, for what fails the check or does not fit its use.
   */
  readonly read: (file: UncheckedFile) => Promise<PassedFile | null>;
  /** Keeps the pages that were read for further runs, once all has passed. */
  readonly keep: () => Promise<void>;
  /** Nothing is read after it. */
  readonly end: () => Promise<void>;
  /** Bytes of files in memory that may wait for it while others are made. */
  readonly mostWaiting: number;
}

/** The check on the thread that asks. */
export const checkHere = (
  known?: KnownPages,
  keep: (pages: KnownPages) => void = () => {},
): ProductCheck => ({
  read: async (file) => {
    // Not loaded where a thread reads.
    const { checkFile } = await import('./check-file.js');
    return checkFile(file, known);
  },
  keep: async () => {
    if (known !== undefined) keep(known);
  },
  end: async () => {},
  mostWaiting: 0,
});

/** Products in a row that a check reads. */
export interface CheckedProducts<T> {
  /**
   * Takes a product, which stands before or after those that were taken already; `finish` makes of it what is kept, by what its check found. Waits where too much is waiting, and throws
   * the fault of a product that it waited for.
   */
  readonly add: (
    file: UncheckedFile,
    finish: (passed: PassedFile | null) => T,
    place?: 'first' | 'last',
  ) => Promise<void>;
  /** All of them in their order. Throws the fault of the first that fails. */
  readonly all: () => Promise<T[]>;
}

/** Starts a row of products. */
export const checkedProducts = <T>({ read, mostWaiting }: ProductCheck): CheckedProducts<T> => {
  /** As they are told, and as they are read. */
  const row: Promise<T>[] = [];
  const begun: Promise<T>[] = [];
  const sizes: number[] = [];
  let [done, waiting] = [0, 0];
  return {
    add: async (file, finish, place = 'last') => {
      const isPdf = file.file.endsWith('.pdf');
      const one = (isPdf ? read(file) : Promise.resolve(null)).then(finish);
      // Its fault is told by who waits for it, in the order of the products.
      one.catch(() => {});
      if (place === 'first') row.unshift(one);
      else row.push(one);
      begun.push(one);
      // What lies in a file takes no memory while it waits.
      const size = file.bytes instanceof Uint8Array ? file.bytes.length : 0;
      sizes.push(size);
      waiting += size;
      while (waiting > mostWaiting) {
        await begun[done];
        waiting -= sizes[done++];
      }
    },
    all: async () => {
      const made: T[] = [];
      for (const one of row) made.push(await one);
      return made;
    },
  };
};
