/**
 * Where words go: machine-readable results to stdout, everything else to stderr. Progress is shown on a
 * terminal only, so that a pipe or a log stays quiet.
 */

export const printJson = (value: unknown): void => {
  process.stdout.write(`${JSON.stringify(value, null, 2)}\n`);
};

/** A line for the reader, on stderr. */
export const say = (line: string): void => {
  process.stderr.write(`${line}\n`);
};

/** A result meant for reading (not JSON), on stdout. */
export const printText = (text: string): void => {
  process.stdout.write(text.endsWith('\n') ? text : `${text}\n`);
};

export interface Progress {
  step(label: string): void;
  done(): void;
}

/** A single self-overwriting line: "fitting green 7 · 7 of 19". Silent when stderr is not a terminal. */
export const startProgress = (total: number): Progress => {
  if (!process.stderr.isTTY) return { step: () => {}, done: () => {} };
  let count = 0;
  const clear = '\r\x1b[2K';
  return {
    step: (label) => {
      count += 1;
      process.stderr.write(`${clear}${label} · ${count} of ${total}`);
    },
    done: () => {
      process.stderr.write(clear);
    },
  };
};
