import { PDFArray, type PDFContext, type PDFDict, PDFName } from 'pdf-lib';
import type { DrawnFonts } from './content-runner.js';
import type { DrawnPage } from './drawn-page.js';
import { isAsMade } from './made-page.js';
import { type PageBoxes, readBoxes } from './page-boxes.js';
import { type FormDrawings, readDrawnPage } from './read-drawing.js';

/** A page of a PDF as the check sees it. */
export interface ReadPage extends PageBoxes {
  readonly annotations: number;
  /** Whether it is one of ours and draws what it drew when it was made. */
  readonly asMade: boolean;
  readonly drawn: DrawnPage;
}

/** Numbers of the pages that are not as this program made them. */
export const changedPages = (pages: readonly ReadPage[]): number[] =>
  pages.flatMap((page, i) => (page.asMade ? [] : [i + 1]));

/** Reads a page; `forms`: see `readDrawnPage`. */
export const readPage = (
  page: PDFDict,
  context: PDFContext,
  fonts: DrawnFonts,
  forms?: FormDrawings,
): ReadPage => {
  const annotations = page.lookup(PDFName.of('Annots'));
  return {
    ...readBoxes(page),
    annotations: annotations instanceof PDFArray ? annotations.size() : 0,
    asMade: isAsMade(page),
    drawn: readDrawnPage(context, page, fonts, forms),
  };
};
