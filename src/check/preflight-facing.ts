import type { Finding } from './preflight-finding.js';
import type { ReadBook } from './read-book.js';

/** What the rule asks of one page of the book. */
interface Shown {
  /** Counted from 1 in reading order. */
  readonly number: number;
  /** The page of the PDF that it is on, from 1. */
  readonly page: number;
  /** The green that it draws by itself; null for none or several. */
  readonly green: string | null;
  /** Whether it tells putts and draws no ground: tables. */
  readonly isTables: boolean;
}

const shownIn = ({ pages }: ReadBook): Shown[] =>
  pages
    .flatMap(({ drawn }, i) => {
      const at = (on: number | null, number: number): Shown => {
        const grounds = drawn.grounds.filter((one) => one.on === on);
        const [only] = grounds.length === 1 ? grounds : [];
        const told = drawn.shows.some((one) => one.on === on && one.what === 'putts');
        return {
          ...{ number, page: i + 1 },
          green: only?.kind === 'green-image' ? only.id : null,
          isTables: told && grounds.length === 0,
        };
      };
      return drawn.placed.length > 0
        ? drawn.placed.map(({ number }, on) => at(on, number))
        : [at(null, i + 1)];
    })
    .sort((a, b) => a.number - b.number);

/**
 * A book that lays each green beside its first tables: the green stands on a left-hand page, of an even number, its tables on
 * the next. By what the pages draw, in single pages and on sheets; on which side of a sheet they come to lie is the imposer's.
 */
export const facingFindings = (book: ReadBook): Finding[] => {
  if (book.facts?.facing !== 'green and tables') return [];
  const rule = 'facing pages';
  const shown = shownIn(book);
  const faults = shown.flatMap((one, i): Finding[] => {
    const before = shown[i - 1];
    if (!one.isTables || before?.isTables === true) return [];
    const at = { rule, verdict: 'fail', page: one.page } as const;
    if (before === undefined || before.green === null || before.number !== one.number - 1) {
      return [{ ...at, words: `the tables on page ${one.number} have no green before them` }];
    }
    if (before.number % 2 === 0) return [];
    const words = `green ${before.green} on page ${before.number} and its tables on page ${one.number} are one leaf, not two pages side by side`;
    return [{ ...at, words }];
  });
  if (faults.length > 0) return faults;
  const pairs = shown.filter(({ isTables }, i) => isTables && shown[i - 1]?.isTables !== true);
  const words = `${pairs.length} greens lie open beside their tables`;
  return pairs.length === 0 ? [] : [{ rule, verdict: 'pass', page: null, words }];
};
