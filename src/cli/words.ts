import { ENGLISH } from '../page/words/english.js';
import { printJson, printText } from './output.js';

/** What a words file may say. The sign before tenths is left out: each language has its own, which English would hide. */
const WORDS = Object.entries(ENGLISH).filter(([key]) => key !== 'number.point');

/** The table of words as a words file to begin with: English under each name. */
export const runWordTable = ({ json }: { readonly json: boolean }): void => {
  if (json) {
    printJson(Object.fromEntries(WORDS));
    return;
  }
  printText(
    [
      '# Words of the pages: write each in your language, and name this file by the key "words" of the course or layout.',
      '# What stands in braces is put in by the page, and is to be kept. What you leave out stays English.',
      'language: en',
      'words:',
      ...WORDS.map(([key, words]) => `  ${key}: ${JSON.stringify(words)}`),
    ].join('\n'),
  );
};
