import type { BookChangeKind, BookChanges, ChangeKind, HoleChange } from '../changes.js';
import { CHANGE_KINDS } from '../changes.js';

/** What a list of holes is headed by, and what the foot of a page and a cover say for it. */
const HOLE_WORDS: Readonly<Record<ChangeKind, { readonly list: string; readonly short: string }>> =
  {
    new: { list: 'New in the book', short: 'new' },
    survey: { list: 'New survey of the green', short: 'new survey' },
    outline: { list: 'Edge of the green', short: 'edge of the green' },
    locations: { list: 'Hole locations', short: 'hole locations' },
    tees: { list: 'Tees', short: 'tees' },
    line: { list: 'Line of play', short: 'line of play' },
    map: { list: 'Hazards, fairway or landmarks', short: 'hazards and landmarks' },
    ground: { list: 'Heights along the hole', short: 'heights' },
    speed: { list: 'Green speed', short: 'green speed' },
    worth: { list: 'What the survey is worth', short: 'worth of the survey' },
    names: { list: 'Name, par or stroke index', short: 'name, par or index' },
    notes: { list: 'Notes', short: 'notes' },
  };

const BOOK_WORDS: Readonly<Record<BookChangeKind, string>> = {
  title: 'The title is another.',
  units: 'The units are others.',
  use: 'The condition of use is another.',
  layout: 'The layout is another.',
};

/** More holes than these are counted where room is short. */
const MOST_NAMED = 6;

const sinceWords = ({ since }: BookChanges): string =>
  since === null ? 'since the last edition' : `since ${since}`;

const holeWords = ({ hole, of }: HoleChange): string =>
  of.length === 0 ? hole : `${hole} (${of.join(', ')})`;

const ofKind = ({ holes }: BookChanges, kind: ChangeKind): HoleChange[] =>
  holes.filter((change) => change.kind === kind);

const countOf = (count: number, one: string): string => `${count} ${one}${count === 1 ? '' : 's'}`;

/** "6 of 48 pages are drawn anew, 2 of them new; 1 is left out". */
const pageCountWords = ({ changed, added, lost, pages }: BookChanges): string => {
  const anew = changed.length + added.length;
  return [
    `${anew} of ${pages} pages ${anew === 1 ? 'is' : 'are'} changed${added.length === 0 ? '' : `, ${added.length} of them new`}`,
    ...(lost === 0 ? [] : [`${countOf(lost, 'page')} left out`]),
  ].join('; ');
};

/** All that has changed, a line a kind, with every hole. */
export const changeLines = (changes: BookChanges): string[] => [
  ...changes.book.map((kind) => BOOK_WORDS[kind]),
  ...CHANGE_KINDS.flatMap((kind) => {
    const holes = ofKind(changes, kind);
    return holes.length === 0
      ? []
      : [`${HOLE_WORDS[kind].list}: ${holes.map(holeWords).join(', ')}.`];
  }),
  ...(changes.gone.length === 0 ? [] : [`No longer in the book: ${changes.gone.join(', ')}.`]),
  `${pageCountWords(changes)}.`,
  ...(changes.changed.length + changes.added.length === 0 && changes.leaves.length > 0
    ? ['Pages stand in another order.']
    : []),
];

/** The same in one sentence for a cover; many holes are counted. */
export const coverChangeWords = (changes: BookChanges): string => {
  const parts = [
    ...CHANGE_KINDS.flatMap((kind) => {
      const holes = ofKind(changes, kind).map(({ hole }) => hole);
      if (holes.length === 0) return [];
      const of = holes.length > MOST_NAMED ? countOf(holes.length, 'hole') : holes.join(', ');
      return [`${HOLE_WORDS[kind].short}: ${of}`];
    }),
    pageCountWords(changes),
  ];
  return `Changed ${sinceWords(changes)}: ${parts.join('; ')}`;
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
): string[] => {
  const { id, hole } = page;
  if (id === 'cover' || ![...changes.changed, ...changes.added].includes(id)) return [];
  const shown = id.startsWith('hole-') ? ON_HOLE : ON_GREEN;
  const kinds = shown.filter((kind) =>
    changes.holes.some((change) => change.hole === hole && change.kind === kind),
  );
  const since = `changed ${sinceWords(changes)}`;
  if (kinds.length === 0) return [since, 'changed'];
  const what = kinds.map((kind) => HOLE_WORDS[kind].short).join(', ');
  return [`${since}: ${what}`, `changed: ${what}`, since, 'changed'];
};

const pagesWords = (front: number, back: number | null): string =>
  back === null ? `page ${front + 1}` : `pages ${front + 1} and ${back + 1}`;

/** Which leaves go where, for who puts them into the old book. */
export const leafLines = ({ leaves, out, renumbered }: BookChanges): string[] => {
  const number = (front: number): number => front / 2 + 1;
  const inPlace = leaves.filter(({ front, replaces }) => replaces === number(front));
  const others = leaves.filter((leaf) => !inPlace.includes(leaf));
  return [
    ...(inPlace.length === 0
      ? []
      : [
          `Put in the place of the old leaf: ${inPlace.map(({ front, back }) => `leaf ${number(front)} (${pagesWords(front, back)})`).join(', ')}.`,
        ]),
    ...others.map(({ front, back, replaces }) =>
      replaces === null
        ? `Leaf ${number(front)} (${pagesWords(front, back)}) is put in ${front === 0 ? 'at the front' : `behind leaf ${number(front) - 1} of the new book`}.`
        : `Leaf ${number(front)} (${pagesWords(front, back)}) takes the place of the old leaf ${replaces}.`,
    ),
    ...(out.length === 0 ? [] : [`Old leaves that are taken out: ${out.join(', ')}.`]),
    ...(renumbered
      ? ['Leaves that stay keep their page numbers, which the new book counts otherwise.']
      : []),
  ];
};
