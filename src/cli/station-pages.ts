import { greenPageProduct } from '../book/green-product.js';
import type { Product } from '../book/product.js';
import type { StationFigures } from '../book/station-figures.js';
import type { Layout } from '../layout/layout.js';
import type { BookContent, GreenContent } from '../page/book-content.js';
import { composeStationPage } from '../page/putts/station-page.js';
import { type Fonts, measureWith } from '../print/fonts.js';

/** What the pages of a station stand in. */
export interface StationPagesSetting {
  readonly green: GreenContent;
  readonly book: BookContent;
  readonly layout: Layout;
  readonly fonts: Fonts;
}

/** The page of a station as a file of its own. */
export const stationProducts = async (
  { location, station }: StationFigures,
  { green, book, layout, fonts }: StationPagesSetting,
): Promise<Product[]> => {
  const page = composeStationPage({
    layout,
    measure: measureWith(fonts),
    book,
    green,
    side: 'right',
    label: green.holeId,
    location,
    station,
  });
  const of = { file: 'station', what: 'the page of the station' };
  return [
    await greenPageProduct(page, {
      courseTitle: book.title,
      holeId: green.holeId,
      layout,
      fonts,
      of,
    }),
  ];
};
