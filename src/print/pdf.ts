import type { Page } from '../page/marks.js';
import { mmToPoints } from '../units.js';
import { bookFacts } from './book-facts.js';
import { contentOf } from './content.js';
import { startFontBook } from './font-embedding.js';
import type { Fonts } from './fonts.js';
import { type ColourModel, number } from './inks.js';
import type { Layout } from './layout.js';
import {
  addPage,
  type DocumentWords,
  finishDocument,
  type PdfBox,
  startDocument,
} from './pdf-document.js';
import { pressCondition } from './press-conditions.js';
import { CROP_REACH, cropMarks, registrationMarks } from './printer-marks.js';

export interface PdfOptions extends DocumentWords {
  readonly fonts: Fonts;
  /**
   * `press`: PDF/X-1a:2003 in the layout's inks with bleed and marks; `plain`: the trimmed pages in RGB,
   * for a home printer; `screen`: the same with links and tags.
   */
  readonly edition: 'press' | 'plain' | 'screen';
}

/** Bookmarks: one a page, in order; a page that repeats its forerunner's title is not listed again. */
const bookmarksOf = (pages: readonly Page[]): { title: string; page: number }[] =>
  pages.flatMap((page, i) =>
    i > 0 && pages[i - 1].title === page.title ? [] : [{ title: page.title, page: i }],
  );

/** Pages one after another, each on its own PDF page. */
export const writePdf = async (
  pages: readonly Page[],
  layout: Layout,
  options: PdfOptions,
): Promise<Uint8Array> => {
  const { fonts, edition } = options;
  const press = edition === 'press';
  const model: ColourModel = press ? layout.inks.model : 'screen';
  const book = startFontBook(fonts);
  const draft = startDocument(book);
  const bleed = press ? mmToPoints(layout.press.bleed) : 0;
  const slug = press ? mmToPoints(layout.press.bleed + CROP_REACH) : 0;
  for (const page of pages) {
    const width = mmToPoints(page.width);
    const height = mmToPoints(page.height);
    const trim: PdfBox = [slug, slug, slug + width, slug + height];
    const content = contentOf(page.marks, {
      fonts,
      book,
      inks: layout.inks,
      model,
      height: page.height,
    });
    const bled = [-bleed, -bleed, width + 2 * bleed, height + 2 * bleed].map(number).join(' ');
    addPage(draft, {
      content: press
        ? [
            `q 1 0 0 1 ${number(slug)} ${number(slug)} cm ${bled} re W n`,
            content,
            'Q',
            cropMarks([trim], bleed),
            registrationMarks(trim, bleed),
          ].join('\n')
        : content,
      media: [0, 0, width + 2 * slug, height + 2 * slug],
      trim,
      bleed: [trim[0] - bleed, trim[1] - bleed, trim[2] + bleed, trim[3] + bleed],
    });
  }
  return finishDocument(draft, {
    words: options,
    inks: layout.inks,
    model,
    bookmarks: bookmarksOf(pages),
    labels: pages.map((page) => page.label),
    press: press ? pressCondition(layout.press.condition) : null,
    registration: press,
    facts: bookFacts(layout, pages.length),
  });
};
