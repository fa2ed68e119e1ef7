import { textMarksOf } from './marks/mark-texts.js';
import type { Page } from './marks/marks.js';

/** Lines that are told; of more how many there are. */
const MOST = 12;

/** Words that were cut at their end for want of room, each with the numbers of its pages; a line for each. */
export const shortenedWords = (pages: readonly Page[]): string[] => {
  const found = new Map<string, string[]>();
  for (const { label, marks } of pages) {
    for (const { text } of textMarksOf(marks)) {
      if (!text.endsWith('…')) continue;
      const on = found.get(text) ?? [];
      if (!on.includes(label)) found.set(text, [...on, label]);
    }
  }
  const lines = [...found].map(
    ([text, on]) =>
      `shortened, as there is no room for more: "${text}" on ${on.length === 1 ? 'page' : 'pages'} ${on.join(', ')}`,
  );
  const more = lines.length - MOST;
  return more > 0 ? [...lines.slice(0, MOST), `and ${more} more are shortened`] : lines;
};
