import sax from 'sax';
import { InputFault } from '../../fault.js';
import { bytesInMemory } from './byte-source.js';
import type { FileReader } from './file-reader.js';
import { filesOfArchive, type PackedFile, unpackedFile } from './packed-files.js';
import { readPointsText } from './points-text.js';

/** Cells of a sheet that are looked at. */
const COLUMN_LIMIT = 200;
const ROW_LIMIT = 1_048_576;
/** A part of a workbook is not longer, unpacked: it is some 300 000 points, and is read as a whole. */
const PART_LIMIT = 48 * 1024 * 1024;

/** Calls `open`, `text` and `close` for the elements of an XML part; their names without prefixes. */
const parse = (
  xml: Uint8Array,
  source: string,
  on: {
    open?(name: string, attributes: Readonly<Record<string, string>>): void;
    close?(name: string, text: string): void;
  },
): void => {
  const parser = sax.parser(true);
  let text = '';
  const local = (name: string): string => name.slice(name.indexOf(':') + 1);
  parser.onopentag = (node) => {
    text = '';
    on.open?.(local(node.name), node.attributes as Record<string, string>);
  };
  parser.ontext = (piece) => {
    text += piece;
  };
  parser.onclosetag = (name) => {
    on.close?.(local(name), text);
    text = '';
  };
  parser.onerror = () => {
    throw new InputFault(
      { file: source },
      'the workbook is damaged',
      'save it again as XLSX, or as CSV',
    );
  };
  const decoded = new TextDecoder().decode(xml);
  for (let at = 0; at < decoded.length; at += 32_768) parser.write(decoded.slice(at, at + 32_768));
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

/** The rows of a sheet as lines of fields parted by tabs, each on the line of its row. */
const linesOfSheet = (xml: Uint8Array, shared: readonly string[], source: string): string => {
  const rows: string[][] = [];
  let kind = '';
  let place: readonly [number, number] | null = null;
  let value = '';
  let column = 0;
  let row = 0;
  parse(xml, source, {
    open: (name, attributes) => {
      if (name === 'row') {
        row = attributes.r === undefined ? row + 1 : Number(attributes.r);
        column = 0;
      }
      if (name !== 'c') return;
      kind = attributes.t ?? 'n';
      value = '';
      place = placeOf(attributes.r ?? '') ?? [column + 1, row];
      column = place[0];
    },
    close: (name, text) => {
      if (name === 'v' || name === 't') value += text;
      if (name !== 'c' || place === null) return;
      const [c, r] = place;
      if (!(c >= 1 && c <= COLUMN_LIMIT && r >= 1 && r <= ROW_LIMIT)) return;
      while (rows.length < r) rows.push([]);
      const line = rows[r - 1];
      while (line.length < c) line.push('');
      line[c - 1] = clean(kind === 's' ? (shared[Number(value)] ?? '') : kind === 'e' ? '' : value);
    },
  });
  return rows.map((line) => line.join('\t')).join('\n');
};

/** The strings that the sheets share (ECMA-376 part 1, 18.4). */
const sharedStrings = (xml: Uint8Array, source: string): string[] => {
  const strings: string[] = [];
  let one = '';
  parse(xml, source, {
    open: (name) => {
      if (name === 'si') one = '';
    },
    close: (name, text) => {
      if (name === 't') one += text;
      if (name === 'si') strings.push(one);
    },
  });
  return strings;
};

/**
 * A sheet of a workbook (ECMA-376): its cells are read as a points file, the row for the line.
 *
 * @throws InputFault when several sheets hold cells and none is named.
 */
export const readXlsx: FileReader = async (bytes, context) => {
  const { source, sheet } = context.options;
  const files = await filesOfArchive(bytes, source);
  const file = (name: string): PackedFile | undefined => files.find((one) => one.name === name);
  const part = async (name: string): Promise<Uint8Array | null> => {
    const found = file(name);
    if (found !== undefined && found.length > PART_LIMIT) {
      throw new InputFault(
        { file: source },
        'a sheet of the workbook is longer than 48 MB, unpacked',
        'save the sheet as CSV',
      );
    }
    return found === undefined ? null : unpackedFile(bytes, found, source);
  };
  const targets = new Map<string, string>();
  const relations = await part('xl/_rels/workbook.xml.rels');
  const workbook = await part('xl/workbook.xml');
  if (relations === null || workbook === null) {
    throw new InputFault(
      { file: source },
      'this ZIP archive is no workbook',
      'save the sheet as CSV',
    );
  }
  parse(relations, source, {
    open: (name, a) => {
      if (name === 'Relationship') {
        targets.set(a.Id ?? '', (a.Target ?? '').replace(/^\/?(?:xl\/)?/, 'xl/'));
      }
    },
  });
  const sheets: { readonly name: string; readonly target: string }[] = [];
  parse(workbook, source, {
    open: (name, a) => {
      if (name === 'sheet')
        sheets.push({ name: a.name ?? '', target: targets.get(a['r:id'] ?? '') ?? '' });
    },
  });
  const strings = await part('xl/sharedStrings.xml');
  const shared = strings === null ? [] : sharedStrings(strings, source);
  const texts: { readonly name: string; readonly text: string }[] = [];
  for (const { name, target } of sheets) {
    if (sheet !== null && sheet !== undefined && sheet !== name) continue;
    const xml = await part(target);
    const text = xml === null ? '' : linesOfSheet(xml, shared, source);
    if (text.trim() !== '') texts.push({ name, text });
  }
  if (texts.length !== 1) {
    throw new InputFault(
      { file: source },
      texts.length === 0
        ? sheet === null || sheet === undefined
          ? 'the workbook holds no cells'
          : `no sheet "${sheet.slice(0, 40)}" with cells`
        : `${texts.length} sheets hold cells`,
      `name one by --sheet or the key sheet: ${sheets
        .map(({ name }) => name)
        .slice(0, 6)
        .join(', ')
        .slice(0, 100)}`,
    );
  }
  const [{ name, text }] = texts;
  const result = await readPointsText(bytesInMemory(new TextEncoder().encode(text)), context);
  return { ...result, how: `sheet "${name.slice(0, 30)}": ${result.how}` };
};
