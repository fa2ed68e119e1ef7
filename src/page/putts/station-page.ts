import type { HoleLocation } from '../../course/course.js';
import { HOLE_RADIUS } from '../../putt/capture.js';
import type { PracticeStation } from '../../putt/station.js';
import { stationSetting } from '../../putt/station-setting.js';
import type { WalkRound } from '../../putt/walk-round.js';
import { pointsToMm } from '../../units.js';
import { footModule, headingModule } from '../green/green-page.js';
import { text } from '../kit/draw.js';
import { type Cell, cellOf } from '../kit/grid.js';
import { locationTag, TAG_WIDTH } from '../kit/location-tag.js';
import { locationWords } from '../kit/location-words.js';
import { composePage, type GreenPageContext, type PageModule } from '../kit/page-modules.js';
import { fitWording, type SetText, setParagraph, setToFit } from '../kit/paragraph.js';
import type { Mark, Page } from '../marks/marks.js';
import { phrase } from '../words/words.js';
import { drawnRound, drawnStation } from './drawn-station.js';
import { type DrawnStation, stationFigure } from './station-figure.js';
import { type ResultRow, stationResults } from './station-results.js';
import { RULER_HEIGHT, trueSizeRuler } from './station-ruler.js';
import { stationSetup } from './station-setup.js';
import {
  aimWords,
  carriesWords,
  checkWords,
  clockWords,
  levelPace,
  markerWords,
  overWords,
  pointWords,
  stepWords,
} from './station-words.js';

/** A practice station's page: the green's context and the station of one of its hole locations. */
export interface StationPageContext extends GreenPageContext {
  readonly location: HoleLocation;
  readonly station: PracticeStation;
}

/** The page of a walk round a hole. */
export interface RoundPageContext extends GreenPageContext {
  readonly location: HoleLocation;
  readonly round: WalkRound;
}

/** What both pages show. */
interface ToldContext extends GreenPageContext {
  readonly location: HoleLocation;
  readonly drawn: DrawnStation;
  readonly head: string;
  /** A name and a paragraph each. */
  readonly entries: readonly (readonly [string, string])[];
  readonly rows: readonly ResultRow[];
  /** From the rim to the marker, metres, to be laid by a ruler in true size; null without a marker. */
  readonly laid: number | null;
  /** Whether the table stands below the words, in their cell and that of the results. */
  readonly isLong: boolean;
}

type Module = PageModule<ToldContext>;

const figureModule: Module = (context, cell) => stationFigure(context.drawn, context, cell);

const setupModule: Module = (context, cell) => {
  const { green, drawn, location, book } = context;
  const { hole, fall, grade } = drawn;
  return stationSetup(
    {
      hole,
      fall,
      grade,
      setting: stationSetting(green.outline, green.reading.streams, hole, fall),
      alt: `${phrase(book, 'station.setup')}: ${locationWords(location, book)}`,
    },
    context,
    cell,
  );
};

const INDENT = 1.6;
const LEAST = 6;
const GAP = 1;

/** The paragraphs at a size, and the ruler below them. */
const wordsAt = (
  { entries, laid, book, layout, measure }: ToldContext,
  cell: Cell,
  size: number,
): SetText => {
  const indent = INDENT + Math.max(...entries.map(([name]) => measure(name, 'text-bold', size)));
  const marks: Mark[] = [];
  let y = cell.y;
  for (const [name, words] of entries) {
    marks.push(text([cell.x, y + pointsToMm(size) * 0.8], name, 'text-bold', size));
    const set = setParagraph(
      words,
      { x: cell.x + indent, y, width: cell.width - indent, height: 0 },
      { face: 'text', size, leading: (size * layout.grid.baseline) / layout.type.text },
      measure,
    );
    marks.push(...set.marks);
    y += set.height + GAP;
  }
  const ruler =
    laid === null ? null : trueSizeRuler(laid, { layout, book, measure }, { ...cell, y });
  if (ruler !== null) {
    marks.push(...ruler);
    y += RULER_HEIGHT;
  }
  return { marks, height: y - cell.y };
};

/** What to picture, where the marker lies, and the checks; below it the table where it is a long one. */
const wordsModule: Module = (context, cell) => {
  const results = context.layout.pages.station?.find(({ module }) => module === 'station-results');
  const full =
    context.isLong && results !== undefined
      ? { ...cell, height: lowerEnd(cellOf(context.layout, context.side, results)) - cell.y }
      : cell;
  const share = context.isLong ? 0.32 : 1;
  const set = setToFit((size) => wordsAt(context, full, size), full.height * share, {
    full: context.layout.type.text,
    least: LEAST,
  });
  const group: Mark = { kind: 'group', role: 'text', marks: set.marks };
  if (!context.isLong) return [group];
  const top = full.y + set.height + 1;
  return [
    group,
    ...stationResults(context.rows, context, {
      ...full,
      y: top,
      height: full.y + full.height - top,
    }),
  ];
};

const lowerEnd = ({ y, height }: Cell): number => y + height;

const resultsModule: Module = (context, cell) =>
  context.isLong ? [] : stationResults(context.rows, context, cell);

/** The location, and that the page is for practice: its figure is larger than an image for play may be. */
const titleModule: Module = ({ location, head, layout, book, measure }, cell) => {
  const size = layout.type.text;
  const base = cell.y + pointsToMm(layout.type.table + 1) + 0.2;
  const right = cell.x + cell.width;
  const practice = phrase(book, 'station.practice');
  const isNamed = location.name !== '';
  const x = cell.x + (isNamed ? TAG_WIDTH + 1.6 : 0);
  const room = right - x - measure(practice, 'text-italic', size) - 3;
  const fitted = fitWording([head], room, { face: 'text-bold', size, least: LEAST }, measure);
  return [
    ...(isNamed ? locationTag(location.name, cell, base, layout.type.table + 1) : []),
    text([x, base], head, 'text-bold', fitted?.size ?? LEAST),
    text([right, base], practice, 'text-italic', size, { align: 'right' }),
  ];
};

const STATION_MODULES: Readonly<Record<string, Module>> = {
  heading: headingModule,
  'station-title': titleModule,
  'station-figure': figureModule,
  'station-setup': setupModule,
  'station-words': wordsModule,
  'station-results': resultsModule,
  // The line at the foot names the use of this page, not that of the book.
  foot: (context, cell) =>
    footModule({ ...context, layout: { ...context.layout, use: 'practice' } }, cell),
};

/** Name and title of the page of a station, or of a walk round the hole. */
const namedPage = (
  kind: 'station' | 'round',
  { green, location, book }: GreenPageContext & Pick<StationPageContext, 'location'>,
): { readonly id: string; readonly title: string } => ({
  id: `${kind}-${green.holeId}${location.name === '' ? '' : `-${location.name}`}`,
  title: phrase(book, `${kind}.title`, {
    number: green.holeId,
    name: green.name,
    location: location.name === '' ? locationWords(location, book) : location.name,
  }),
});

/**
 * The page of a practice station, from the layout's placements for the kind "station". It is for
 * practice alone, and says so: its figure exceeds the scale of an image for play.
 */
export const composeStationPage = (context: StationPageContext): Page => {
  const { station, location, book } = context;
  const [below, above] = station.tees;
  const { marker } = station;
  return composePage('station', namedPage('station', context), STATION_MODULES, {
    ...context,
    drawn: drawnStation(station, book),
    head: phrase(book, 'station.head', {
      distance: stepWords(station.distance, book),
      place: locationWords(location, book),
    }),
    entries: [
      [
        phrase(book, 'station.below-head'),
        phrase(book, 'station.below', { picture: carriesWords(below, book) }),
      ],
      [
        phrase(book, 'station.above-head'),
        phrase(book, 'station.above', { picture: carriesWords(above, book) }),
      ],
      [
        phrase(book, 'station.sides-head'),
        phrase(book, 'station.sides', { point: pointWords(station, book) }),
      ],
      [phrase(book, 'station.marker-head'), markerWords(station, book).join(' ')],
      [phrase(book, 'station.check-head'), checkWords(station.distance, 4, book)],
    ],
    rows: station.tees.map((tee) => ({
      name: phrase(book, `quadrant.${tee.quadrant}`),
      aim: aimWords(tee, book),
      pace: levelPace(tee, book),
    })),
    laid:
      marker?.verdict === 'serves'
        ? Math.hypot(marker.best.uphill, marker.best.right) - HOLE_RADIUS
        : null,
    isLong: false,
  });
};

/** The page of a walk round a hole, as the layout places a station. */
export const composeRoundPage = (context: RoundPageContext): Page => {
  const { round, location, book } = context;
  return composePage('station', namedPage('round', context), STATION_MODULES, {
    ...context,
    drawn: drawnRound(round, book),
    head: phrase(book, 'round.head', {
      count: round.tees.length,
      distance: stepWords(round.distance, book),
      place: locationWords(location, book),
    }),
    entries: [
      [
        phrase(book, 'station.sides-head'),
        `${overWords(round, book)} ${phrase(book, 'round.lie')}`,
      ],
      [phrase(book, 'station.check-head'), checkWords(round.distance, round.tees.length, book)],
    ],
    rows: round.tees.map((tee) => ({
      name: clockWords(tee.clock, book),
      aim: aimWords(tee, book),
      pace: levelPace(tee, book),
    })),
    laid: null,
    isLong: true,
  });
};
