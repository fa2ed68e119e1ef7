import { availableParallelism } from 'node:os';
import { setFlagsFromString } from 'node:v8';
import type { Worker } from 'node:worker_threads';
import { othersTurn } from '../others-turn.js';
import { doGreenJob, type GreenJob, type GreenResult } from './green-job.js';
import type { GreenAnswer } from './green-worker.js';
import { IS_COMPILED, startThread } from './start-thread.js';
import { unpackFault } from './thread-fault.js';

/** Milliseconds of work on one core: below the last, threads take more work, to start and warm up, than they save time. */
const COST = { fit: 600, restore: 30, reading: 120, table: 17, regions: 30 };
const WORTH_THREADS = 3500;
/** The same for the sources, which each thread has to translate first. */
const WORTH_LOADING = 10_000;

/** Milliseconds that a job will take, about. */
export const costOf = ({ fit, reading, request }: GreenJob): number => {
  const ground = (fit === null ? COST.fit : COST.restore) + (reading === null ? COST.reading : 0);
  if (request === null) return ground;
  const map = request.regions !== 'none' || request.breakMaps ? COST.regions : 0;
  return ground + request.locations.length * (COST.table * request.stimps.length + map);
};

/** Megabytes for what a thread has just made: unbounded, each takes three times as much. */
const YOUNG = 16;

const startWorker = (): Worker =>
  startThread(new URL('green-worker', import.meta.url), {
    resourceLimits: { maxYoungGenerationSizeMb: YOUNG },
  });

/** Does one job on a thread. */
const ask = (worker: Worker, job: GreenJob): Promise<GreenAnswer> =>
  new Promise((resolve, reject) => {
    worker.once('message', (answer: GreenAnswer) => {
      worker.off('error', reject);
      resolve(answer);
    });
    worker.once('error', reject);
    worker.postMessage(job);
  });

/**
 * Where every core has greens to work at, one more thread of V8 that makes functions fast takes its time from them, and until
 * it is done they run the slow ones: threads that start from now on wait for their own instead. (V8 of Node 20; not tried on others.)
 */
const makeFastInTurn = (): void => {
  if (process.versions.v8.startsWith('11.')) setFlagsFromString('--no-concurrent-recompilation');
};

/** As many as there are cores when there is enough to do, else none. */
const threadsFor = (jobs: readonly QueuedJob[]): number => {
  const cores = Math.min(availableParallelism(), jobs.length);
  const total = jobs.reduce((sum, { cost }) => sum + cost, 0);
  return cores < 2 || total < (IS_COMPILED ? WORTH_THREADS : WORTH_LOADING) ? 0 : cores;
};

/** A job that is brought when its turn comes. */
export interface QueuedJob {
  /** Of `costOf`. */
  readonly cost: number;
  readonly bring: () => GreenJob;
}

export interface PoolOptions<T> {
  /** What is kept of a result; the result itself is not. */
  readonly keep: (index: number, result: GreenResult) => T;
  /** None: the thread that asks does all itself. */
  readonly threads?: number | undefined;
  /** What is done beside the first job of each thread, and before anything is kept; without threads before the first job. */
  readonly beside?: (() => Promise<void>) | undefined;
}

/**
 * Does all jobs on some threads; what is kept of them in their order. Jobs are begun in their order and none is
 * begun after a failure, so that the error thrown is always that of the first job that fails.
 */
export const doGreenJobs = async <T>(
  jobs: readonly QueuedJob[],
  { keep, threads = threadsFor(jobs), beside = async () => {} }: PoolOptions<T>,
): Promise<T[]> => {
  if (threads === 0) {
    await beside();
    const made: T[] = [];
    for (const [i, { bring }] of jobs.entries()) {
      await othersTurn();
      made.push(keep(i, doGreenJob(bring())));
    }
    return made;
  }
  const results = new Array<T>(jobs.length);
  const failures: { readonly index: number; readonly error: Error }[] = [];
  let next = 0;
  let done = Promise.resolve();
  if (threads >= availableParallelism()) makeFastInTurn();
  const workers = Array.from({ length: threads }, startWorker);
  const runOn = async (worker: Worker): Promise<void> => {
    while (next < jobs.length && failures.length === 0) {
      const index = next++;
      const answer = await ask(worker, jobs[index].bring());
      await done;
      if ('result' in answer) results[index] = keep(index, answer.result);
      else failures.push({ index, error: unpackFault(answer) });
    }
  };
  try {
    const working = Promise.all(workers.map(runOn));
    // Each thread has its first job by now.
    done = beside();
    await Promise.all([done, working]);
  } finally {
    await Promise.all(workers.map((worker) => worker.terminate()));
  }
  if (failures.length > 0) throw failures.sort((a, b) => a.index - b.index)[0].error;
  return results;
};
