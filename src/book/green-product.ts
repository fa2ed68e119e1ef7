import { refuseFailing } from '../check/self-check.js';
import type { Layout } from '../layout/layout.js';
import type { Page } from '../page/marks/marks.js';
import type { Fonts } from '../print/fonts.js';
import { writePdf } from '../print/pdf.js';
import type { Product } from './product.js';

/** What a green's page stands in: of a whole course, in a layout. */
export interface GreenPageSetting {
  readonly courseTitle: string;
  readonly holeId: string;
  readonly layout: Layout;
  readonly fonts: Fonts;
  /** Of its words: a tag (BCP 47). */
  readonly language: string;
  /** When it is made; see `DocumentWords`. */
  readonly date?: string | undefined;
  /** What the page shows, in its file's name and in words; the green as it is read where it is left out. */
  readonly of?: { readonly file: string; readonly what: string };
}

const READ = { file: 'green', what: 'the page of the green' };

/** The page of one green as a file of its own. Throws InputFault when it fails its own check. */
export const greenPageProduct = async (
  page: Page,
  { courseTitle, holeId, layout, fonts, language, date, of = READ }: GreenPageSetting,
): Promise<Product> => {
  const product = {
    file: `${layout.name}-${of.file}-${encodeURIComponent(holeId)}.pdf`,
    what: of.what,
    bytes: await writePdf([page], layout, {
      fonts,
      title: `${courseTitle}: ${page.title}`,
      language,
      edition: 'screen',
      ...(date === undefined ? {} : { date }),
    }),
  };
  await refuseFailing([product]);
  return product;
};
