import { parentPort } from 'node:worker_threads';
import { doGreenJob, type GreenJob, type GreenResult } from './green-job.js';
import { packFault, type ThreadFault } from './thread-fault.js';

/** What a worker sends back: a result, a fault of the input, or an error of ours. */
export type GreenAnswer = { readonly result: GreenResult } | ThreadFault;

const answerTo = (job: GreenJob): GreenAnswer => {
  try {
    return { result: doGreenJob(job) };
  } catch (error) {
    return packFault(error);
  }
};

parentPort?.on('message', (job: GreenJob) => parentPort?.postMessage(answerTo(job)));
