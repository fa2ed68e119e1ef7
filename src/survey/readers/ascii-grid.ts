import { InputFault, quoted } from '../../fault.js';
import { SURVEY_LIMITS } from '../../input-limits.js';
import { stateOfWkt } from '../crs/file-crs.js';
import { type ByteSource, pieces } from './byte-source.js';
import type { FileReader } from './file-reader.js';
import { cellRanges, type GridShape } from './grid-shape.js';
import { isNoDataValue, undeclaredNote } from './text-number.js';

/** Keywords of the header (ESRI ASCII raster; dx and dy are GDAL's for oblong cells). */
const KEYS = new Set([
  'ncols',
  'nrows',
  'xllcorner',
  'yllcorner',
  'xllcenter',
  'yllcenter',
  'cellsize',
  'dx',
  'dy',
  'nodata_value',
]);

interface Header {
  readonly shape: GridShape;
  readonly nodata: number | null;
  /** Offset of the first value. */
  readonly start: number;
}

const readHeader = async (bytes: ByteSource, source: string): Promise<Header> => {
  const text = new TextDecoder('latin1').decode(await bytes.read(0, SURVEY_LIMITS.gridHeader));
  const values = new Map<string, number>();
  const line = /^[\s\u00ef\u00bb\u00bf]*([A-Za-z_]+)(?:[ \t]*[=:])?[ \t]+(\S+)[ \t]*(\r\n|\n|\r|$)/;
  let start = /^\s*(?:[#;!][^\n]*\n\s*)*/.exec(text)![0].length;
  for (;;) {
    const match = line.exec(text.slice(start));
    if (match === null) break;
    const key = match[1].toLowerCase();
    const place = `header line ${values.size + 1}`;
    if (!KEYS.has(key)) {
      throw new InputFault(
        { file: source, place },
        `unknown keyword ${quoted(match[1], 20)}`,
        'an ASCII grid begins with ncols, nrows, xllcorner, yllcorner, cellsize and NODATA_value',
      );
    }
    const value = /^[+-]?nan$/i.test(match[2]) ? Number.NaN : Number(match[2].replace(',', '.'));
    if (Number.isNaN(value) && !(key === 'nodata_value' && /nan/i.test(match[2]))) {
      throw new InputFault(
        { file: source, place },
        `${key} ${quoted(match[2], 30)} is not a number`,
      );
    }
    values.set(key, value);
    start += match[0].length;
  }
  const need = (...keys: string[]): number => {
    for (const key of keys) {
      const value = values.get(key);
      if (value !== undefined && Number.isFinite(value)) return value;
    }
    throw new InputFault(
      { file: source, place: 'header' },
      `no ${keys.join(' or ')}`,
      'the header names ncols, nrows, xllcorner, yllcorner and cellsize, each with its number',
    );
  };
  const count = (key: string): number => {
    const value = need(key);
    if (!Number.isInteger(value) || value < 1) {
      throw new InputFault(
        { file: source, place: 'header' },
        `${key} is ${value}`,
        'it is a whole number of 1 or more',
      );
    }
    return value;
  };
  const columns = count('ncols');
  const rows = count('nrows');
  const dx = need('cellsize', 'dx');
  const dy = need('cellsize', 'dy');
  if (!(dx > 0 && dy > 0)) {
    throw new InputFault({ file: source, place: 'header' }, 'the cell size is not positive');
  }
  // The shortest value is one digit and one space.
  if (columns * rows * 2 - 1 > bytes.size - start) {
    throw new InputFault(
      { file: source, place: 'header' },
      `the header promises ${columns} x ${rows} values, more than the ${bytes.size} bytes of the file can hold`,
      'the file is cut off, or its header is wrong',
    );
  }
  const x0 = values.has('xllcenter') ? need('xllcenter') : need('xllcorner') + dx / 2;
  const yLow = values.has('yllcenter') ? need('yllcenter') : need('yllcorner') + dy / 2;
  return {
    shape: { columns, rows, x0, y0: yLow + (rows - 1) * dy, xc: dx, yc: 0, xr: 0, yr: -dy },
    nodata: values.get('nodata_value') ?? null,
    start,
  };
};

const isSpace = (byte: number): boolean => byte === 32 || (byte >= 9 && byte <= 13);

/**
 * ESRI ASCII grid: heights at the centres of cells, row by row from the north. Only the values inside a
 * window are turned into numbers, so that a grid of a whole course costs no more than its bytes.
 *
 * @throws InputFault for a wrong header, a value that is not a number, and too few or too many values.
 */
export const readAsciiGrid: FileReader = async (bytes, context) => {
  const { source } = context.options;
  const { shape, nodata, start } = await readHeader(bytes, source);
  const prj = context.options.beside?.prj;
  const take = context.begin(
    prj === undefined ? { crs: null, unit: null, verticalUnit: null } : stateOfWkt(prj),
  );
  const ranges = cellRanges(shape, context);
  const total = shape.columns * shape.rows;
  let undeclared = 0;
  let cell = 0;
  let row = 0;
  let column = 0;
  let wanted = ranges.inRow(0);
  const place = (): string => `row ${row + 1}, column ${column + 1}`;

  const value = (text: string): void => {
    const z = Number(text.includes(',') ? text.replace(',', '.') : text);
    if (Number.isNaN(z)) {
      if (/^[+-]?nan$/i.test(text)) return;
      throw new InputFault({ file: source, place: place() }, `${quoted(text, 30)} is not a number`);
    }
    if (z === nodata) return;
    if (isNoDataValue(z)) {
      undeclared += 1;
      return;
    }
    take(shape.x0 + column * shape.xc, shape.y0 + row * shape.yr, z, place);
  };
  const next = (): void => {
    cell += 1;
    column += 1;
    if (column === shape.columns) {
      column = 0;
      row += 1;
      wanted = ranges.inRow(row);
    }
  };

  let carry = '';
  for await (const piece of pieces(bytes, start)) {
    let i = 0;
    const n = piece.length;
    while (i < n) {
      if (carry === '') while (i < n && isSpace(piece[i])) i++;
      const from = i;
      while (i < n && !isSpace(piece[i])) i++;
      if (i === from && carry === '') break;
      if (cell >= total) {
        throw new InputFault(
          { file: source },
          `more values than the ${shape.columns} x ${shape.rows} of the header`,
        );
      }
      const isWanted = wanted !== null && column >= wanted[0] && column <= wanted[1];
      if (i === n) {
        // The value may go on in the next piece.
        carry += isWanted
          ? Buffer.from(piece.buffer, piece.byteOffset + from, i - from).toString('latin1')
          : '?';
        if (carry.length > 400) {
          throw new InputFault({ file: source, place: place() }, 'a value of over 400 characters');
        }
        break;
      }
      if (isWanted) {
        value(
          carry + Buffer.from(piece.buffer, piece.byteOffset + from, i - from).toString('latin1'),
        );
      }
      carry = '';
      next();
    }
  }
  if (carry !== '') {
    if (wanted !== null && column >= wanted[0] && column <= wanted[1]) value(carry);
    next();
  }
  if (cell < total) {
    throw new InputFault(
      { file: source, place: place() },
      `the values end after ${cell} of ${total}`,
      'the file is cut off, or its header is wrong',
    );
  }
  return {
    kind: 'grid',
    cellSize: ranges.cellSize,
    breaklines: [],
    notes: undeclaredNote(undeclared),
  };
};
