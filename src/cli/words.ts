import { ENGLISH } from '../page/words/english.js';
import { printJson, printText } from './output.js';

/** The table of words as a words file to begin with: English under each name. */
export const runWordTable = ({ json }: { readonly json: boolean }): void => {
  if (json) {
    printJson(ENGLISH);
    return;
  }
  const lines = Object.entries(ENGLISH).map(([key, words]) => `  ${key}: ${JSON.stringify(words)}`);
  printText(
    [
      '# Words of the pages: write each in your language, and name this file by the key "words" of the course or layout.',
      '# What stands in braces is put in by the page, and is to be kept. What you leave out stays English.',
      'language: en',
      'words:',
      ...lines,
    ].join('\n'),
  );
};
