import type { Layout, PageKind } from '../layout/layout.js';
import type { BookContent, GreenContent, LocationContent } from '../page/book-content.js';
import { composeDrillPage } from '../page/handouts/drill-page.js';
import { composeQuizAnswersPage, composeQuizPage } from '../page/handouts/quiz-page.js';
import { type PageSide, sideOfPage } from '../page/kit/grid.js';
import type { GreenPageContext } from '../page/kit/page-modules.js';
import type { MeasureText, Page } from '../page/marks/marks.js';
import { composeBreakMapPage } from '../page/putts/break-map-page.js';
import { composeStationPage } from '../page/putts/station-page.js';
import { composeTablesPage, tablesByPage } from '../page/putts/tables-page.js';
import { composeSurveysPage } from '../page/survey/surveys-page.js';
import {
  askedTable,
  emptyMap,
  FALL,
  FASTER,
  fullTable,
  GRADE,
  stationAt,
  type Widest,
} from './widest-figures.js';

/**
 * Pages of one green with the widest figures that they can have, so that what finds no room on them is refused before
 * any putt is solved. The figures are of no ground: they are drawn, checked and thrown away.
 */

/** The green whose heading takes most room. */
const longestNamed = (
  greens: readonly GreenContent[],
  measure: MeasureText,
): GreenContent | undefined => {
  const width = ({ holeId, name }: GreenContent): number => measure(`${holeId} ${name}`, 'text', 9);
  return greens
    .filter(({ locations }) => locations.length > 0)
    .reduce<GreenContent | undefined>(
      (best, one) => (best === undefined || width(one) > width(best) ? one : best),
      undefined,
    );
};

/**
 * The greens of the page of surveys, one of each worth, with as many digits as a survey brings about. Six digits of points
 * refuse no type that three would not: in the pocket and A6 books the shares beside them run into each other first.
 */
const surveyedWidest = (green: GreenContent): GreenContent[] =>
  (['tables', 'arrows', 'outline'] as const).map((worth) => ({
    ...green,
    worth: {
      ...green.worth,
      ...{ worth, judged: worth, overruled: 'an order', points: 888_888, spacing: 8.88 },
      ...{ noise: 0.0888, statedSigma: 0.0888, covered: 1, doubtfulCells: 1 },
    },
  }));

/** A page of the widest figures, and of which kind it is. */
export interface WidestPage {
  readonly kind: PageKind;
  readonly page: Page;
}

interface Composed {
  readonly kind: PageKind;
  readonly compose: (side: PageSide) => Page;
}

/** What composes the pages of one green that tell putts, each on the side that it is asked for. */
const putters = (
  context: Omit<GreenPageContext, 'side'>,
  full: readonly LocationContent[],
): Composed[] => {
  const filled = { ...context, green: { ...context.green, locations: full } };
  const [location] = full;
  const { table, breakMap: map } = location;
  return [
    ...tablesByPage({ ...filled, side: 'right' }).map((shown, part) => ({
      kind: 'tables' as const,
      compose: (side: PageSide) => composeTablesPage({ ...filled, ...shown, side, part }),
    })),
    ...(map === null
      ? []
      : [
          {
            kind: 'break-map' as const,
            compose: (side: PageSide) => composeBreakMapPage({ ...filled, side, location, map }),
          },
        ]),
    ...(table === null
      ? []
      : [
          {
            kind: 'drill' as const,
            compose: (side: PageSide) => composeDrillPage({ ...filled, side, location, table }),
          },
        ]),
  ];
};

/** Questions about a green and their answers: where its letters stand is known from its outline. */
const askers = (
  context: Omit<GreenPageContext, 'side'>,
  full: readonly LocationContent[],
): Composed[] => {
  const { green, book } = context;
  const asked = full.map((one) => ({
    ...one,
    table: one.table === null ? null : askedTable(one.table, green, book.units),
  }));
  const quiz = { ...context, green: { ...green, locations: asked } };
  return [
    { kind: 'quiz', compose: (side) => composeQuizPage({ ...quiz, side }) },
    { kind: 'quiz-answers', compose: (side) => composeQuizAnswersPage({ ...quiz, side }) },
  ];
};

/** The green with all that can be told of each of its hole locations, at its own green speed and at others. */
export const withWidestTables = (
  green: GreenContent,
  [stimp, ...others]: readonly number[],
  widest: Widest,
): GreenContent => ({
  ...green,
  locations: green.locations.map((one) => ({
    ...one,
    ground: { toward: FALL, grade: GRADE },
    table: fullTable(one.at, { stimp, past: green.past }, widest),
    atSpeeds: others.map((other, i) =>
      fullTable(one.at, { stimp: other, past: green.past }, widest, FASTER * (i + 1)),
    ),
    breakMap: emptyMap(one.at, { stimp, past: green.past }),
  })),
});

/**
 * The pages of a book that tell figures of surveys and putts, each kind with the widest that it can have: of the green
 * with the longest name, and, for a practice station, of that among those that belong to no hole.
 *
 * @param content the book with greens of which nothing is solved.
 * @param from the place of the first of them in their file, from 0, by which they are left or right pages.
 */
export const widestPages = (
  content: BookContent,
  { layout, measure, from }: WidestAsked,
  speedsOf: (stimp: number) => readonly number[],
): WidestPage[] => {
  const { units } = content;
  const common = { layout, measure, book: content, label: '100' } as const;
  const pages: WidestPage[] = [];
  const add = (kind: PageKind, compose: (side: PageSide) => Page): void => {
    if (layout.pages[kind] === undefined) return;
    pages.push({ kind, page: compose(sideOfPage(from + pages.length)) });
  };
  const addOf = (
    green: GreenContent,
    plan: (
      context: Omit<GreenPageContext, 'side'>,
      full: readonly LocationContent[],
    ) => readonly Composed[],
  ): void => {
    const full = withWidestTables(green, speedsOf(green.stimp), { layout, units }).locations;
    for (const { kind, compose } of plan({ ...common, green, about: green.holeId }, full)) {
      add(kind, compose);
    }
  };
  const green = longestNamed(content.greens, measure);
  if (green !== undefined) addOf(green, putters);
  if (layout.pages.quiz !== undefined) for (const one of content.greens) addOf(one, askers);
  const ofHoles = new Set((content.holes ?? []).map(({ id }) => id));
  const practice = longestNamed(
    content.greens.filter(({ holeId }) => !ofHoles.has(holeId)),
    measure,
  );
  if (practice !== undefined) {
    const [location] = practice.locations;
    const settings = { stimp: practice.stimp, past: practice.past };
    const context = { ...common, green: practice, about: practice.holeId, location };
    for (const verdict of ['serves', 'none'] as const) {
      const station = stationAt(location.at, settings, units, verdict);
      add('station', (side) => composeStationPage({ ...context, side, station }));
    }
  }
  const [first] = content.greens;
  if (first !== undefined) {
    const greens = surveyedWidest(first);
    add('surveys', (side) => composeSurveysPage({ ...common, side, greens, part: 0 }));
  }
  return pages;
};

interface WidestAsked {
  readonly layout: Layout;
  readonly measure: MeasureText;
  readonly from: number;
}
