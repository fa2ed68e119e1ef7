import type { Layout } from '../layout/layout.js';
import type { BookContent } from '../page/book-content.js';
import { composeBookCover } from '../page/front/book-cover.js';
import type { MeasureText } from '../page/marks/marks.js';
import type { ProductOptions } from './product.js';

/** The covers of a book whose layout has one of its own: one, or one for each of the buyers where any are named. */
export const coversFor = (
  content: BookContent,
  layout: Layout,
  buyers: readonly string[] | null,
  measure: MeasureText,
): Pick<ProductOptions, 'covers'> => {
  const { cover } = layout;
  const { imprint } = content;
  if (cover === null) return {};
  const books =
    buyers === null || imprint === undefined
      ? [content]
      : buyers.map((buyer) => ({ ...content, imprint: { ...imprint, buyer } }));
  return {
    covers: (spine) =>
      books.map((book) => () => composeBookCover(book, layout, cover, spine, measure)),
  };
};
