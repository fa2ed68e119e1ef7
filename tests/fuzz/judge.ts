import { InputFault } from '../../src/fault.js';
import { machineFault } from '../../src/machine-fault.js';

/** What a case may not do. */
export interface Finding {
  readonly what: 'abort' | 'slow' | 'memory' | 'internal fault' | 'unclean message' | 'wrong read';
  readonly words: string;
}

export const LIMITS = { milliseconds: 5_000, bytes: 1024 ** 3, message: 400 } as const;

/** Thrown by a case that read something else than was written. */
export class WrongRead extends Error {}

/** Words that only a library or the engine says. */
const FOREIGN =
  /\bundefined\b|\bNaN\b|\[object |is not a function|Cannot read propert|Unexpected token|Expected instance|Invalid array|Maximum call stack|of null|\bPDF(?:Dict|Name|Array|Ref)\b|\bError:|\bat \w+ \([^)]*:\d+:\d+\)|ENOENT|proj4|non-whitespace/;
const CONTROL =
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for
  /[\u0000-\u001f\u007f-\u009f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069\ufeff]/;

/** What is wrong with a message; null when it is one short clean line. The input may be quoted in it. */
export const uncleanIn = (message: string): string | null => {
  if (/[\n\r]/.test(message)) return 'more than one line';
  if (message.length > LIMITS.message) return `${message.length} characters`;
  if (CONTROL.test(message)) return 'a control character';
  if (message.trim().length < 10) return 'it says nothing';
  const ours = message.replaceAll(/"(?:\\.|[^"\\])*"|“[^”]*”/g, '""');
  const foreign = FOREIGN.exec(ours);
  // A key of the user's that bears such a name is a part of the place, after a comma or a full stop.
  const isUsers =
    foreign !== null &&
    /(?:, |\.)$/.test(ours.slice(0, foreign.index)) &&
    ours.indexOf(': ', foreign.index) >= 0;
  return foreign === null || isUsers ? null : `it says ${foreign[0]}`;
};

/** An error of a case as a finding; null for a clean refusal. */
export const findingOf = (error: unknown): Finding | null => {
  if (error instanceof WrongRead) return { what: 'wrong read', words: error.message };
  const told = error instanceof InputFault ? error.message : machineFault(error);
  if (told === null) {
    const words = error instanceof Error ? `${error.message}\n${error.stack ?? ''}` : String(error);
    return { what: 'internal fault', words };
  }
  const unclean = uncleanIn(told);
  return unclean === null ? null : { what: 'unclean message', words: `${unclean}: ${told}` };
};

/** What a whole run of the program said, as a finding. */
export const findingOfRun = (code: number, stdout: string, stderr: string): Finding | null => {
  const told = stderr.split('\n').filter((line) => line.startsWith('runnel: '));
  if (code === 1) return { what: 'internal fault', words: stderr };
  if (code !== 0 && told.length !== 1) {
    return { what: 'unclean message', words: `${told.length} lines tell the fault: ${stderr}` };
  }
  for (const line of [...told, ...stderr.split('\n').filter((one) => one !== '')]) {
    const unclean = uncleanIn(line);
    if (unclean !== null) return { what: 'unclean message', words: `${unclean}: ${line}` };
  }
  const number = /\b(?:NaN|undefined|Infinity)\b/.exec(stdout.replaceAll(/"[^"\n]*"/g, ''));
  return number === null
    ? null
    : { what: 'unclean message', words: `it prints ${number[0]}: ${stdout}` };
};
