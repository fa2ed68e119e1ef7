import type { BookChanges, ChangeKind, HoleChange } from '../changes.js';
import { CHANGE_KINDS } from '../changes.js';
import { phrase, type Worded } from '../words/words.js';

/** More holes than these are counted where room is short. */
const MOST_NAMED = 6;

const holeWords = ({ hole, of }: HoleChange): string =>
  of.length === 0 ? hole : `${hole} (${of.join(', ')})`;

const ofKind = ({ holes }: BookChanges, kind: ChangeKind): HoleChange[] =>
  holes.filter((change) => change.kind === kind);

/** "6 of 48 pages are changed, 2 of them new; 1 page left out". */
const pageCountWords = ({ changed, added, lost, pages }: BookChanges, tell: Worded): string => {
  const count = changed.length + added.length;
  const noun = count === 1 ? 'page' : 'pages';
  const anew =
    added.length === 0
      ? phrase(tell, `changes.${noun}`, { count, pages })
      : phrase(tell, `changes.${noun}-new`, { count, pages, new: added.length });
  if (lost === 0) return anew;
  const out = phrase(tell, lost === 1 ? 'changes.page-lost' : 'changes.pages-lost', {
    count: lost,
  });
  return `${anew}; ${out}`;
};

/** All that has changed, a line a kind, with every hole. */
export const changeLines = (changes: BookChanges, tell: Worded = {}): string[] => [
  ...changes.book.map((kind) => phrase(tell, `changes.book-${kind}`)),
  ...CHANGE_KINDS.flatMap((kind) => {
    const holes = ofKind(changes, kind);
    return holes.length === 0
      ? []
      : [
          phrase(tell, 'changes.list', {
            what: phrase(tell, `changes.${kind}`),
            holes: holes.map(holeWords).join(', '),
          }),
        ];
  }),
  ...(changes.gone.length === 0
    ? []
    : [phrase(tell, 'changes.gone', { holes: changes.gone.join(', ') })]),
  `${pageCountWords(changes, tell)}.`,
  ...(changes.changed.length + changes.added.length === 0 && changes.leaves.length > 0
    ? [phrase(tell, 'changes.order')]
    : []),
];

/** The same in one sentence for a cover; many holes are counted. */
export const coverChangeWords = (changes: BookChanges, tell: Worded): string => {
  const parts = [
    ...CHANGE_KINDS.flatMap((kind) => {
      const holes = ofKind(changes, kind).map(({ hole }) => hole);
      if (holes.length === 0) return [];
      const of =
        holes.length > MOST_NAMED
          ? phrase(tell, 'changes.holes', { count: holes.length })
          : holes.join(', ');
      return [`${phrase(tell, `changes.${kind}-short`)}: ${of}`];
    }),
    pageCountWords(changes, tell),
  ];
  const list = parts.join('; ');
  return changes.since === null
    ? phrase(tell, 'changes.cover-last', { list })
    : phrase(tell, 'changes.cover', { edition: changes.since, list });
};

/** Kinds that show on the page of a hole, and on those of its green. */
const ON_HOLE: readonly ChangeKind[] = [
  'new',
  'outline',
  'tees',
  'line',
  'map',
  'ground',
  'names',
  'notes',
];
const ON_GREEN: readonly ChangeKind[] = [
  'new',
  'survey',
  'outline',
  'locations',
  'line',
  'speed',
  'worth',
  'names',
  'notes',
];

/** What the head of a changed page says of it, the longest wording first; none for a page that is as it was. */
export const pageChangeWords = (
  changes: BookChanges,
  page: { readonly id: string; readonly hole?: string },
  tell: Worded,
): string[] => {
  const { id, hole } = page;
  if (id === 'cover' || ![...changes.changed, ...changes.added].includes(id)) return [];
  const shown = id.startsWith('hole-') ? ON_HOLE : ON_GREEN;
  const kinds = shown.filter((kind) =>
    changes.holes.some((change) => change.hole === hole && change.kind === kind),
  );
  const since =
    changes.since === null
      ? phrase(tell, 'changes.head-last')
      : phrase(tell, 'changes.head', { edition: changes.since });
  const short = phrase(tell, 'changes.head-short');
  if (kinds.length === 0) return [since, short];
  const what = kinds.map((kind) => phrase(tell, `changes.${kind}-short`)).join(', ');
  const said = (changed: string): string => phrase(tell, 'changes.head-what', { changed, what });
  return [said(since), said(short), since, short];
};

const pagesWords = (front: number, back: number | null, tell: Worded): string =>
  back === null
    ? phrase(tell, 'changes.front', { front: front + 1 })
    : phrase(tell, 'changes.both', { front: front + 1, back: back + 1 });

/** Which leaves go where, for who puts them into the old book. */
export const leafLines = ({ leaves, out, renumbered }: BookChanges, tell: Worded): string[] => {
  const number = (front: number): number => front / 2 + 1;
  const inPlace = leaves.filter(({ front, replaces }) => replaces === number(front));
  const others = leaves.filter((leaf) => !inPlace.includes(leaf));
  return [
    ...(inPlace.length === 0
      ? []
      : [
          phrase(tell, 'changes.in-place', {
            leaves: inPlace
              .map(({ front, back }) =>
                phrase(tell, 'changes.leaf', {
                  leaf: number(front),
                  pages: pagesWords(front, back, tell),
                }),
              )
              .join(', '),
          }),
        ]),
    ...others.map(({ front, back, replaces }) => {
      const own = { leaf: number(front), pages: pagesWords(front, back, tell) };
      if (replaces !== null) return phrase(tell, 'changes.replaces', { ...own, old: replaces });
      return front === 0
        ? phrase(tell, 'changes.at-front', own)
        : phrase(tell, 'changes.behind', { ...own, before: own.leaf - 1 });
    }),
    ...(out.length === 0 ? [] : [phrase(tell, 'changes.out', { leaves: out.join(', ') })]),
    ...(renumbered ? [phrase(tell, 'changes.renumbered')] : []),
  ];
};
