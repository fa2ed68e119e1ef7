import { join } from 'node:path';
import type { Page } from '../page/marks.js';
import type { Fonts } from '../print/fonts.js';
import type { Layout } from '../print/layout.js';
import { type PdfOptions, writePdf } from '../print/pdf.js';
import { writeSheets } from '../print/sheet-pdf.js';
import { sweep, writeBeside } from './write-beside.js';

/** A file that a run makes. */
export interface Product {
  readonly file: string;
  readonly what: string;
  readonly bytes: Uint8Array;
}

export interface Edition {
  readonly edition: PdfOptions['edition'];
  /** Ends the file's name: "-press"; empty for the plain name. */
  readonly ending: string;
  readonly what: string;
}

const LANGUAGE = 'en';

/** The editions asked for, and the sheets that the layout plans. */
export const makeProducts = async (
  stem: string,
  pages: readonly Page[],
  layout: Layout,
  fonts: Fonts,
  title: string,
  editions: readonly Edition[],
): Promise<Product[]> => {
  const words = { fonts, title, language: LANGUAGE };
  const products: Product[] = [];
  for (const { edition, ending, what } of editions) {
    products.push({
      file: `${stem}${ending}.pdf`,
      what,
      bytes: await writePdf(pages, layout, { ...words, edition }),
    });
  }
  for (const plan of layout.sheets) {
    products.push({
      file: `${stem}-${plan.name}.pdf`,
      what: `sheets, ${plan.paper}, ${plan.scheme}, ${plan.up} up`,
      bytes: await writeSheets(pages, layout, plan, words),
    });
  }
  return products;
};

/** Writes products that are all made: a fault while making them leaves the old ones as they were. */
export const writeProducts = (folder: string, products: readonly Product[]): void => {
  sweep(folder);
  for (const { file, bytes } of products) writeBeside(join(folder, file), bytes);
};
