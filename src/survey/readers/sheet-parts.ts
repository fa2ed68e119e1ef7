import sax from 'sax';
import { InputFault } from '../../fault.js';
import { SURVEY_LIMITS } from '../../input-limits.js';
import { writeXml } from '../../xml-text.js';

/** Parts of a workbook (ECMA-376 part 1), parsed while they are unpacked. */

/** Lines are handed over in bundles of this many letters. */
const BUNDLE = 1 << 16;

interface Handlers {
  open?(name: string, attributes: Readonly<Record<string, string>>): void;
  close?(name: string, text: string): void;
}

const tooLong = (source: string): InputFault =>
  new InputFault(
    { file: source },
    'a sheet of the workbook is longer than 96 MB as text',
    'save the sheet as CSV',
  );

const damaged = (source: string): InputFault =>
  new InputFault({ file: source }, 'the workbook is damaged', 'save it again as XLSX, or as CSV');

/**
 * Calls `open` and `close` for the elements of an XML part, their names without prefixes; ends early when `enough`.
 *
 * @throws InputFault when the part is no sound XML.
 */
export const parsePart = async (
  pieces: AsyncIterable<Uint8Array>,
  source: string,
  on: Handlers,
  enough: () => boolean = () => false,
): Promise<void> => {
  const parser = sax.parser(true);
  let text = '';
  const local = (name: string): string => name.slice(name.indexOf(':') + 1);
  parser.onopentag = (node) => {
    text = '';
    on.open?.(local(node.name), node.attributes as Record<string, string>);
  };
  parser.ontext = (piece) => {
    if (text.length <= SURVEY_LIMITS.sheetCell) text += piece;
  };
  parser.onclosetag = (name) => {
    on.close?.(local(name), text);
    text = '';
  };
  parser.onerror = () => {
    throw damaged(source);
  };
  const decoder = new TextDecoder();
  for await (const piece of pieces) {
    for (let at = 0; at < piece.length; at += BUNDLE) {
      writeXml(parser, decoder.decode(piece.subarray(at, at + BUNDLE), { stream: true }));
      if (enough()) return;
    }
  }
  writeXml(parser, decoder.decode());
  parser.close();
};

/** "AB12" is column 28, row 12. */
const placeOf = (reference: string): readonly [number, number] | null => {
  const match = /^([A-Z]{1,3})(\d{1,7})$/.exec(reference);
  if (match === null) return null;
  const column = [...match[1]].reduce((sum, letter) => 26 * sum + letter.charCodeAt(0) - 64, 0);
  return [column, Number(match[2])];
};

const clean = (text: string): string => text.replace(/[\t\r\n]+/g, ' ').trim();

/** Lines as they come, kept as bytes. */
const newText = (source: string) => {
  const bundles: Uint8Array[] = [];
  let waiting = '';
  let length = 0;
  let lines = 0;
  const encoder = new TextEncoder();
  const flush = (): void => {
    const bytes = encoder.encode(waiting);
    length += bytes.length;
    if (length > SURVEY_LIMITS.sheetText) throw tooLong(source);
    bundles.push(bytes);
    waiting = '';
  };
  return {
    /** Puts a row on its own line. */
    put: (row: number, cells: readonly string[]): void => {
      if (row <= lines) throw damaged(source);
      waiting += `${'\n'.repeat(row - lines - 1)}${cells.join('\t')}\n`;
      lines = row;
      if (waiting.length > BUNDLE) flush();
    },
    done: (): Uint8Array => {
      flush();
      return new Uint8Array(Buffer.concat(bundles));
    },
  };
};

/**
 * The rows of a sheet as lines of fields parted by tabs, each on the line of its row, as bytes; null when no cell
 * holds anything.
 *
 * @throws InputFault when the sheet is damaged, its rows are out of order, or it is longer than 96 MB as text.
 */
export const textOfSheet = async (
  pieces: AsyncIterable<Uint8Array>,
  shared: readonly string[],
  source: string,
  isAsked: boolean,
): Promise<Uint8Array | null> => {
  const text = newText(source);
  let kind = '';
  let value = '';
  let column = 0;
  let row = 0;
  let cells: string[] = [];
  let filled = false;
  const endRow = (): void => {
    if (cells.length > 0 && row >= 1 && row <= SURVEY_LIMITS.sheetRows) text.put(row, cells);
    cells = [];
  };
  await parsePart(
    pieces,
    source,
    {
      open: (name, attributes) => {
        if (name === 'row') {
          endRow();
          row = attributes.r === undefined ? row + 1 : Number(attributes.r);
          column = 0;
        }
        if (name !== 'c') return;
        kind = attributes.t ?? 'n';
        value = '';
        column = placeOf(attributes.r ?? '')?.[0] ?? column + 1;
      },
      close: (name, content) => {
        if ((name === 'v' || name === 't') && value.length <= SURVEY_LIMITS.sheetCell)
          value += content;
        if (name === 'row') endRow();
        if (name !== 'c' || !(column >= 1 && column <= SURVEY_LIMITS.sheetColumns)) return;
        const cell = clean(
          kind === 's' ? (shared[Number(value)] ?? '') : kind === 'e' ? '' : value,
        );
        while (cells.length < column) cells.push('');
        cells[column - 1] = cell;
        filled ||= cell !== '';
      },
    },
    // Of a sheet that is not to be read it is enough to know that it holds something.
    () => !isAsked && filled,
  );
  endRow();
  return filled ? text.done() : null;
};

/**
 * The strings that the sheets share (ECMA-376 part 1, 18.4).
 *
 * @throws InputFault when they are damaged or longer than 96 MB.
 */
export const sharedStrings = async (
  pieces: AsyncIterable<Uint8Array>,
  source: string,
): Promise<string[]> => {
  const strings: string[] = [];
  let one = '';
  let length = 0;
  await parsePart(pieces, source, {
    open: (name) => {
      if (name === 'si') one = '';
    },
    close: (name, text) => {
      if (name === 't' && one.length <= SURVEY_LIMITS.sheetCell) one += text;
      if (name !== 'si') return;
      strings.push(one);
      length += one.length + 16;
      if (length > SURVEY_LIMITS.sheetText) throw tooLong(source);
    },
  });
  return strings;
};
