import type { BookContent } from '../book-content.js';
import { mayBeAlike, mayTakeTurns } from '../green/outlet-spots.js';
import { outlinedGreens, tellsOfGround } from '../kit/outlined-greens.js';
import type { PageContext } from '../kit/page-modules.js';

/** What kinds of green the book holds: it tells how to read no other. */
export interface HeldKinds {
  readonly putts: boolean;
  readonly falls: boolean;
  readonly bare: boolean;
  /** A main line that is one of many alike; mouths with shares. */
  readonly alike: boolean;
  readonly turns: boolean;
  readonly outlines: boolean;
  readonly locations: boolean;
}

/** Each green is looked at once: of a book of many greens it is brought from a file for that. */
const kindsIn = (book: BookContent): HeldKinds => {
  const outlined = outlinedGreens(book);
  const kinds = book.greens.map(({ worth, reading, locations }) => {
    const isShown = worth.worth !== 'outline';
    return {
      bare: isShown && worth.bare.length > 0,
      alike: isShown && mayBeAlike(reading),
      turns: isShown && mayTakeTurns(reading),
      locations: locations.length > 0,
    };
  });
  const held = (kind: keyof (typeof kinds)[number]): boolean => kinds.some((one) => one[kind]);
  return {
    putts: book.greens.some(({ worth }) => worth.worth === 'tables'),
    falls: tellsOfGround(book),
    outlines: outlined.length > 0,
    ...{ bare: held('bare'), alike: held('alike'), turns: held('turns') },
    locations: held('locations') || outlined.some((one) => one.locations.length > 0),
  };
};

const KNOWN_KINDS = new WeakMap<BookContent, HeldKinds>();

export const heldKinds = ({ book }: PageContext): HeldKinds => {
  const kinds = KNOWN_KINDS.get(book) ?? kindsIn(book);
  KNOWN_KINDS.set(book, kinds);
  return kinds;
};
