import { parentPort, workerData } from 'node:worker_threads';
import type { GreenWorth } from '../appraisal/worth.js';
import { packFault, type ThreadFault } from '../book/thread-fault.js';
import { type Answer, answerTo, answerToFault, type ProofSite } from '../proof/answers.js';
import { openSite, type ProofArguments } from './proof-site.js';

export interface ProvedGreen {
  readonly holeId: string;
  readonly worth: GreenWorth;
}

/** What a thread of the proof tells: how far it is with the greens, that it is ready, an answer. */
export type ProofWord =
  | { readonly progress: readonly [label: string, done: number, total: number] }
  | { readonly ready: readonly ProvedGreen[] }
  | { readonly answer: Answer }
  | ThreadFault;

const tell = (word: ProofWord): void => parentPort?.postMessage(word);

/** Bytes that are nobody else's go to the other thread without a copy. */
const tellAnswer = (word: ProofWord): void => {
  const { body, isOwn } = 'answer' in word ? word.answer : { body: '', isOwn: false };
  const whole = typeof body === 'string' ? null : body.buffer;
  const isGiven = isOwn && whole instanceof ArrayBuffer && whole.byteLength === body.length;
  parentPort?.postMessage(word, isGiven ? [whole] : []);
};

const answered = (site: ProofSite, address: string): ProofWord => {
  try {
    return { answer: answerTo(site, new URL(address)) };
  } catch (error) {
    const answer = answerToFault(error);
    return answer === null ? packFault(error) : { answer };
  }
};

try {
  const site = await openSite(workerData as ProofArguments, (...progress) => tell({ progress }));
  parentPort?.on('message', (address: string) => tellAnswer(answered(site, address)));
  tell({ ready: site.proof.source.book.greens.map(({ holeId, worth }) => ({ holeId, worth })) });
} catch (error) {
  tell(packFault(error));
}
