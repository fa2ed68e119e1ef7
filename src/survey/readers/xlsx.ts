import { InputFault, quoted } from '../../fault.js';
import { SURVEY_LIMITS } from '../../input-limits.js';
import { bytesInMemory } from './byte-source.js';
import type { FileReader } from './file-reader.js';
import { filesOfArchive, type PackedFile, unpackedPieces } from './packed-files.js';
import { readPointsText } from './points-text.js';
import { parsePart, sharedStrings, textOfSheet } from './sheet-parts.js';

/**
 * A sheet of a workbook (ECMA-376): its cells are read as a points file, the row for the line.
 *
 * @throws InputFault when several sheets hold cells and none is named.
 */
export const readXlsx: FileReader = async (bytes, context) => {
  const { source, sheet } = context.options;
  const files = await filesOfArchive(bytes, source);
  const file = (name: string): PackedFile | undefined => files.find((one) => one.name === name);
  const part = (
    name: string,
    limit = SURVEY_LIMITS.unpacked,
  ): AsyncGenerator<Uint8Array> | null => {
    const found = file(name);
    if (found !== undefined && found.length > limit) {
      throw new InputFault(
        { file: source },
        `a part of the workbook is longer than ${limit / 1024 / 1024} MB, unpacked`,
        'save the sheet as CSV',
      );
    }
    return found === undefined ? null : unpackedPieces(bytes, found, source);
  };
  const targets = new Map<string, string>();
  const relations = part('xl/_rels/workbook.xml.rels', SURVEY_LIMITS.xlsxList);
  const workbook = part('xl/workbook.xml', SURVEY_LIMITS.xlsxList);
  if (relations === null || workbook === null) {
    throw new InputFault(
      { file: source },
      'this ZIP archive is no workbook',
      'save the sheet as CSV',
    );
  }
  await parsePart(relations, source, {
    open: (name, a) => {
      if (name === 'Relationship') {
        targets.set(a.Id ?? '', (a.Target ?? '').replace(/^\/?(?:xl\/)?/, 'xl/'));
      }
    },
  });
  const sheets: { readonly name: string; readonly target: string }[] = [];
  await parsePart(workbook, source, {
    open: (name, a) => {
      if (name === 'sheet')
        sheets.push({ name: a.name ?? '', target: targets.get(a['r:id'] ?? '') ?? '' });
    },
  });
  const strings = part('xl/sharedStrings.xml');
  const shared = strings === null ? [] : await sharedStrings(strings, source);
  const texts: { readonly name: string; readonly text: Uint8Array }[] = [];
  for (const { name, target } of sheets) {
    if (sheet !== null && sheet !== undefined && sheet !== name) continue;
    const xml = part(target);
    const text = xml === null ? null : await textOfSheet(xml, shared, source, texts.length === 0);
    if (text !== null) texts.push({ name, text });
  }
  if (texts.length !== 1) {
    throw new InputFault(
      { file: source },
      texts.length === 0
        ? sheet === null || sheet === undefined
          ? 'the workbook holds no cells'
          : `no sheet ${quoted(sheet, 40)} with cells`
        : `${texts.length} sheets hold cells`,
      `name one by --sheet or the key sheet: ${sheets
        .map(({ name }) => name)
        .slice(0, 6)
        .join(', ')
        .slice(0, 100)}`,
    );
  }
  const [{ name, text }] = texts;
  const result = await readPointsText(bytesInMemory(text), context);
  return { ...result, how: `sheet ${quoted(name, 30)}: ${result.how}` };
};
