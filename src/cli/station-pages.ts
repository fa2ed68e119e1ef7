import { greenPageProduct } from '../book/green-product.js';
import type { Product } from '../book/product.js';
import type { StationFigures } from '../book/station-figures.js';
import type { Layout } from '../layout/layout.js';
import type { BookContent, GreenContent } from '../page/book-content.js';
import { composeRoundPage, composeStationPage } from '../page/putts/station-page.js';
import { type Fonts, measureWith } from '../print/fonts.js';
import { fileDate } from './run-words.js';

/** What the pages of a station stand in. */
export interface StationPagesSetting {
  readonly green: GreenContent;
  readonly book: BookContent;
  readonly layout: Layout;
  readonly fonts: Fonts;
  /** Of the book's words. */
  readonly language: string;
}

/** The pages of a station, each as a file of its own. */
export const stationProducts = async (
  { location, station, round }: StationFigures,
  { green, book, layout, fonts, language }: StationPagesSetting,
): Promise<Product[]> => {
  const context = {
    layout,
    measure: measureWith(fonts),
    book,
    green,
    side: 'right',
    label: green.holeId,
    location,
  } as const;
  const at = { courseTitle: book.title, holeId: green.holeId };
  const setting = { ...at, layout, fonts, language, date: fileDate() };
  const products = [
    await greenPageProduct(composeStationPage({ ...context, station }), {
      ...setting,
      of: { file: 'station', what: 'the page of the station' },
    }),
  ];
  if (round !== null) {
    products.push(
      await greenPageProduct(composeRoundPage({ ...context, round }), {
        ...setting,
        of: { file: 'round', what: 'the page of the walk round the hole' },
      }),
    );
  }
  return products;
};
