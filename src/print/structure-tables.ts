import type { GroupMark } from '../page/marks/marks.js';
import { pdfText } from './pdf-document.js';
import type { GrowingTable, TaggedPage } from './structure-page.js';
import { newElement, type TreeElement } from './structure-tree.js';

export const altOf = ({ alt }: GroupMark): Record<string, unknown> =>
  alt === undefined ? {} : { Alt: pdfText(alt) };

export const wordsOf = ({ words }: GroupMark): Record<string, unknown> =>
  words === undefined ? {} : { ActualText: pdfText(words) };

export const startTable = (page: TaggedPage, mark: GroupMark): GrowingTable => {
  const { tree, section, entry, tables, parts } = page;
  const begun = mark.part === undefined ? undefined : parts.get(mark.part);
  if (begun !== undefined) {
    begun.place.first = Math.max(-1, ...begun.rows.keys()) + 1;
    return begun;
  }
  const element = newElement(tree, 'Table', section.ref, { ...entry, ...altOf(mark) });
  section.kids.push(element);
  const table: GrowingTable = { element, rows: new Map(), place: { first: 0 } };
  tables.push(table);
  if (mark.part !== undefined) parts.set(mark.part, table);
  return table;
};

/** The row of a table, which is made where it is not there. */
const rowOf = ({ tree, entry }: TaggedPage, { element, rows }: GrowingTable, row: number) => {
  const known = rows.get(row);
  if (known !== undefined) return known;
  const made = { element: newElement(tree, 'TR', element.ref, entry), cells: new Map() };
  rows.set(row, made);
  return made;
};

/** A caption or a cell of a table; of no element is what only gathers cells. */
export const elementInTable = (
  page: TaggedPage,
  table: GrowingTable,
  mark: GroupMark,
): TreeElement | null => {
  const { tree, entry } = page;
  if (mark.role === 'caption') {
    const caption = newElement(tree, 'Caption', table.element.ref, { ...entry, ...wordsOf(mark) });
    table.element.kids.unshift(caption);
    return caption;
  }
  if (mark.cell === undefined) return null;
  const { row, column, columns = 1, heads } = mark.cell;
  const line = rowOf(page, table, table.place.first + row);
  const before = line.cells.get(column);
  if (before !== undefined) return before.element;
  const attributes = {
    ...(heads === undefined ? {} : { Scope: heads }),
    ...(columns === 1 ? {} : { ColSpan: columns }),
  };
  const element = newElement(tree, heads === undefined ? 'TD' : 'TH', line.element.ref, {
    ...entry,
    ...wordsOf(mark),
    ...(Object.keys(attributes).length === 0 ? {} : { A: { O: 'Table', ...attributes } }),
  });
  line.cells.set(column, { element, columns });
  return element;
};

/** Rows from the top and cells from the left, whatever the order in which they were drawn; blanks where no cell is. */
export const closeTable = ({ tree }: TaggedPage, { element, rows }: GrowingTable): void => {
  const all = [...rows].sort(([a], [b]) => a - b).map(([, row]) => row);
  const width = Math.max(
    0,
    ...all.flatMap(({ cells }) => [...cells].map(([at, { columns }]) => at + columns)),
  );
  for (const row of all) {
    element.kids.push(row.element);
    for (let column = 0; column < width; ) {
      const cell = row.cells.get(column);
      row.element.kids.push(cell?.element ?? newElement(tree, 'TD', row.element.ref));
      column += cell?.columns ?? 1;
    }
  }
};
