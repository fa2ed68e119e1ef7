import type { Layout, Placement } from '../../layout/layout.js';
import { headLine, isForPracticeOnly } from './head-line.js';

/** A rectangle of paper, millimetres from the top left of the trimmed page, y down. */
export interface Cell {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** Which side of the spread a page lies on; the binding is at the left of a right-hand page. */
export type PageSide = 'left' | 'right';

/** The side of a page by its place in a book, from 0: page 1 is a right-hand page, as in every bound book. */
export const sideOfPage = (index: number): PageSide => (index % 2 === 0 ? 'right' : 'left');

/** Between the line that says that a page is for practice and the ascenders of a heading below it, millimetres. */
const BELOW_HEAD = 0.8;

/** The part of the page inside its margins, and below the line that says that it is for practice. */
export const pageArea = (layout: Layout, side: PageSide): Cell => {
  const { width, height, margins } = layout.page;
  const left = side === 'right' ? margins.inner : margins.outer;
  const top = isForPracticeOnly(layout)
    ? Math.max(margins.top, headLine(layout).end + BELOW_HEAD)
    : margins.top;
  return {
    x: left,
    y: top,
    width: width - margins.inner - margins.outer,
    height: height - top - margins.bottom,
  };
};

/** The rectangle that a module fills on the print grid. */
export const cellOf = (layout: Layout, side: PageSide, placement: Placement): Cell => {
  const area = pageArea(layout, side);
  const { columns, rows, gutter } = layout.grid;
  const columnWidth = (area.width - gutter * (columns - 1)) / columns;
  const rowHeight = area.height / rows;
  const [c1, c2] = placement.columns;
  const [r1, r2] = placement.rows;
  return {
    x: area.x + (c1 - 1) * (columnWidth + gutter),
    y: area.y + (r1 - 1) * rowHeight,
    width: (c2 - c1 + 1) * columnWidth + (c2 - c1) * gutter,
    height: (r2 - r1 + 1) * rowHeight,
  };
};

type Span = readonly [first: number, last: number];

const meet = ([a1, a2]: Span, [b1, b2]: Span): boolean => a1 <= b2 && b1 <= a2;

/** Whether one reads a module before another: the upper one, of two side by side the left one; over each other: neither. */
const isReadBefore = (a: Placement, b: Placement): boolean => {
  const sideBySide = meet(a.rows, b.rows);
  if (sideBySide && meet(a.columns, b.columns)) return false;
  return sideBySide ? a.columns[0] < b.columns[0] : a.rows[0] < b.rows[0];
};

/** Modules in the order in which a page is read, whatever order a layout lists them in; what lies over another stays so. */
export const inReadingOrder = (placements: readonly Placement[]): Placement[] => {
  const ordered: Placement[] = [];
  for (const one of placements) {
    let at = ordered.length;
    while (at > 0 && isReadBefore(one, ordered[at - 1])) at -= 1;
    ordered.splice(at, 0, one);
  }
  return ordered;
};
