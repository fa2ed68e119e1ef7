import { MESSAGE_LIMITS } from './input-limits.js';

/** Where in the user's input a fault lies: the file, and the line, key or cell inside it. */
export interface FaultPlace {
  readonly file?: string;
  readonly place?: string;
}

/** Control characters, line ends and what turns the direction of writing: none may reach a terminal. */
const UNPRINTABLE =
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for
  /[\u0000-\u001f\u007f-\u009f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069\ufeff]/g;

export const holdsUnprintable = (text: string): string | undefined =>
  text.match(UNPRINTABLE)?.find((mark) => !'\t\n\r'.includes(mark));

/** A text with nothing that a terminal would obey. */
export const withoutControls = (text: string): string => text.replaceAll(UNPRINTABLE, '\ufffd');

const onOneLine = (text: string): string => withoutControls(text.replaceAll(/\s+/g, ' '));

/** Half of a character that takes two, which a cut has left. */
const HALF = /\p{Surrogate}/gu;

/** A text on one line, cut in its middle to a limit, with nothing that a terminal would obey. */
export const plainWords = (text: string, most: number): string => {
  if (text.length <= most) return onOneLine(text);
  const tail = Math.floor(most / 4);
  const [start, end] = [text.slice(0, most - tail - 1), text.slice(-tail)];
  return `${onOneLine(start).replace(HALF, '')}…${onOneLine(end).replace(HALF, '')}`;
};

/** Words without quotation marks of their own, which would end those around them. */
const unmarked = (text: string): string => text.replaceAll(/["“”„‟]/g, "'");

/** A word of the user's in quotation marks, in part when it is long; marks of its own are told as single ones. */
export const quoted = (
  text: string | null | undefined,
  most: number = MESSAGE_LIMITS.quote,
): string => `"${unmarked(plainWords(text ?? '', most))}"`;

/** Names of the user's in a row, each in quotation marks unless it is one plain word. */
export const namesInPart = (names: readonly string[], most = 12): string =>
  [
    ...names.slice(0, most).map((name) => (/^\w{1,2}$/.test(name) ? name : quoted(name, 24))),
    ...(names.length > most ? [`and ${names.length - most} more`] : []),
  ].join(', ');

/** What is no name of the user's in a message that does not quote it. */
const NO_WORD = /^(?:NaN|undefined|null|Infinity)$/;

/** The id of a feature of a map, or the name of a place: in quotation marks unless it is plain words. */
export const idInPart = (id: string): string =>
  /^[\w ,./:-]+$/.test(id) && !NO_WORD.test(id) ? id : quoted(id);

/** A value of the user's file as JSON, in part when it is long. */
export const quotedInPart = (value: unknown): string => {
  if (typeof value === 'string') return quoted(value);
  const told = typeof value === 'object' && value !== null ? shapeOf(value) : JSON.stringify(value);
  return plainWords(told ?? 'nothing', MESSAGE_LIMITS.quote);
};

const shapeOf = (value: object): string =>
  Array.isArray(value)
    ? value.length > 0 && value.length <= 4 && value.every(Number.isFinite)
      ? `[${value.join(', ')}]`
      : `a list of ${value.length}`
    : `a mapping with ${unmarked(Object.keys(value).slice(0, 3).join(', ')) || 'no keys'}`;

/** Characters that are left for what would be right. */
const LEAST_OF_CURE = 60;

/**
 * Bad input. The command line prints `message` as one line and exits with 2; any other error is an
 * internal fault (exit 1). Say what is wrong, then what would be right.
 *
 * `new InputFault({ file: 'course.yaml', place: 'holes[3].pra' }, 'unknown key "pra"', 'did you mean "par"?')`
 */
export class InputFault extends Error {
  readonly where: FaultPlace;
  readonly problem: string;
  readonly cure: string | undefined;

  constructor(where: FaultPlace, problem: string, cure?: string) {
    const head = [
      where.file === undefined ? undefined : plainWords(where.file, MESSAGE_LIMITS.file),
      where.place === undefined ? undefined : plainWords(where.place, MESSAGE_LIMITS.place),
    ]
      .filter((part) => part !== undefined)
      .join(', ');
    const start = head === '' ? '' : `${head}: `;
    const { whole, cure: mostOfCure } = MESSAGE_LIMITS;
    const most = Math.min(MESSAGE_LIMITS.problem, whole - LEAST_OF_CURE - start.length);
    const told = `${start}${plainWords(problem, most)}`;
    // Where all else is long the cure is told in part.
    const room = Math.min(mostOfCure, whole - told.length);
    const end = cure === undefined ? '' : `; ${plainWords(cure, room)}`;
    super(`${told}${end}`);
    this.name = 'InputFault';
    this.where = where;
    this.problem = problem;
    this.cure = cure;
  }
}

/** Does the work; a fault in it that names no file is told with the given place. */
export const faultsAt = <T>(where: FaultPlace, work: () => T): T => {
  try {
    return work();
  } catch (error) {
    if (error instanceof InputFault && error.where.file === undefined) {
      throw new InputFault(where, error.problem, error.cure);
    }
    throw error;
  }
};
