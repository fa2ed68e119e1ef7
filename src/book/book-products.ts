import { refuseFailing } from '../check/self-check.js';
import { refuseUnfit } from '../check/use-check.js';
import { requireBound } from '../layout/binding.js';
import { spineOf, spineWords } from '../layout/cover-spine.js';
import type { Layout } from '../layout/layout.js';
import { PAPERS } from '../layout/paper.js';
import { withLinks } from '../page/book-links.js';
import { composeFirstSheet } from '../page/front/first-sheet.js';
import type { Page } from '../page/marks/marks.js';
import { writeCovers } from '../print/cover-pdf.js';
import { readFontLicence } from '../print/font-files.js';
import { measureWith } from '../print/fonts.js';
import { writePdf } from '../print/pdf.js';
import { encodePng, rasterise } from '../print/raster.js';
import { writeSheets } from '../print/sheet-pdf.js';
import { writeSvg } from '../print/svg.js';
import { insertPlans, insertProducts } from './insert-products.js';
import type { Product, ProductOptions } from './product.js';

const SCHEMES = {
  leaves: 'to be cut into leaves',
  stack: 'to be cut as one pile',
  saddle: 'to be folded and stapled',
  'fold-up': 'to be folded small',
} as const;

const utf8 = (text: string): Uint8Array => new TextEncoder().encode(text);

/** Reads the screen edition once, for its use and for the check, and lets it go: all its marks take much room. */
const checkScreen = async (
  bytes: Uint8Array,
  layout: Layout,
  { known }: ProductOptions,
): ReturnType<typeof refuseFailing> => {
  const read = await refuseUnfit(bytes, layout.use, layout.name, known);
  return refuseFailing([{ file: `${layout.name}.pdf`, bytes }], new Map([[bytes, read]]), known);
};

/**
 * Everything that is printed or shown of a book. Throws InputFault when the book does not fit the
 * condition of use that the layout is made for, cannot be bound as it says, or fails its own check.
 */
export const makeProducts = async (
  pages: readonly Page[],
  layout: Layout,
  options: ProductOptions,
): Promise<Product[]> => {
  requireBound(pages.length, layout);
  const { fonts, title, language, record, changes, date } = options;
  const words = {
    ...{ fonts, title, language },
    ...(record === undefined ? {} : { record }),
    ...(date === undefined ? {} : { date }),
  };
  const stem = layout.name;
  const screen = await writePdf(withLinks(pages), layout, { ...words, edition: 'screen' });
  const checkedScreen = await checkScreen(screen, layout, options);
  const products: Product[] = [
    { file: `${stem}.pdf`, what: 'the book page by page, for a screen', bytes: screen },
    {
      file: `${stem}-press.pdf`,
      what: 'the book for a press, PDF/X-1a',
      bytes: await writePdf(pages, layout, { ...words, edition: 'press' }),
    },
  ];
  const { cover } = layout;
  if (cover !== null && options.covers !== undefined) {
    const spine = spineOf(pages.length, layout, cover);
    products.push({
      file: `${stem}-cover.pdf`,
      what: `the cover in one piece for a press, PDF/X-1a; ${spineWords(spine, layout, cover)}`,
      bytes: await writeCovers(options.covers(spine.width), layout, cover, spine, words),
    });
  }
  const measure = measureWith(fonts);
  for (const plan of layout.sheets) {
    products.push({
      file: `${stem}-${plan.name}.pdf`,
      what: `${PAPERS[plan.paper].title} sheets ${SCHEMES[plan.scheme]}, ${plan.up} pages on a side${changes?.whole === true ? '; in the place of the whole old sheet' : ''}`,
      bytes: await writeSheets(pages, layout, plan, {
        ...words,
        first: (sheet) => composeFirstSheet(layout, plan, sheet, { measure, words: options.words }),
      }),
    });
  }
  if (changes !== undefined) {
    products.push(...(await insertProducts(pages, layout, changes, options)));
  }
  const rest = products.filter(({ bytes }) => bytes !== screen);
  const checked = new Map([
    ...checkedScreen,
    ...(await refuseFailing(rest, undefined, options.known)),
  ]);
  const plans = [...layout.sheets, ...insertPlans(layout)];
  const sides = new Map(
    plans.map(({ name, duplex }) => [`${stem}-${name}.pdf`, duplex === 'one side' ? 1 : 2]),
  );
  products.forEach((product, i) => {
    const own = checked.get(product.file);
    if (own === undefined) return;
    const perSheet = sides.get(product.file);
    const sheets = perSheet === undefined ? null : Math.ceil(own.pages / perSheet);
    products[i] = { ...product, checked: { ...own, sheets } };
  });
  if (options.svg) {
    for (const page of pages) {
      products.push({
        file: `${stem}-svg/${page.id}.svg`,
        what: `${page.title}, as a drawing`,
        bytes: utf8(writeSvg(page, layout.inks, fonts)),
      });
    }
  }
  if (options.png !== null) {
    const images = await rasterise(screen, options.png);
    images.forEach((image, i) => {
      products.push({
        file: `${stem}-png/${pages[i].id}.png`,
        what: `${pages[i].title}, ${options.png} pixels to an inch`,
        bytes: encodePng(image),
      });
    });
  }
  products.push({
    file: 'typeface-licences.txt',
    what: 'the licences of the typefaces in the files',
    bytes: utf8(
      (['source-sans-3', 'alegreya', 'playpen-sans'] as const)
        .map(readFontLicence)
        .join(`\n${'-'.repeat(72)}\n\n`),
    ),
  });
  return products;
};
