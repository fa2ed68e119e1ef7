import { PAGES_AT_A_TIME } from '../layout/binding.js';
import type { PageKind } from '../layout/layout.js';
import type { BookContent } from './book-content.js';
import { composeConversionsPage } from './front/card-conversions.js';
import { composeBackCover, composeImprintPage, isSold } from './front/imprint-page.js';
import { type Planner, planNotes } from './planner.js';
import { imprintBelow } from './survey/surveys-imprint.js';
import { composeSurveysPage } from './survey/surveys-page.js';
import { surveysParts } from './survey/surveys-words.js';

/**
 * Pages of what the surveys are worth; returns whether the imprint stands below the last of them. It does where it has
 * room there and a page of its own would make the binding take further paper for that page alone.
 */
const planSurveys = (
  book: BookContent,
  { layout, plan, context, count }: Planner,
  imprintPages: { readonly own: boolean; readonly after: number },
): boolean => {
  const parts = surveysParts(context(null), book.greens);
  const shared = count() + parts.length + imprintPages.after;
  const isDear = imprintPages.own && shared % PAGES_AT_A_TIME[layout.binding.method] === 0;
  const last = parts.length - 1;
  let isBelow = false;
  parts.forEach((greens, part) => {
    const shown = { ...context(null), greens, part };
    const withImprint = isDear && part === last && imprintBelow(shown) !== null;
    isBelow ||= withImprint;
    plan('surveys', null, (c) => composeSurveysPage({ ...c, greens, part, withImprint }));
  });
  return isBelow;
};

/** Lengths and slopes, and the signs of holes' maps: of a book that has such maps. */
export const planConversions = (book: BookContent, { layout, plan }: Planner): void => {
  if (layout.pages.conversions === undefined || (book.holes ?? []).length === 0) return;
  plan('conversions', null, composeConversionsPage);
};

/**
 * The last pages of a book: conversions where they have not come before its holes, what the surveys are worth, and of a book that says who sells it imprint and
 * back cover. The back is the last page that the binding makes, so that pages for notes, blank where the layout has
 * none, come before it.
 */
export const planEnd = (book: BookContent, planner: Planner, hasConversions: boolean): void => {
  const { layout, plan, count } = planner;
  const has = (kind: PageKind): boolean => layout.pages[kind] !== undefined;
  if (!hasConversions) planConversions(book, planner);
  const own = isSold(book.imprint) && has('imprint');
  const hasBack = isSold(book.imprint) && has('back-cover');
  const isBelow =
    has('surveys') &&
    book.greens.length > 0 &&
    planSurveys(book, planner, { own, after: hasBack ? 1 : 0 });
  // No book is made of its imprint alone.
  if (count() === 0) return;
  if (own && !isBelow) plan('imprint', null, composeImprintPage);
  if (!hasBack) return;
  while ((count() + 1) % PAGES_AT_A_TIME[layout.binding.method] !== 0) planNotes(null, planner);
  plan('back-cover', null, composeBackCover);
};
