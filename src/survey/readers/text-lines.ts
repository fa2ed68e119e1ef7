import { InputFault } from '../../fault.js';
import { SURVEY_LIMITS } from '../../input-limits.js';
import { type ByteSource, PIECE, pieces } from './byte-source.js';

export interface Line {
  readonly number: number;
  readonly text: string;
}

/** The encoding told by a byte order mark; else UTF-8 where the first piece is that, or one byte a letter. */
const encodingOf = (head: Uint8Array): string => {
  if (head[0] === 0xff && head[1] === 0xfe) return 'utf-16le';
  if (head[0] === 0xfe && head[1] === 0xff) return 'utf-16be';
  try {
    new TextDecoder('utf-8', { fatal: true }).decode(head, { stream: true });
    return 'utf-8';
  } catch {
    return 'windows-1252';
  }
};

/** The parts between LF, CRLF and CR. Plain LF is split without a pattern. */
const partsOf = (text: string): string[] =>
  text.includes('\r') ? text.split(/\r\n|\n|\r/) : text.split('\n');

/**
 * Lines of a text file, without their ends; LF, CRLF and CR end a line. UTF-8 (a wrong byte becomes
 * U+FFFD), UTF-16 with a byte order mark, or one byte a letter as in Western Europe.
 *
 * @throws InputFault when a line is longer than a megabyte, or holds zero bytes (not a text file).
 */
export async function* linesOf(bytes: ByteSource, source: string): AsyncGenerator<Line[]> {
  const decoder = new TextDecoder(encodingOf(await bytes.read(0, PIECE)));
  let rest = '';
  let number = 0;
  let first = true;
  const cut = (text: string, last: boolean): Line[] => {
    const parts = partsOf(text);
    rest = last ? '' : parts.pop()!;
    const lines: Line[] = [];
    for (const part of parts) {
      number += 1;
      lines.push({ number, text: part });
    }
    return lines;
  };
  const refuse = (problem: string): never => {
    throw new InputFault(
      { file: source, place: `line ${number + 1}` },
      problem,
      'a points file is text, one point a line',
    );
  };
  for await (const piece of pieces(bytes)) {
    let text = decoder.decode(piece, { stream: true });
    if (first && text.charCodeAt(0) === 0xfeff) text = text.slice(1);
    first = false;
    if (text.includes('\0')) refuse('zero bytes: this is not a text file');
    text = rest + text;
    // A CR at the end of a piece may be half of a CRLF.
    const held = text.endsWith('\r') ? '\r' : '';
    const lines = cut(held === '' ? text : text.slice(0, -1), false);
    rest += held;
    if (rest.length > SURVEY_LIMITS.line) refuse('a line longer than a megabyte');
    if (lines.length > 0) yield lines;
  }
  rest += decoder.decode();
  if (rest !== '') yield cut(rest, true);
}
