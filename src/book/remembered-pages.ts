import { fetchedRecord } from '../fetched-record.js';
import type { BookContent, GreenContent } from '../page/book-content.js';
import type { PlannedPage } from '../page/book-pages.js';
import { wordsAlone } from '../page/marks/mark-texts.js';
import type { Mark, Page, PageMemory } from '../page/marks/marks.js';
import { digestOfParts, wholeProgramDigest } from './cache-keys.js';
import { pageDigest } from './edition-record.js';
import { plainJson } from './plain-json.js';

/** A page as it is kept: what is told of it, and what is known of its drawing. */
export interface RememberedPage {
  readonly told: Omit<Page, 'marks' | 'memory' | 'links'>;
  readonly memory: PageMemory;
}

/** Pages that were composed before, by the digest of all that they are composed of. */
export interface PageMemories {
  /** The page of a plan: as it was, or composed; `key`: of `pageKeys`. */
  readonly page: (planned: PlannedPage, key: string) => Page;
  /** The pages that were asked for; null where no more is known of them than what was taken over. */
  readonly give: () => ReadonlyMap<string, RememberedPage> | null;
}

/** Of greens by their holes: the digest of all that fit, reading, judgement and putts depend on. */
type GreenDigests = ReadonlyMap<string, string>;

/** What a page may show of a green; what is large is told by the digest of what it is made of. */
const greenWords = (
  { reading: _, locations, ...green }: GreenContent,
  of: GreenDigests,
): unknown[] => [green, of.get(green.holeId), locations.map(({ approach }) => approach)];

const once = <K extends object>(make: (of: K) => string): ((of: K) => string) => {
  const known = new WeakMap<K, string>();
  return (of) => {
    const digest = known.get(of) ?? make(of);
    known.set(of, digest);
    return digest;
  };
};

/**
 * Keys of the pages of a plan, in their order: digests of all that each may look at, of the program, of the faces that set
 * it, and of the pages of its hole before it.
 */
export const pageKeys = (
  planned: readonly PlannedPage[],
  greens: GreenDigests,
  faces: string,
): string[] => {
  // Layout, words and logo are the same for all pages, and large.
  const ofPart = once((part: object) => digestOfParts([plainJson(part)]));
  const ofBook = once((book: BookContent) => {
    const { words, logo } = book;
    const shared = { words: words && ofPart(words), logo: logo && ofPart(logo) };
    const shown = book.greens.map((green) => greenWords(green, greens));
    return digestOfParts([plainJson({ ...book, ...shared, greens: shown })]);
  });
  const before = new Map<string | null, string[]>();
  return planned.map(({ kind, holeId, side, label, book, layout }) => {
    const place = [kind, side, label];
    const earlier = before.get(holeId) ?? [];
    before.set(holeId, [...earlier, ...place]);
    return digestOfParts([
      ...[wholeProgramDigest(), faces, ofPart(layout), ofBook(book), holeId ?? ''],
      ...[...earlier, ...place],
    ]);
  });
};

/** How much is known of how pages are drawn. */
const drawingsOf = (pages: ReadonlyMap<string, RememberedPage>): number =>
  [...pages.values()].reduce((sum, { memory }) => sum + Object.keys(memory.drawings).length, 0);

const remembered = (page: Page): RememberedPage => {
  const { marks, memory: _, links: __, ...told } = page;
  const memory: PageMemory = {
    digest: pageDigest(page),
    words: wordsAlone(marks),
    glyphs: null,
    drawings: {},
  };
  return { told, memory };
};

/** Starts from the pages that another run has given. */
export const startPageMemories = (
  before: ReadonlyMap<string, RememberedPage> = new Map(),
): PageMemories => {
  const asked = new Map<string, RememberedPage>();
  const known = drawingsOf(before);
  let isNew = false;
  return {
    page: ({ compose }, key) => {
      const found = asked.get(key) ?? before.get(key);
      if (found !== undefined) {
        asked.set(key, found);
        let marks: readonly Mark[] | undefined;
        return fetchedRecord(
          { ...found.told, memory: found.memory },
          {
            marks: () => {
              marks ??= compose().marks;
              return marks;
            },
          },
        );
      }
      isNew = true;
      const page = compose();
      const made = remembered(page);
      asked.set(key, made);
      return { ...page, memory: made.memory };
    },
    give: () => (isNew || drawingsOf(asked) > known ? asked : null),
  };
};
