import type { PDFRef } from 'pdf-lib';
import { quoted } from '../fault.js';
import { type PiecedBytes, wholeOf } from '../file-bytes.js';
import { fillForBinding } from '../layout/binding.js';
import type { Layout } from '../layout/layout.js';
import { oneByOne } from '../others-turn.js';
import { blankPage } from '../page/marks/blank-page.js';
import type { LinkMark, Mark, Page } from '../page/marks/marks.js';
import { mmToPoints } from '../units.js';
import { bookFacts } from './book-facts.js';
import type { StoreBlock } from './byte-store.js';
import { drawnContent } from './content.js';
import type { DocumentWords } from './document-words.js';
import { type FontBook, startFontBook } from './font-embedding.js';
import type { Fonts } from './fonts.js';
import { type ColourModel, number } from './inks.js';
import { keptContent, notedContent } from './kept-drawing.js';
import { addPage, finishDocument, type PdfBox, startDocument } from './pdf-document.js';
import { pressCondition } from './press-conditions.js';
import { CROP_REACH, cropMarks, registrationMarks } from './printer-marks.js';
import { linkAnnotation } from './structure-links.js';
import { type PageTags, startStructure } from './structure-tags.js';

export interface PdfOptions extends DocumentWords {
  readonly fonts: Fonts;
  /**
   * `press`: PDF/X-1a:2003 in the layout's inks with bleed and marks; `plain`: the trimmed pages in RGB,
   * for a home printer; `screen`: the same with links and tags.
   */
  readonly edition: 'press' | 'plain' | 'screen';
  /** Keeps what is written until the file is whole; in memory where it is left out. */
  readonly store?: StoreBlock | undefined;
}

/** Bookmarks: one a page, in order; a page that repeats its forerunner's title is not listed again. */
const bookmarksOf = (pages: readonly Page[]): { title: string; page: number }[] =>
  pages.flatMap((page, i) =>
    i > 0 && pages[i - 1].title === page.title ? [] : [{ title: page.title, page: i }],
  );

const linksOf = (marks: readonly Mark[]): LinkMark[] =>
  marks.flatMap((mark) =>
    mark.kind === 'link'
      ? [mark]
      : mark.kind === 'group' || mark.kind === 'clip'
        ? linksOf(mark.marks)
        : [],
  );

const linksOfPage = (page: Page): LinkMark[] => [
  ...linksOf(page.memory?.words ?? page.marks),
  ...(page.links ?? []),
];

/** A page's content in its trimmed place, printed out to the bleed, among marks for the press. */
const onPress = (content: string, trim: PdfBox, bleed: number, media: PdfBox): string => {
  const [x, y, right, top] = trim;
  const bled = [-bleed, -bleed, right - x + 2 * bleed, top - y + 2 * bleed].map(number).join(' ');
  return [
    `q 1 0 0 1 ${number(x)} ${number(y)} cm ${bled} re W n`,
    content,
    'Q',
    cropMarks([trim], bleed),
    registrationMarks(trim, bleed, media),
  ].join('\n');
};

/** Pages one after another, each on its own PDF page. */
export const pdfInPieces = async (
  given: readonly Page[],
  layout: Layout,
  options: PdfOptions,
): Promise<PiecedBytes> => {
  const { fonts, edition } = options;
  const press = edition === 'press';
  const pages = press ? fillForBinding(given, layout.binding.method, blankPage) : given;
  const model: ColourModel = press ? layout.inks.model : 'screen';
  const draft = startDocument(startFontBook(fonts), options, options.store);
  const { context, book } = draft;
  const structure = edition === 'screen' ? startStructure(draft) : null;
  const refs = pages.map(() => context.nextRef());
  const places = new Map(pages.map(({ id }, i) => [id, i]));
  const bleed = press ? mmToPoints(layout.press.bleed) : 0;
  const slug = press ? mmToPoints(layout.press.bleed + CROP_REACH) : 0;

  const annotations = (page: Page, tags: PageTags): PDFRef[] =>
    linksOfPage(page).map(({ box, toPage }) => {
      const target = places.get(toPage);
      if (target === undefined)
        throw new Error(`page ${page.id} links to ${quoted(toPage)}, which is not in the book`);
      const rect = [
        box.x,
        page.height - box.y - box.height,
        box.x + box.width,
        page.height - box.y,
      ].map(mmToPoints);
      const ref = context.nextRef();
      context.assign(
        ref,
        context.obj(
          linkAnnotation(
            draft,
            rect,
            refs[target],
            pages[target].title,
            tags.link(ref, box),
          ) as never,
        ),
      );
      return ref;
    });

  await oneByOne(pages, (page, i) => {
    const width = mmToPoints(page.width);
    const height = mmToPoints(page.height);
    const media: PdfBox = [0, 0, width + 2 * slug, height + 2 * slug];
    const trim: PdfBox = [slug, slug, slug + width, slug + height];
    const kept = keptContent(page, edition, book);
    const tags = structure?.page(page, refs[i], kept === null ? page.marks : null);
    const draw = (fontBook: FontBook): string => {
      const content = drawnContent(page.marks, {
        fonts,
        book: fontBook,
        inks: layout.inks,
        model,
        height: page.height,
        ...(tags === undefined ? {} : { tagger: tags.tagger }),
      });
      return press ? onPress(content, trim, bleed, media) : content;
    };
    const content = kept ?? notedContent(page, edition, book, draw);
    const links = tags === undefined ? [] : annotations(page, tags);
    addPage(
      draft,
      {
        content,
        media,
        trim,
        bleed: [trim[0] - bleed, trim[1] - bleed, trim[2] + bleed, trim[3] + bleed],
        extra: { ...(links.length > 0 ? { Annots: links } : {}), ...tags?.entries() },
      },
      refs[i],
    );
  });
  return finishDocument(draft, {
    inks: layout.inks,
    model,
    bookmarks: bookmarksOf(pages),
    labels: pages.map((page) => page.label),
    press: press ? pressCondition(layout.press.condition) : null,
    registration: press,
    facts: bookFacts(layout, pages.length),
    ...(structure === null ? {} : { catalog: structure.write() }),
  });
};

/** The same, in memory. */
export const writePdf = async (...asked: Parameters<typeof pdfInPieces>): Promise<Uint8Array> =>
  wholeOf(await pdfInPieces(...asked));
