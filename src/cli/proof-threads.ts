import type { Worker } from 'node:worker_threads';
import { startThread } from '../book/start-thread.js';
import { unpackFault } from '../book/thread-fault.js';
import { busy } from '../proof/answers.js';
import type { Answerer } from '../proof/server.js';
import { type WorkQueue, workQueue } from '../proof/work-queue.js';
import { showProgress } from './output.js';
import type { ProofArguments } from './proof-site.js';
import type { ProofWord, ProvedGreen } from './proof-worker.js';

/** A browser asks for one page and a putt at a time; hundreds at once are a mistake. */
const PAGES = { waiting: 64, patience: 5_000 };
const PUTTS = { waiting: 512, patience: 5_000 };

/** What takes milliseconds to answer. */
const QUICK = ['/putt', '/distances', '/water', '/drain', '/station'];

type Told = Exclude<ProofWord, { readonly progress: unknown }>;

type Queue = WorkQueue<string, Told>;

/** The next word of a thread but progress, which is shown; rejects when the thread ends instead. */
const nextWord = (thread: Worker): Promise<Told> =>
  new Promise((resolve, reject) => {
    const hear = (word: ProofWord): void => {
      if ('progress' in word) {
        showProgress(...word.progress);
        return;
      }
      hush();
      resolve(word);
    };
    const end = (cause: unknown): void => {
      hush();
      reject(cause instanceof Error ? cause : new Error('a thread of the proof ended'));
    };
    const hush = (): void => {
      thread.off('message', hear).off('error', end).off('exit', end);
    };
    thread.on('message', hear).on('error', end).on('exit', end);
  });

export interface ProofThreads {
  readonly greens: readonly ProvedGreen[];
  readonly answerer: Answerer;
  readonly close: () => Promise<void>;
}

/**
 * Opens the proof on threads: one for pages, which fits what the cache lacks, and with `apart` another for
 * putts and distances, so that they never wait for a page. A thread that ends is replaced.
 *
 * @throws what opening the proof throws.
 */
export const openThreads = async (
  args: ProofArguments,
  apart: boolean,
  onFault: (error: unknown) => void,
): Promise<ProofThreads> => {
  const threads = new Set<Worker>();
  let closed = false;
  const fault = (error: unknown): void => {
    if (!closed) onFault(error);
  };
  const open = async (queue: Queue): Promise<readonly ProvedGreen[]> => {
    const thread = startThread(new URL('proof-worker', import.meta.url), { workerData: args });
    threads.add(thread);
    const word = await nextWord(thread);
    if (!('ready' in word)) throw 'answer' in word ? new Error('no proof') : unpackFault(word);
    queue.addWorker((address) => {
      const told = nextWord(thread);
      thread.postMessage(address);
      return told;
    });
    thread.on('error', fault);
    thread.once('exit', () => {
      threads.delete(thread);
      if (!closed) open(queue).catch(fault);
    });
    return word.ready;
  };
  const close = async (): Promise<void> => {
    closed = true;
    await Promise.all([...threads].map((thread) => thread.terminate()));
  };
  try {
    const pages: Queue = workQueue(PAGES);
    const greens = await open(pages);
    let putts = pages;
    if (apart) {
      const own: Queue = workQueue(PUTTS);
      open(own).then(() => {
        putts = own;
      }, fault);
    }
    const answerer: Answerer = async (address, gone) => {
      const queue = QUICK.includes(address.pathname) ? putts : pages;
      const word = await queue.submit(address.href, gone).catch((error: unknown) => {
        // Whoever still waits when the proof is stopped.
        if (closed) return 'busy' as const;
        throw error;
      });
      if (word === 'busy') return busy();
      if ('answer' in word) return word.answer;
      throw 'ready' in word ? new Error('no answer') : unpackFault(word);
    };
    return { greens, answerer, close };
  } catch (error) {
    await close();
    throw error;
  }
};
