import type { Layout, Scheme } from '../layout/layout.js';
import { PAPERS } from '../layout/paper.js';
import type { Page } from '../page/marks/marks.js';
import type { Fonts } from '../print/fonts.js';
import { writePdf } from '../print/pdf.js';
import { writeSheets } from '../print/sheet-pdf.js';
import type { Product } from './product.js';
import { checkedProducts, checkHere, type ProductCheck } from './product-check.js';

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
  /** Reads them back; on the thread that asks where it is left out. */
  readonly check?: ProductCheck;
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
  { check = checkHere(), date, ...said }: DayProductOptions,
): Promise<Product[]> => {
  const words = { ...said, ...(date === undefined ? {} : { date }) };
  const { add, all } = checkedProducts<Product>(check);
  const screen = await writePdf(pages, layout, { ...words, edition: 'screen' });
  const book = { file: `${stem}.pdf`, bytes: screen };
  const held = { use: layout.use, layout: layout.name };
  await add({ ...book, held }, () => ({ ...book, what: 'the pages of the day, for a screen' }));
  for (const plan of layout.sheets) {
    const what = `${PAPERS[plan.paper].title} sheets ${SCHEMES[plan.scheme]}`;
    const file = `${stem}-${plan.name}.pdf`;
    const bytes = await writeSheets(pages, layout, plan, words);
    await add({ file, bytes }, () => ({ file, what, bytes }));
  }
  return all();
};
