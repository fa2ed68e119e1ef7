import type { PDFRef } from 'pdf-lib';
import type { Mark } from '../page/marks/marks.js';
import type { StructureTree, TreeElement } from './structure-tree.js';

/** A table as it grows: its rows by number, their cells by column. */
export interface GrowingTable {
  readonly element: TreeElement;
  readonly rows: Map<number, { readonly element: TreeElement; readonly cells: Map<number, Cell> }>;
  readonly place: { first: number };
}

interface Cell {
  readonly element: TreeElement;
  readonly columns: number;
}

/** A group that is open on a page; of no element where it is not tagged by itself. */
export interface OpenGroup {
  readonly element: TreeElement | null;
  readonly table?: GrowingTable;
}

/** A page as its marks are tagged. */
export interface TaggedPage {
  readonly tree: StructureTree;
  readonly section: TreeElement;
  readonly entry: { readonly Pg: PDFRef };
  /** The element of each piece of marked content, by its number. */
  readonly owners: PDFRef[];
  /** The text that is the page's heading, where no group is; undefined where it has none. */
  readonly heading: Mark | undefined;
  readonly open: OpenGroup[];
  readonly tables: GrowingTable[];
  /** The texts that are read, with whose they are and their baselines; in the order in which they are drawn. */
  readonly lines: { readonly owner: TreeElement; readonly at: number }[];
  /** Tables that several groups of the page make together, by name. */
  readonly parts: Map<string, GrowingTable>;
}
