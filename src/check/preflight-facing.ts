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
  /** The hole whose map it draws by itself. */
  readonly hole: string | null;
  /** Whether it tells putts and draws no ground: tables. */
  readonly isTables: boolean;
}

/** The pages of the book; a side of a sheet that none is placed on is none of them. */
const shownIn = ({ pages, facts }: ReadBook): Shown[] =>
  pages
    .flatMap(({ drawn }, i) => {
      const at = (on: number | null, number: number): Shown => {
        const grounds = drawn.grounds.filter((one) => one.on === on);
        const [only] = grounds.length === 1 ? grounds : [];
        const told = drawn.shows.some((one) => one.on === on && one.what === 'putts');
        const of = (kind: string): string | null => (only?.kind === kind ? only.id : null);
        return {
          ...{ number, page: i + 1, green: of('green-image'), hole: of('hole-image') },
          isTables: told && grounds.length === 0,
        };
      };
      const isSide = drawn.placed.length > 0 || (facts !== null && facts.sheet !== null);
      return isSide ? drawn.placed.map(({ number }, on) => at(on, number)) : [at(null, i + 1)];
    })
    .sort((a, b) => a.number - b.number);

/** Two pages that are to lie open side by side: the second on the next page of the first. */
interface Pair {
  readonly right: Shown;
  /** Null where the page before is not the one that belongs there. */
  readonly left: Shown | null;
  /** "green 7", "its tables". */
  readonly words: readonly [left: string, right: string];
}

/** Whether a page is the one right before another. */
const isBefore = (left: Shown | undefined, right: Shown): left is Shown =>
  left?.number === right.number - 1;

/** The first tables of each green, and the page before them where it has the green. */
const tablesOf = (shown: readonly Shown[]): Pair[] =>
  shown.flatMap((right, i): Pair[] => {
    const before = shown[i - 1];
    if (!right.isTables || before?.isTables === true) return [];
    const isGreen = isBefore(before, right) && before.green !== null;
    const words = [isGreen ? `green ${before.green}` : 'green', 'its tables'] as const;
    return [{ right, left: isGreen ? before : null, words }];
  });

/** Each green whose hole has a map in the book, and the page before it where that is the map. */
const greensOf = (shown: readonly Shown[]): Pair[] => {
  const mapped = new Set(shown.map(({ hole }) => hole));
  return shown.flatMap((right, i): Pair[] => {
    const before = shown[i - 1];
    if (right.green === null || !mapped.has(right.green)) return [];
    const isMap = isBefore(before, right) && before.hole === right.green;
    const words = [`the map of hole ${right.green}`, 'its green'] as const;
    return [{ right, left: isMap ? before : null, words }];
  });
};

/** What a book may ask for, what of it is looked for, and what is said where all of it lies so. */
const ASKED: Readonly<
  Record<
    string,
    readonly [find: (shown: readonly Shown[]) => Pair[], passed: string, lacks: string]
  >
> = {
  'green and tables': [
    tablesOf,
    'greens lie open beside their tables',
    'have no green before them',
  ],
  'hole and green': [
    greensOf,
    'holes lie open beside their greens',
    'has no map of its hole before it',
  ],
};

/**
 * A book that lays each green beside its first tables, or each hole's map beside its green: the one stands on a left-hand
 * page, of an even number, the other on the next. By what the pages draw, in single pages and on sheets; on which side of a
 * sheet they come to lie is the imposer's.
 */
export const facingFindings = (book: ReadBook): Finding[] => {
  const asked = ASKED[book.facts?.facing ?? ''];
  if (asked === undefined) return [];
  const rule = 'facing pages';
  const [find, passed, lacks] = asked;
  const pairs = find(shownIn(book));
  const faults = pairs.flatMap(({ left, right, words }): Finding[] => {
    const at = { rule, verdict: 'fail', page: right.page } as const;
    const named = right.isTables ? 'the tables' : `green ${right.green}`;
    if (left === null) {
      return [{ ...at, words: `${named} on page ${right.number} ${lacks}` }];
    }
    if (left.number % 2 === 0) return [];
    const said = `${words[0]} on page ${left.number} and ${words[1]} on page ${right.number} are one leaf, not two pages side by side`;
    return [{ ...at, words: said }];
  });
  if (faults.length > 0) return faults;
  return pairs.length === 0
    ? []
    : [{ rule, verdict: 'pass', page: null, words: `${pairs.length} ${passed}` }];
};
