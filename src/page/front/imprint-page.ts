import type { Imprint } from '../../course/course.js';
import { pointsToMm } from '../../units.js';
import type { BookContent } from '../book-content.js';
import { rule, stroke, text } from '../kit/draw.js';
import { folioModule } from '../kit/folio.js';
import type { Cell } from '../kit/grid.js';
import { tellsOfGround } from '../kit/outlined-greens.js';
import { composePage, type PageContext, type PageModule } from '../kit/page-modules.js';
import {
  fitOrShorten,
  type SetText,
  setParagraph,
  setParagraphs,
  setToFit,
} from '../kit/paragraph.js';
import { headingGroup, paragraphGroup } from '../kit/read-aloud.js';
import type { Mark, Page } from '../marks/marks.js';
import { phrase } from '../words/words.js';
import { barCodeMarks } from './bar-code.js';
import { logoModule } from './logo.js';
import { ornamentModule } from './ornament.js';

/** Whether a book says who sells it: only then it has an imprint and a back cover. */
export const isSold = (imprint: Imprint | undefined): imprint is Imprint =>
  imprint !== undefined &&
  (imprint.contact.length > 0 ||
    [imprint.publisher, imprint.copyright, imprint.isbn, imprint.price, imprint.about].some(
      (one) => one !== null,
    ));

/** What stands before a line; the table of words has a wording for each. */
type Line =
  | 'publisher'
  | 'copyright'
  | 'edition'
  | 'surveyed'
  | 'made'
  | 'isbn'
  | 'price'
  | 'contact'
  | 'buyer'
  | 'typefaces';

/** What the page tells, in its order; lines that the imprint does not have are left out. */
const linesOf = (imprint: Imprint, book: BookContent): (readonly [Line, string])[] =>
  (
    [
      ['publisher', imprint.publisher],
      ['copyright', imprint.copyright],
      ['edition', imprint.edition],
      ['surveyed', imprint.surveyed],
      ['made', imprint.made],
      ['isbn', imprint.isbn?.written ?? null],
      ['price', imprint.price],
      ...imprint.contact.map((line) => ['contact', line] as const),
      ['buyer', imprint.buyer],
      ['typefaces', phrase(book, 'imprint.faces')],
    ] as const
  ).flatMap(([key, words]) => (words === null ? [] : [[key, words] as const]));

/** Between a name and its line, millimetres a point of type. */
const APART = 0.6;

/**
 * The imprint's lines from the top of a cell, with what each is: type of `size` points, between two lines `gap`
 * millimetres a point of type.
 */
export const imprintLines = (
  imprint: Imprint,
  cell: Cell,
  { size, gap }: { readonly size: number; readonly gap: number },
  context: PageContext,
): SetText => {
  const { measure, book } = context;
  const lines = linesOf(imprint, book);
  const names = lines.map(([key]) => measure(phrase(book, `imprint.${key}`), 'text-italic', size));
  const inset = Math.max(...names) + APART * size;
  let used = 0;
  let before = '';
  const marks = lines.flatMap(([key, words]): Mark[] => {
    const y = cell.y + used;
    const place = { ...cell, x: cell.x + inset, width: cell.width - inset, y };
    const set = setParagraph(words, place, { face: 'text', size, leading: size * 1.3 }, measure);
    const isSame = before === key;
    before = key;
    used += set.height + size * gap;
    const label = phrase(book, `imprint.${key}`);
    const name = text([cell.x, y + pointsToMm(size) * 0.8], label, 'text-italic', size);
    return [...(isSame ? [] : [paragraphGroup(label, [name])]), ...set.marks];
  });
  return { marks, height: used };
};

const linesModule: PageModule<PageContext> = (context, cell) => {
  const { imprint } = context.book;
  if (imprint === undefined) return [];
  return setToFit(
    (size) => imprintLines(imprint, cell, { size, gap: 0.16 }, context),
    cell.height,
    {
      full: context.layout.type.text,
      least: 6,
    },
  ).marks;
};

const headingModule: PageModule<PageContext> = ({ layout, measure, book }, cell) => {
  const base = cell.y + pointsToMm(layout.type.title) * 0.9;
  const name = fitOrShorten(
    book.title,
    cell.width,
    { face: 'title-bold', size: layout.type.title, least: 9 },
    measure,
  );
  return [
    headingGroup(book.title, [text([cell.x, base], name.text, 'title-bold', name.size)]),
    rule(cell.x, base + 2, cell.x + cell.width, base + 2, stroke(0.3)),
  ];
};

const cautionsModule: PageModule<PageContext> = ({ layout, measure, book }, cell) =>
  setParagraphs(
    [phrase(book, 'use.aid'), ...(tellsOfGround(book) ? [phrase(book, 'use.not-modelled')] : [])],
    cell,
    { face: 'text', lead: 1.35, gap: 1 },
    { full: layout.type.text, least: 6 },
    measure,
  ).marks;

const IMPRINT_MODULES: Readonly<Record<string, PageModule<PageContext>>> = {
  heading: headingModule,
  'imprint-lines': linesModule,
  cautions: cautionsModule,
  logo: logoModule,
  foot: folioModule,
};

/** Who made the book, when and from what: the page that a book which is sold has near its end. */
export const composeImprintPage = (context: PageContext): Page =>
  composePage(
    'imprint',
    { id: 'imprint', title: phrase(context.book, 'imprint.title') },
    IMPRINT_MODULES,
    context,
  );

const aboutModule: PageModule<PageContext> = ({ layout, measure, book }, cell) => {
  const { title, setting, imprint } = book;
  const size = layout.type.title;
  const name = fitOrShorten(title, cell.width, { face: 'title-bold', size, least: 9 }, measure);
  const base = cell.y + pointsToMm(name.size) * 0.9;
  const below = base + 3 - cell.y;
  const words = imprint?.about ?? setting;
  return [
    headingGroup(title, [text([cell.x, base], name.text, 'title-bold', name.size)]),
    ...setParagraphs(
      words === '' ? [] : words.split(/\n\s*\n/),
      { ...cell, y: cell.y + below, height: cell.height - below },
      { face: 'title', lead: 1.35, gap: 1.5 },
      { full: layout.type.heading, least: 6 },
      measure,
    ).marks,
  ];
};

const sellerModule: PageModule<PageContext> = ({ layout, measure, book }, cell) => {
  const { imprint } = book;
  const lines = [imprint?.publisher, ...(imprint?.contact ?? []), imprint?.price];
  return setParagraphs(
    lines.flatMap((line) => line ?? []),
    cell,
    { face: 'text', lead: 1.3, gap: 0.3 },
    { full: layout.type.text, least: 6 },
    measure,
  ).marks;
};

const barCodeModule: PageModule<PageContext> = ({ layout, measure, book }, cell) => {
  const { isbn = null, addOn = null } = book.imprint ?? {};
  return isbn === null
    ? []
    : barCodeMarks({ isbn, addOn, words: book.words }, cell, layout, measure);
};

/** What a back cover is made of, in a book and on a cover of its own. */
const BACK_MODULES: Readonly<Record<string, PageModule<PageContext>>> = {
  about: aboutModule,
  seller: sellerModule,
  ornament: ornamentModule,
  logo: logoModule,
  'bar-code': barCodeModule,
};

export const composeBackCover = (context: PageContext): Page =>
  composePage(
    'back-cover',
    { id: 'back-cover', title: phrase(context.book, 'imprint.back') },
    BACK_MODULES,
    context,
  );
