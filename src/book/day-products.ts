import type { KnownPages } from '../check/known-pages.js';
import { refuseFailing } from '../check/self-check.js';
import { refuseUnfit } from '../check/use-check.js';
import type { Layout, Scheme } from '../layout/layout.js';
import { PAPERS } from '../layout/paper.js';
import type { Page } from '../page/marks/marks.js';
import type { Fonts } from '../print/fonts.js';
import { writePdf } from '../print/pdf.js';
import { writeSheets } from '../print/sheet-pdf.js';
import type { Product } from './product.js';

const SCHEMES: Readonly<Record<Scheme, string>> = {
  leaves: 'to be cut into slips',
  stack: 'to be cut as one pile',
  saddle: 'to be folded once',
  'fold-up': 'to be folded small',
};

export interface DayProductOptions {
  readonly fonts: Fonts;
  readonly title: string;
  /** Its tag (BCP 47). */
  readonly language: string;
  /** When they are made; see `DocumentWords`. */
  readonly date?: string | undefined;
  /** Pages that the check has read already. */
  readonly known?: KnownPages;
}

/**
 * The pages of a day for a screen, and the layout's sheets without a sheet of instructions before them:
 * they are printed at dawn. Throws InputFault when they do not fit the condition of use of the layout or
 * fail their own check.
 */
export const makeDayProducts = async (
  stem: string,
  pages: readonly Page[],
  layout: Layout,
  { known, date, ...said }: DayProductOptions,
): Promise<Product[]> => {
  const words = { ...said, ...(date === undefined ? {} : { date }) };
  const screen = await writePdf(pages, layout, { ...words, edition: 'screen' });
  const read = await refuseUnfit(screen, layout.use, layout.name, known);
  const products: Product[] = [
    { file: `${stem}.pdf`, what: 'the pages of the day, for a screen', bytes: screen },
  ];
  for (const plan of layout.sheets) {
    products.push({
      file: `${stem}-${plan.name}.pdf`,
      what: `${PAPERS[plan.paper].title} sheets ${SCHEMES[plan.scheme]}`,
      bytes: await writeSheets(pages, layout, plan, words),
    });
  }
  await refuseFailing(products, new Map([[screen, read]]), known);
  return products;
};
