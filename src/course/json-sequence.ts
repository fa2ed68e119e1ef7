import { parseJson } from '../checked-json.js';
import { InputFault } from '../fault.js';

/** What begins each text of a sequence (RFC 7464, which RFC 8142 rests on). */
const SEPARATOR = '\u001e';

/** A text of its own within a file, and what stands before it there, as room of the same lines. */
interface Piece {
  readonly text: string;
  readonly before: () => string;
}

const linesBefore = (text: string, at: number): string =>
  '\n'.repeat(text.slice(0, at).split('\n').length - 1);

const piecesOf = (text: string, separator: string): Piece[] => {
  let at = 0;
  return text.split(separator).flatMap((piece) => {
    const start = at;
    at += piece.length + separator.length;
    return piece.trim() === ''
      ? []
      : [{ text: piece.trimEnd(), before: () => linesBefore(text, start) }];
  });
};

/** Whether a text is sound by itself, whatever it holds. */
const isJson = (text: string): boolean => {
  try {
    JSON.parse(text);
    return true;
  } catch {
    return false;
  }
};

/** Whether each line is JSON of its own, as several programs write features; a file of one line is none. */
const isByLines = (text: string): boolean => {
  const [first, second] = text.trimStart().split(/\n\s*/, 2);
  return second !== undefined && second.trim() !== '' && first.startsWith('{') && isJson(first);
};

/** The value of a piece; a fault is told by its place in the file. */
const parsedPiece = ({ text, before }: Piece, file: string): unknown => {
  try {
    return parseJson(text, file);
  } catch (fault) {
    if (!(fault instanceof InputFault)) throw fault;
    return parseJson(`${before()}${text}`, file);
  }
};

/**
 * The values of a file that holds several texts of JSON: a sequence with its record separators (RFC 8142, RFC 7464), or
 * one on each line. Null for a file that is none.
 *
 * @throws InputFault with line and column, for a text that is no JSON.
 */
export const jsonSequence = (text: string, file: string): unknown[] | null => {
  const separator = text.trimStart().startsWith(SEPARATOR)
    ? SEPARATOR
    : isByLines(text)
      ? '\n'
      : null;
  return separator === null ? null : piecesOf(text, separator).map((one) => parsedPiece(one, file));
};
