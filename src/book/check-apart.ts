import { availableParallelism } from 'node:os';
import type { Worker } from 'node:worker_threads';
import type { Cache } from './cache.js';
import { checkHere, type ProductCheck } from './product-check.js';
import { IS_COMPILED, startThread } from './start-thread.js';
import { type ThreadFault, unpackFault } from './thread-fault.js';
import type { PassedFile, UncheckedFile } from './unchecked-file.js';

/** Where the pages of other runs lie; see `recallKnown`. */
export interface CheckAsked {
  readonly cache: Cache;
  readonly of: readonly string[];
}

/** What the thread is asked: to read a file, or to keep what it has read. */
export type CheckWord = UncheckedFile | { readonly keep: true };

type CheckAnswer = { readonly passed: PassedFile | null } | ThreadFault;

interface Asked {
  readonly resolve: (passed: PassedFile | null) => void;
  readonly reject: (error: Error) => void;
}

/** Asks a thread, which answers in turn. */
const askerOf = (worker: Worker): ((word: CheckWord) => Promise<PassedFile | null>) => {
  const asked: Asked[] = [];
  let broken: Error | null = null;
  worker.on('message', (answer: CheckAnswer) => {
    const one = asked.shift();
    if ('passed' in answer) one?.resolve(answer.passed);
    else one?.reject(unpackFault(answer));
  });
  worker.on('error', (error: Error) => {
    broken = error;
    for (const { reject } of asked.splice(0)) reject(error);
  });
  return (word) =>
    new Promise((resolve, reject) => {
      if (broken !== null) {
        reject(broken);
        return;
      }
      asked.push({ resolve, reject });
      worker.postMessage(word);
    });
};

/** Bytes of products that wait for the thread while others are made. */
const MOST_WAITING = 8 * 1024 ** 2;

/** Megabytes for what the thread has just made: unbounded, it takes three times as much. */
const YOUNG = 16;

/** The check on a thread of its own: products are read back while the next ones are made. */
const checkApart = (asked: CheckAsked): ProductCheck => {
  const worker = startThread(new URL('check-worker', import.meta.url), {
    workerData: asked,
    resourceLimits: { maxYoungGenerationSizeMb: YOUNG },
  });
  const ask = askerOf(worker);
  return {
    read: (file) => ask(file),
    keep: async () => {
      await ask({ keep: true });
    },
    end: async () => {
      await worker.terminate();
    },
    mostWaiting: MOST_WAITING,
  };
};

const startCheck = async (
  asked: CheckAsked,
  threads: number | undefined,
): Promise<ProductCheck> => {
  const apart = threads === undefined ? IS_COMPILED && availableParallelism() > 1 : threads > 0;
  if (apart) return checkApart(asked);
  const { keepKnown, recallKnown } = await import('./known-pages-kept.js');
  const { cache, of } = asked;
  return checkHere(recallKnown(cache, of), (known) => keepKnown(cache, of, known));
};

/**
 * Does what makes products, with their check: on a thread of its own where there is a core for it, else on this one. With
 * `threads` as that says: 0 is none.
 */
export const withCheck = async <T>(
  asked: CheckAsked,
  threads: number | undefined,
  work: (check: ProductCheck) => Promise<T>,
): Promise<T> => {
  const check = await startCheck(asked, threads);
  try {
    return await work(check);
  } finally {
    await check.end();
  }
};
