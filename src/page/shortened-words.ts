import { quoted } from '../fault.js';
import { textsOfPage } from './marks/mark-texts.js';
import type { Page } from './marks/marks.js';

/** Lines that are told; of more how many there are. */
const MOST = 12;

/** Texts that were cut at their end for want of room, in the order in which they are drawn. */
export const shortenedTexts = (page: Page): readonly string[] =>
  page.shortened ?? textsOfPage(page).flatMap(({ text }) => (text.endsWith('…') ? [text] : []));

/** What had no room on its page, page by page. */
const leftOutWords = (pages: readonly Page[]): string[] => {
  const lines = pages.flatMap(({ label, title, leftOut = [] }) =>
    leftOut.map(
      (words) =>
        `no room on page ${label}, ${title}: ${quoted(words, 120)}; runnel distances tells all`,
    ),
  );
  const more = lines.length - MOST;
  return more > 0 ? [...lines.slice(0, MOST), `and ${more} more had no room`] : lines;
};

/**
 * Words that were cut at their end for want of room, each with the numbers of its pages, a line for each; then what was
 * left out.
 */
export const shortenedWords = (pages: readonly Page[]): string[] => {
  const found = new Map<string, string[]>();
  for (const page of pages) {
    const { label } = page;
    for (const text of shortenedTexts(page)) {
      const on = found.get(text) ?? [];
      if (!on.includes(label)) found.set(text, [...on, label]);
    }
  }
  const lines = [...found].map(
    ([text, on]) =>
      `shortened, as there is no room for more: ${quoted(text, 120)} on ${on.length === 1 ? 'page' : 'pages'} ${on.join(', ')}`,
  );
  const more = lines.length - MOST;
  const told = more > 0 ? [...lines.slice(0, MOST), `and ${more} more are shortened`] : lines;
  return [...told, ...leftOutWords(pages)];
};
