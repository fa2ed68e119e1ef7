import { InputFault } from '../fault.js';
import type { Layout, SheetPlan } from '../layout/layout.js';
import { PAPERS } from '../layout/paper.js';
import type { BookChanges } from '../page/changes.js';
import { composeChangesPages } from '../page/front/changes-page.js';
import { composeFirstSheet } from '../page/front/first-sheet.js';
import { blankPage } from '../page/marks/blank-page.js';
import type { Page } from '../page/marks/marks.js';
import { phrase } from '../page/words/words.js';
import { measureWith } from '../print/fonts.js';
import { impose } from '../print/impose.js';
import { writePdf } from '../print/pdf.js';
import { writeSheets } from '../print/sheet-pdf.js';
import { onASide, type Product, type ProductOptions } from './product.js';

/** Whether so many leaves of a layout stand side by side on a plan's paper. */
const fitsOn = (layout: Layout, plan: SheetPlan): boolean => {
  try {
    impose(2, layout.page, plan, layout.binding);
    return true;
  } catch (error) {
    if (error instanceof InputFault) return false;
    throw error;
  }
};

/** The plans by which changed leaves are laid out: one a paper of the layout, as loose leaves. */
export const insertPlans = (layout: Layout): SheetPlan[] => {
  const plans = new Map<string, SheetPlan>();
  for (const plan of layout.sheets) {
    if (plan.scheme === 'fold-up' || plan.duplex === 'one side' || plans.has(plan.paper)) continue;
    const loose = [plan.up, plan.up / 2, 1]
      .filter(Number.isInteger)
      .map((up): SheetPlan => ({ ...plan, up, scheme: 'leaves', name: `insert-${plan.paper}` }))
      .find((one) => fitsOn(layout, one));
    if (loose !== undefined) plans.set(plan.paper, loose);
  }
  return [...plans.values()];
};

const blankAfter = (page: Page): Page => ({
  ...blankPage(page, `${page.id}-back`, page.label),
  title: `${page.title}, back`,
});

/** What has changed, then the changed leaves, each with its front and its back. */
const insertPages = (
  pages: readonly Page[],
  before: readonly Page[],
  changes: BookChanges,
): Page[] => [
  ...before,
  ...changes.leaves.flatMap(({ front, back }) => [
    pages[front],
    back === null ? blankAfter(pages[front]) : pages[back],
  ]),
];

/**
 * The changed leaves of a book alone, to be put into the earlier edition: page by page, for a press, and on each
 * paper of the layout. None where no leaf changed; what is one sheet is put in the place of the old one whole.
 */
export const insertProducts = async (
  pages: readonly Page[],
  given: Layout,
  changes: BookChanges,
  options: ProductOptions,
): Promise<Product[]> => {
  if (changes.leaves.length === 0 || changes.whole) return [];
  const { fonts, title, language, words: table, date } = options;
  const measure = measureWith(fonts);
  const tell = { measure, words: table };
  const dated = date === undefined ? {} : { date };
  const words = { fonts, title: phrase(tell, 'changes.document', { title }), language, ...dated };
  // Leaves alone lie beside nothing.
  const { facing: _, ...unfaced } = given;
  const layout: Layout = { ...unfaced, binding: { ...given.binding, method: 'loose' } };
  const all = insertPages(pages, composeChangesPages(title, changes, given, tell), changes);
  const stem = layout.name;
  const count =
    changes.leaves.length === 1 ? '1 changed leaf' : `${changes.leaves.length} changed leaves`;
  const products: Product[] = [
    {
      file: `${stem}-insert.pdf`,
      what: `${count} page by page, and what has changed`,
      bytes: await writePdf(all, layout, { ...words, edition: 'plain' }),
    },
    {
      file: `${stem}-insert-press.pdf`,
      what: `${count} for a press, PDF/X-1a`,
      bytes: await writePdf(all, layout, { ...words, edition: 'press' }),
    },
  ];
  for (const plan of insertPlans(layout)) {
    products.push({
      file: `${stem}-${plan.name}.pdf`,
      what: `${count} on ${PAPERS[plan.paper].title} sheets to be cut, ${onASide(plan.up)}`,
      bytes: await writeSheets(all, layout, plan, {
        ...words,
        first: (sheet) => composeFirstSheet(layout, plan, sheet, tell, [phrase(tell, 'first.put')]),
      }),
    });
  }
  return products;
};
