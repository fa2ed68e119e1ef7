import { withHeld } from '../fetched-record.js';
import { pointsToMm } from '../units.js';
import { textsOfPage } from './marks/mark-texts.js';
import type { LinkMark, Page } from './marks/marks.js';

/** Height of the strips at head and foot that lead on, millimetres. */
const HEAD = 16;
const FOOT = 9;

const strip = (page: Page, y: number, height: number, toPage: string): LinkMark => ({
  kind: 'link',
  box: { x: 0, y, width: page.width, height },
  toPage,
});

/** A link over each row of a card that begins with the number of a hole in the book. */
const rowLinks = (card: Page, firstOf: ReadonlyMap<string, string>): LinkMark[] =>
  textsOfPage(card).flatMap((mark) => {
    const toPage = firstOf.get(mark.text);
    if (toPage === undefined || mark.at[0] > card.width / 4) return [];
    const high = pointsToMm(mark.size);
    return [strip(card, mark.at[1] - high, high * 1.4, toPage)];
  });

/**
 * The pages with links for a screen: the cover leads on, each row of the card to its hole, the head of a
 * page to the next page about the same hole, its foot back to the card.
 */
export const withLinks = (pages: readonly Page[]): Page[] => {
  const firstOf = new Map<string, string>();
  const about = new Map<string, Page[]>();
  for (const page of pages) {
    const { hole } = page;
    if (hole === undefined) continue;
    if (!firstOf.has(hole)) firstOf.set(hole, page.id);
    about.set(hole, [...(about.get(hole) ?? []), page]);
  }
  const home = pages.find((page) => page.id.startsWith('card')) ?? pages[0];
  return pages.map((page, i) => {
    const { hole } = page;
    const links: LinkMark[] = [];
    if (page.id === 'cover' && pages.length > 1) {
      links.push(strip(page, 0, page.height, pages[i + 1].id));
    }
    if (page.id.startsWith('card')) links.push(...rowLinks(page, firstOf));
    if (hole !== undefined) {
      const same = about.get(hole)!;
      const next = same[(same.indexOf(page) + 1) % same.length];
      if (next !== page) links.push(strip(page, 0, HEAD, next.id));
    }
    if (page !== home && page.id !== 'cover') {
      links.push(strip(page, page.height - FOOT, FOOT, home.id));
    }
    return links.length === 0 ? page : withHeld(page, { links });
  });
};
