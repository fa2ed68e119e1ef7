import { parentPort } from 'node:worker_threads';
import { InputFault } from '../fault.js';
import { doGreenJob, type GreenJob, type GreenResult } from './green-job.js';

/** What a worker sends back: a result, a fault of the input, or an error of ours. */
export type GreenAnswer =
  | { readonly result: GreenResult }
  | { readonly fault: Pick<InputFault, 'where' | 'problem' | 'cure'> }
  | { readonly error: Pick<NodeJS.ErrnoException, 'message' | 'stack' | 'code' | 'path'> };

const answerTo = (job: GreenJob): GreenAnswer => {
  try {
    return { result: doGreenJob(job) };
  } catch (error) {
    if (error instanceof InputFault) {
      return { fault: { where: error.where, problem: error.problem, cure: error.cure } };
    }
    const told: NodeJS.ErrnoException = error instanceof Error ? error : new Error(String(error));
    // A clone of an error would lose what the system says.
    const { message, stack, code, path } = told;
    return { error: JSON.parse(JSON.stringify({ message, stack, code, path })) };
  }
};

parentPort?.on('message', (job: GreenJob) => parentPort?.postMessage(answerTo(job)));
