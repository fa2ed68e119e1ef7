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

const BEHIND = 'name the file of text behind it';
/** Bytes (hexadecimal) of files that are often named in place of a text, and where they stand: what, and the cure. */
const NO_TEXTS: readonly (readonly [string, number, string, string])[] = [
  ['255044462d', 0, 'a PDF', BEHIND],
  ['89504e47', 0, 'a picture (PNG)', BEHIND],
  ['ffd8ff', 0, 'a picture (JPEG)', BEHIND],
  ['504b0304', 0, 'a ZIP archive or a workbook', 'unpack it, or save its sheet as CSV'],
  ['1f8b08', 0, 'a gzip archive', 'unpack it'],
  // "OSMHeader", behind its length.
  ['0a094f534d486561646572', 4, 'a packed map (PBF)', 'save the extract as OSM XML or GeoJSON'],
];

const refuseNoText = (bytes: Uint8Array, file: string): void => {
  const start = Buffer.from(bytes.subarray(0, 16)).toString('hex');
  const known = NO_TEXTS.find(([first, at]) => start.startsWith(first, 2 * at));
  if (known !== undefined) throw new InputFault({ file }, `this is ${known[2]}, no text`, known[3]);
};

/**
 * The text of a file that a user wrote: UTF-8, or UTF-16 with a byte order mark, which is taken off. Lines that end in
 * CR alone end in LF.
 *
 * @throws InputFault with the line for bytes that are no such text: a letter in another encoding would be guessed.
 */
export const textOf = (bytes: Uint8Array, file: string): string => {
  refuseNoText(bytes, file);
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
