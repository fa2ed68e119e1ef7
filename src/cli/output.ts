import { plainWords, withoutControls } from '../fault.js';
import { MESSAGE_LIMITS } from '../input-limits.js';

/**
 * Where words go: machine-readable results to stdout, everything else to stderr. Progress is shown on a
 * terminal only, so that a pipe or a log stays quiet.
 */

const CLEAR = '\r\x1b[2K';

/** A terminal that obeys no control sequences, or a user who wants none: https://no-color.org. */
const isPlain = (): boolean => process.env.TERM === 'dumb' || (process.env.NO_COLOR ?? '') !== '';
let progressIsShown = false;

/** Takes the line of progress away, if one is shown. */
export const endProgress = (): void => {
  if (progressIsShown) process.stderr.write(CLEAR);
  progressIsShown = false;
};

/**
 * A single self-overwriting line: "green 7, Mere · 7 of 19"; plain lines on a plain terminal. Silent when
 * stderr is not a terminal.
 */
export const showProgress = (label: string, done: number, total: number): void => {
  if (!process.stderr.isTTY) return;
  const line = withoutControls(`${label} · ${done} of ${total}`);
  if (isPlain()) {
    process.stderr.write(`${line}\n`);
    return;
  }
  process.stderr.write(`${CLEAR}${line}`);
  progressIsShown = true;
};

export const printJson = (value: unknown): void => {
  endProgress();
  process.stdout.write(`${JSON.stringify(value, null, 2)}\n`);
};

/** A line for the reader, on stderr; a name of the user's may hold anything, also an end of the line. */
export const say = (line: string): void => {
  endProgress();
  process.stderr.write(`${withoutControls(line)}\n`);
};

/** An error of ours in one line. */
export const sayInternal = (error: unknown): void => {
  const message = error instanceof Error ? error.message : String(error);
  say(`runnel: internal fault: ${plainWords(message.split('\n')[0], MESSAGE_LIMITS.problem)}`);
};

/** A result meant for reading (not JSON), on stdout. */
export const printText = (text: string): void => {
  endProgress();
  const lines = text.split('\n').map(withoutControls).join('\n');
  process.stdout.write(lines.endsWith('\n') ? lines : `${lines}\n`);
};
