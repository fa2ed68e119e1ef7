import { onePiece, type PiecedBytes } from '../file-bytes.js';
import { requireBound } from '../layout/binding.js';
import { spineOf, spineWords } from '../layout/cover-spine.js';
import type { Layout } from '../layout/layout.js';
import { PAPERS } from '../layout/paper.js';
import { withLinks } from '../page/book-links.js';
import { composeFirstSheet } from '../page/front/first-sheet.js';
import type { Page } from '../page/marks/marks.js';
import type { StoreBlock } from '../print/byte-store.js';
import { writeCovers } from '../print/cover-pdf.js';
import { readFontLicence } from '../print/font-files.js';
import { measureWith } from '../print/fonts.js';
import { pdfInPieces } from '../print/pdf.js';
import { encodePng, rasterise } from '../print/raster.js';
import { sheetsInPieces } from '../print/sheet-pdf.js';
import { writeSvg } from '../print/svg.js';
import { insertPlans, insertProducts } from './insert-products.js';
import {
  keeperOf,
  onASide,
  type Product,
  type ProductOptions,
  productOf,
  storeOf,
} from './product.js';
import { checkedProducts, checkHere } from './product-check.js';
import type { PassedFile, UncheckedFile } from './unchecked-file.js';

const SCHEMES = {
  leaves: 'to be cut into leaves',
  stack: 'to be cut as one pile',
  saddle: 'to be folded and stapled',
  'fold-up': 'to be folded small',
} as const;

const utf8 = (text: string): PiecedBytes => onePiece(new TextEncoder().encode(text));

/** A product before its check. */
type MadeProduct = Pick<Product, 'file' | 'what'> & { readonly made: PiecedBytes };

/** Puts products away, each read back: while the next one is made, where the check has a thread. */
const startProducts = (layout: Layout, { check = checkHere(), room }: ProductOptions) => {
  const plans = [...layout.sheets, ...insertPlans(layout)];
  const sides = new Map(
    plans.map(({ name, duplex }) => [`${layout.name}-${name}.pdf`, duplex === 'one side' ? 1 : 2]),
  );
  const keep = keeperOf(room);
  const { add, all } = checkedProducts<Product>(check);
  return {
    all,
    add: (
      { made, ...told }: MadeProduct,
      held?: UncheckedFile['held'],
      place?: 'first',
    ): Promise<void> => {
      const { file } = told;
      const kept = keep(made);
      const unchecked = { file, bytes: kept.where, ...(held === undefined ? {} : { held }) };
      // What finishes it holds the open file until the check has read it.
      const finish = (own: PassedFile | null): Product => {
        if (own === null) return productOf(told, kept);
        const perSheet = sides.get(file);
        const sheets = perSheet === undefined ? null : Math.ceil(own.pages / perSheet);
        return productOf({ ...told, checked: { ...own, sheets } }, kept);
      };
      return add(unchecked, finish, place);
    },
  };
};

type StartedProducts = ReturnType<typeof startProducts>;

/** What all documents say of themselves, and where each keeps what is written of it. */
const writingOf = ({ fonts, title, language, record, date, room }: ProductOptions) => ({
  words: {
    ...{ fonts, title, language },
    ...(record === undefined ? {} : { record }),
    ...(date === undefined ? {} : { date }),
  },
  store: (): StoreBlock => storeOf(room),
});

/** Adds the edition for a screen, once, before all others. */
const screenOf = (
  { add }: StartedProducts,
  pages: readonly Page[],
  layout: Layout,
  options: ProductOptions,
): (() => Promise<void>) => {
  let added: Promise<void> | undefined;
  const make = async (): Promise<void> => {
    const { words, store } = writingOf(options);
    const setting = { ...words, edition: 'screen', store: store() } as const;
    const product = {
      file: `${layout.name}.pdf`,
      what: 'the book page by page, for a screen',
      made: await pdfInPieces(withLinks(pages), layout, setting),
    };
    await add(product, { use: layout.use, layout: layout.name }, 'first');
  };
  return () => {
    added ??= make();
    return added;
  };
};

/** Makes all products one after the other; `addScreen` makes the first of them. */
const addProducts = async (
  { add, all }: StartedProducts,
  pages: readonly Page[],
  layout: Layout,
  options: ProductOptions,
  addScreen: () => Promise<void>,
): Promise<void> => {
  const { fonts, changes } = options;
  const { words, store } = writingOf(options);
  const stem = layout.name;
  await add({
    file: `${stem}-press.pdf`,
    what: 'the book for a press, PDF/X-1a',
    made: await pdfInPieces(pages, layout, { ...words, edition: 'press', store: store() }),
  });
  const { cover } = layout;
  if (cover !== null && options.covers !== undefined) {
    const spine = spineOf(pages.length, layout, cover);
    await add({
      file: `${stem}-cover.pdf`,
      what: `the cover in one piece for a press, PDF/X-1a; ${spineWords(spine, layout, cover)}`,
      made: await writeCovers(options.covers(spine.width), layout, cover, spine, {
        ...words,
        store: store(),
      }),
    });
  }
  const measure = measureWith(fonts);
  for (const plan of layout.sheets) {
    const made = await sheetsInPieces(pages, layout, plan, {
      ...{ ...words, store: store() },
      first: (sheet) => composeFirstSheet(layout, plan, sheet, { measure, words: options.words }),
    });
    const product = {
      file: `${stem}-${plan.name}.pdf`,
      what: `${PAPERS[plan.paper].title} sheets ${SCHEMES[plan.scheme]}, ${onASide(plan.up)}${changes?.whole === true ? '; in the place of the whole old sheet' : ''}`,
      made,
    };
    // What is not cut is carried as one piece, which the Rules measure.
    const isWhole = plan.scheme === 'fold-up';
    await add(product, isWhole ? { use: layout.use, layout: layout.name } : undefined);
  }
  if (changes !== undefined) {
    for (const { bytes, ...told } of await insertProducts(pages, layout, changes, options)) {
      await add({ ...told, made: onePiece(bytes) });
    }
  }
  // Tags take the most work: the check has long begun with what is made sooner.
  await addScreen();
  if (options.svg) {
    for (const page of pages) {
      await add({
        file: `${stem}-svg/${page.id}.svg`,
        what: `${page.title}, as a drawing`,
        made: utf8(writeSvg(page, layout.inks, fonts)),
      });
    }
  }
  if (options.png !== null) {
    const [screen] = await all();
    const images = await rasterise(screen.bytes, options.png);
    for (const [i, image] of images.entries()) {
      await add({
        file: `${stem}-png/${pages[i].id}.png`,
        what: `${pages[i].title}, ${options.png} pixels to an inch`,
        made: onePiece(encodePng(image)),
      });
    }
  }
  const licences = (['source-sans-3', 'alegreya', 'playpen-sans'] as const).map(readFontLicence);
  await add({
    file: 'typeface-licences.txt',
    what: 'the licences of the typefaces in the files',
    made: utf8(licences.join(`\n${'-'.repeat(72)}\n\n`)),
  });
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
  const started = startProducts(layout, options);
  const addScreen = screenOf(started, pages, layout, options);
  try {
    await addProducts(started, pages, layout, options, addScreen);
  } catch (error) {
    // A product that fails its check comes before one that cannot be made, the first of them before all.
    await addScreen();
    await started.all();
    throw error;
  }
  return started.all();
};
