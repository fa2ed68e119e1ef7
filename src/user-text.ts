import { isUtf8 } from 'node:buffer';
import { InputFault } from './fault.js';
import { readNamedFile } from './named-file.js';

const CURE = 'save the file as text in UTF-8';
const LF = 0x0a;

/** What is wrong in the first line that is not UTF-8, and that line's number. */
const notUtf8 = (bytes: Uint8Array): { readonly line: number; readonly byte: number } => {
  let line = 1;
  for (let start = 0; start < bytes.length; line++) {
    const next = bytes.indexOf(LF, start);
    const end = next < 0 ? bytes.length : next;
    const part = bytes.subarray(start, end);
    if (!isUtf8(part)) return { line, byte: part.find((one) => one >= 0x80) ?? 0 };
    start = end + 1;
  }
  return { line, byte: 0 };
};

/** The encoding that a byte order mark tells, else UTF-8. */
const encodingOf = ([first, second]: Uint8Array): string =>
  first === 0xff && second === 0xfe
    ? 'utf-16le'
    : first === 0xfe && second === 0xff
      ? 'utf-16be'
      : 'utf-8';

/** The beginning of a text, by which its kind is told; wrong letters in it become U+FFFD. */
export const beginningOf = (bytes: Uint8Array): string =>
  new TextDecoder(encodingOf(bytes)).decode(bytes);

const decoded = (bytes: Uint8Array, file: string): string => {
  const encoding = encodingOf(bytes);
  if (encoding !== 'utf-8' || isUtf8(bytes)) return new TextDecoder(encoding).decode(bytes);
  const { line, byte } = notUtf8(bytes);
  throw new InputFault(
    { file, place: `line ${line}` },
    `the letter of the byte 0x${byte.toString(16).toUpperCase()} is not written in UTF-8`,
    CURE,
  );
};

/**
 * The text of a file that a user wrote: UTF-8, or UTF-16 with a byte order mark, which is taken off. Lines that end in
 * CR alone end in LF.
 *
 * @throws InputFault with the line for bytes that are no such text: a letter in another encoding would be guessed.
 */
export const textOf = (bytes: Uint8Array, file: string): string => {
  const text = decoded(bytes, file);
  const zero = text.indexOf('\0');
  if (zero >= 0) {
    const line = text.slice(0, zero).split('\n').length;
    throw new InputFault({ file, place: `line ${line}` }, 'a zero byte: this is no text', CURE);
  }
  return text.includes('\n') ? text : text.replaceAll('\r', '\n');
};

/** The text of a file that a user named; throws as `readNamedFile` and `textOf` do. */
export const readTextFile = (path: string, cure = 'check the name', told = path): string =>
  textOf(readNamedFile(path, cure), told);
