import { createInterface } from 'node:readline/promises';

/** Asks a question and gives the line typed. */
export type Ask = (question: string) => Promise<string>;

/** Asks on the terminal; null where no one sits at one. Questions go to stderr, as all words do. */
export const terminalAsk = (): Ask | null => {
  if (process.stdin.isTTY !== true || process.stderr.isTTY !== true) return null;
  return async (question) => {
    const lines = createInterface({ input: process.stdin, output: process.stderr });
    try {
      return await lines.question(`${question} `);
    } finally {
      lines.close();
    }
  };
};
