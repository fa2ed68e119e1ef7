import { parentPort, workerData } from 'node:worker_threads';
import type { CheckAsked, CheckWord } from './check-apart.js';
import { checkFile } from './check-file.js';
import { keepKnown, recallKnown } from './known-pages-kept.js';
import { packFault } from './thread-fault.js';

const { cache, of } = workerData as CheckAsked;
const known = recallKnown(cache, of);

const wordOn = async (word: CheckWord): Promise<unknown> => {
  try {
    if ('file' in word) return { passed: await checkFile(word, known) };
    keepKnown(cache, of, known);
    return { passed: null };
  } catch (error) {
    return packFault(error);
  }
};

let before: Promise<unknown> = Promise.resolve();
parentPort?.on('message', (word: CheckWord) => {
  before = before.then(async () => parentPort?.postMessage(await wordOn(word)));
});
