import { boundBook } from './binding.js';
import type { CoverPlan, Layout } from './layout.js';

/** Clear paper beside the letters of a spine, which may lie so far off its middle; common practice, no source. */
export const SPINE_CLEAR = 1;
/** How wide the spine of a cover is, and what it is made of; lengths in millimetres. */
export interface Spine {
  readonly width: number;
  /** Of the block, blank ones among them. */
  readonly pages: number;
  readonly paper: number;
  readonly board: number;
}

/**
 * Half a leaf's thickness a page, and the board once for each of the two folds, since it lies outside them
 * (common practice, no source).
 */
export const spineOf = (count: number, layout: Layout, { board }: CoverPlan): Spine => {
  const { pages, thickness } = boundBook(count, layout.binding, layout.page.margins.inner);
  return { width: thickness + 2 * board, pages, paper: layout.binding.paper, board };
};

/** What the spine is reckoned from, in words. */
export const spineWords = (
  { width, pages, paper, board }: Spine,
  { binding }: Layout,
  { stock }: CoverPlan,
): string => {
  const of = (millimetres: number, name: string | null | undefined): string =>
    `${Number(millimetres.toFixed(3))} mm${name == null ? '' : ` (${name})`}`;
  return `spine ${width.toFixed(2)} mm: ${pages / 2} leaves of ${of(paper, binding.stock)}, a board of ${of(board, stock)} at each side`;
};
