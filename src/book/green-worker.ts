import { parentPort } from 'node:worker_threads';
import { InputFault } from '../fault.js';
import { doGreenJob, type GreenJob, type GreenResult } from './green-job.js';

/** What a worker sends back: a result, a fault of the input, or an error of ours. */
export type GreenAnswer =
  | { readonly result: GreenResult }
  | { readonly fault: Pick<InputFault, 'where' | 'problem' | 'cure'> }
  | { readonly error: { readonly message: string; readonly stack: string | undefined } };

const answerTo = (job: GreenJob): GreenAnswer => {
  try {
    return { result: doGreenJob(job) };
  } catch (error) {
    if (error instanceof InputFault) {
      return { fault: { where: error.where, problem: error.problem, cure: error.cure } };
    }
    const { message, stack } = error instanceof Error ? error : new Error(String(error));
    return { error: { message, stack } };
  }
};

parentPort?.on('message', (job: GreenJob) => parentPort?.postMessage(answerTo(job)));
