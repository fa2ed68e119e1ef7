import { describe, expect, it } from 'vitest';
import type { Point } from '../../src/geometry.js';
import type { Layout } from '../../src/layout/layout.js';
import { loadLayout } from '../../src/layout/layout-file.js';
import {
  type BookContent,
  bareLocation,
  type GreenContent,
  type LocationContent,
} from '../../src/page/book-content.js';
import { planBook } from '../../src/page/book-pages.js';
import {
  askedPutts,
  countPoints,
  edgeLetters,
  highHalves,
  outletWords,
} from '../../src/page/handouts/quiz-answers.js';
import type { Mark, Page } from '../../src/page/marks/marks.js';
import { measureWith, openFonts } from '../../src/print/fonts.js';
import type { Quadrant, TableCell } from '../../src/putt/putt.js';
import { readGreen } from '../../src/terrain/read-green.js';
import type { Outlet, Reading, Stream } from '../../src/terrain/reading.js';
import { feetToMetres, inchesToMetres } from '../../src/units.js';
import { FIT_FOR_TABLES } from '../fit-for-tables.js';
import { plane } from '../surface/analytic.js';

const measure = measureWith(openFonts());
/** Counter-clockwise from the front left corner; its middle of the front is the origin. */
const SQUARE: Point[] = [
  [-10, 0],
  [0, 0],
  [10, 0],
  [10, 20],
  [-10, 20],
];
const settings = { stimp: feetToMetres(10), past: inchesToMetres(12) };

const cellOf = (quadrant: Quadrant, feet: number, more: Partial<TableCell> = {}): TableCell => {
  const ball: Point = [feetToMetres(feet), 8];
  const putt = {
    status: 'holed',
    ball,
    hole: [0, 8],
    aimOffset: 0.254,
    pace: feetToMetres(feet + 1),
    path: [ball, [0, 8]],
  } as unknown as TableCell['putt'];
  return {
    quadrant,
    length: feetToMetres(feet),
    ball,
    outcome: 'solved',
    putt,
    aimSd: 0.01,
    ...more,
  };
};

const locationOf = (name: string, cells: readonly TableCell[]): LocationContent => ({
  ...bareLocation({ name, on: 9, in: 11, side: 'left', at: [0, 8] }),
  table: {
    hole: [0, 8],
    settings,
    fall: [0, -1],
    grade: 0.02,
    lengths: [6, 10, 15].map(feetToMetres),
    cells,
  },
});

const allRound = (['below', 'above', 'left', 'right'] as const).flatMap((side) =>
  [6, 10, 15].map((feet) => cellOf(side, feet)),
);

const reading = readGreen(plane(SQUARE, 0, 0.02), { contourInterval: 0.05 });

const greenWith = (locations: readonly LocationContent[], id = '7'): GreenContent => ({
  holeId: id,
  name: 'A green',
  par: 4,
  outline: SQUARE,
  reading,
  worth: FIT_FOR_TABLES,
  drains: [],
  locations,
  ...settings,
});

const bookOf = (greens: readonly GreenContent[]): BookContent => ({
  title: 'Links',
  setting: '',
  use: 'practice',
  units: 'imperial',
  greens,
  ...settings,
});

const marksIn = (marks: readonly Mark[]): Mark[] =>
  marks.flatMap((mark) =>
    mark.kind === 'group' || mark.kind === 'clip' ? [mark, ...marksIn(mark.marks)] : [mark],
  );

const shownOn = (page: Page): Set<string> =>
  new Set(
    marksIn(page.marks).flatMap((mark) =>
      mark.kind === 'group' && mark.shows !== undefined && mark.marks.length > 0
        ? [mark.shows]
        : [],
    ),
  );

const wordsOn = (page: Page): string =>
  marksIn(page.marks)
    .flatMap((mark) => (mark.kind === 'text' ? [mark.text] : []))
    .join(' ');

const outlet = (at: Point, share: number): Outlet => ({
  at,
  kind: 'edge',
  share,
  kept: share,
  draws: 24,
});

const drained = (main: Outlet, others: readonly Outlet[] = []): Reading => {
  const stream: Stream = {
    order: 1,
    main: true,
    points: [
      [0, 10, 1],
      [...main.at, 0],
    ],
    area: [1, 2],
    mouth: 'edge',
    valley: 0.1,
    outlet: main,
  };
  return { ...reading, streams: [stream], outlets: [main, ...others] };
};

describe('questions about a green and their answers', () => {
  it('stands letters round the edge at equal lengths, from the middle of the front on to the right', () => {
    const letters = edgeLetters(SQUARE);
    // 80 m of edge, twelve letters.
    const [a, b, c] = letters;
    expect(letters.map(({ letter }) => letter).join('')).toBe('abcdefghijkl');
    expect(a.at[0]).toBeCloseTo(0);
    expect(b.at[0]).toBeCloseTo(80 / 12);
    expect(c.at[0]).toBeCloseTo(10);
    expect(c.at[1]).toBeCloseTo(160 / 12 - 10);
    expect(a.out[1]).toBeCloseTo(-1);
    expect(c.out[0]).toBeCloseTo(1);
  });

  it('names the higher half by the fall of the ground, and level where there is none', () => {
    expect(highHalves(reading, {})).toEqual(['the back', 'level']);
    const aside = readGreen(plane(SQUARE, 0.02, -0.015), { contourInterval: 0.05 });
    expect(highHalves(aside, {})).toEqual(['the front', 'the right']);
  });

  it('tells where the water leaves, and what the survey leaves open', () => {
    const letters = edgeLetters(SQUARE);
    expect(outletWords(drained(outlet([0.4, 0], 0.9)), letters, {})).toBe(
      'The water leaves near a.',
    );
    expect(outletWords(drained(outlet([10, 3], 0.4)), letters, {})).toBe(
      'The water leaves near c; the survey does not know it well.',
    );
    const open = drained(outlet([0.4, 0], 0.6), [outlet([10, 3], 0.3)]);
    expect(outletWords(open, letters, {})).toBe(
      'The survey leaves open where the water leaves: near a in 60 %, near c in 30 % of the grounds that it allows.',
    );
    expect(outletWords({ ...reading, streams: [] }, letters, {})).toContain('all round');
    // Ground without points cuts the line in two: the upper piece ends inside the green, near another letter.
    const [whole] = drained(outlet([0.4, 0], 0.9)).streams;
    const upper = { ...whole, mouth: 'stream' as const, points: [[-9, 18, 1] as const] };
    const cut = { ...drained(outlet([0.4, 0], 0.9)), streams: [upper, whole] };
    expect(outletWords(cut, letters, {})).toBe('The water leaves near a.');
    expect(outletWords({ ...cut, streams: [upper] }, letters, {})).toBe('The water leaves near a.');
  });

  it('asks about the longest putt whose aim is known, one to each location, from one side after the other', () => {
    const doubtful = allRound.map((cell) =>
      cell.length > feetToMetres(12) ? { ...cell, aimSd: 0.05 } : cell,
    );
    const asked = askedPutts(
      greenWith([locationOf('A', allRound), locationOf('B', doubtful), locationOf('C', [])]),
    );
    expect(asked.map(({ location }) => location.name)).toEqual(['A', 'B', 'A']);
    expect(asked[0].cell.length).toBeCloseTo(feetToMetres(15));
    expect(asked[1].cell.length).toBeCloseTo(feetToMetres(10));
    expect(new Set(asked.map(({ cell }) => cell.quadrant)).size).toBe(3);
    const arrows = { ...greenWith([locationOf('A', allRound)]), worth: FIT_FOR_TABLES };
    expect(askedPutts({ ...arrows, worth: { ...arrows.worth, worth: 'arrows' } })).toEqual([]);
  });

  it('counts the points that the answers show', () => {
    const shown = reading.critical.filter(({ kind }) => kind === 'high').length;
    expect(countPoints(reading, 'high')).toBe(shown);
  });
});

describe('handouts', () => {
  const quiz = loadLayout('quiz');
  const cards = loadLayout('drill-cards');
  const greens = [greenWith([locationOf('A', allRound)]), greenWith([], '8')];

  it('has the questions on the front of each leaf, without signs, and the answers on its back', () => {
    const plan = planBook(bookOf(greens), quiz, measure);
    expect(plan.map(({ kind, side }) => `${kind} ${side}`)).toEqual([
      'quiz right',
      'quiz-answers left',
      'quiz right',
      'quiz-answers left',
    ]);
    const [front, back] = plan.map((page) => page.compose());
    expect([...shownOn(front)].sort()).toEqual([
      'for-practice',
      'hole-locations',
      'paces-grid',
      'putts',
    ]);
    for (const sign of ['slope', 'contours', 'fall', 'drainage', 'spots']) {
      expect(shownOn(back)).toContain(sign);
    }
    expect(wordsOn(front)).not.toMatch(/10 in/);
    expect(wordsOn(back)).toMatch(/10 in left of the hole, pace of a level putt of 16 ft/);
    // Twelve letters, five for the two halves with level twice each, three sides.
    expect(wordsOn(front)).toMatch(/as a level putt of/);
  });

  it('begins a leaf with the questions where pages stand before them, or says what it needs', () => {
    const placed = (kind: 'cover' | 'notes', module: string): Layout['pages'] => ({
      [kind]: [{ module, columns: [1, 12], rows: [1, 3] }],
    });
    const covered = { ...quiz, pages: { ...quiz.pages, ...placed('cover', 'title') } };
    expect(() => planBook(bookOf(greens), covered, measure)).toThrow(/back of a leaf/);
    const noted = { ...covered, pages: { ...covered.pages, ...placed('notes', 'heading') } };
    const kinds = planBook(bookOf(greens), noted, measure);
    expect(kinds.slice(0, 4).map(({ kind, side }) => `${kind} ${side}`)).toEqual([
      'cover right',
      'notes left',
      'quiz right',
      'quiz-answers left',
    ]);
  });

  it('has a card for each location with putts, with a row and five boxes for each of them', () => {
    const some = [
      ...allRound.slice(0, 5),
      cellOf('left', 15, { outcome: 'off-green', putt: null }),
    ];
    const [card, ...more] = planBook(bookOf([greenWith([locationOf('A', some)])]), cards, measure);
    expect(more).toEqual([]);
    const page = card.compose();
    expect(wordsOn(page)).toContain('of 25 together');
    expect(wordsOn(page)).toContain('1 of the 6 places have no putt');
    const table = marksIn(page.marks).find(
      (mark) => mark.kind === 'group' && mark.role === 'table',
    );
    const boxes =
      table?.kind === 'group'
        ? table.marks.filter((mark) => mark.kind === 'path' && mark.steps.length === 5)
        : [];
    expect(boxes).toHaveLength(25);
  });

  it('tells apart where the ball lies about the hole and which way it is aimed', () => {
    const [card] = planBook(bookOf([greenWith([locationOf('A', allRound)])]), cards, measure);
    const words = wordsOn(card.compose());
    for (const side of ['below', 'above', 'left of', 'right of']) {
      expect(words).toContain(`6 ft ${side} hole 10 in left 7 ft`);
    }
    expect(words).toContain('ball lies aim from the ball');
  });

  it('refuses a layout that no green can fill', () => {
    expect(() => planBook(bookOf([greenWith([])]), cards, measure)).toThrow(
      /no green of the course has what its pages tell/,
    );
  });
});
