import { closedToPutts } from '../appraisal/worth.js';
import { sheetOfDay } from '../book/course-days.js';
import {
  crossingBare,
  isBare,
  surveyedRegions,
  surveyedStation,
  surveyedTable,
} from '../book/surveyed-only.js';
import { speedsOfTables } from '../book/wanted-green.js';
import type { ApproachTo } from '../course/approach-figures.js';
import type { PlacedHoleLocation } from '../course/course.js';
import type { GroundModel } from '../course/ground.js';
import type { DayLocation } from '../event/day-locations.js';
import type { Today } from '../event/today.js';
import type { Layout } from '../layout/layout.js';
import {
  type BookContent,
  bareLocation,
  type GreenContent,
  type OutlinedGreen,
} from '../page/book-content.js';
import { type PlannedPage, planBook } from '../page/book-pages.js';
import { composeDay } from '../page/day/day-pages.js';
import { atOneScale } from '../page/green/one-scale.js';
import type { MeasureText, Page } from '../page/marks/marks.js';
import { type BreakMap, breakMap, nodeMap } from '../putt/break-map.js';
import { lanesAndLeave } from '../putt/lanes.js';
import type { BreakTable, PuttSettings } from '../putt/putt.js';
import { practiceStation } from '../putt/station.js';
import { breakTable } from '../putt/table.js';
import type { StoredSurface } from '../surface/stored-surface.js';
import type { Surface } from '../surface/surface.js';
import { fallAt } from '../terrain/fall.js';

/** What a proof is made from: a book whose tables are not solved yet, and the surfaces to solve them on. */
export interface ProofSource {
  /** Of its greens' own locations no more is told than the place. */
  readonly book: BookContent;
  readonly layout: Layout;
  readonly dayLayout: Layout;
  readonly measure: MeasureText;
  readonly days: readonly DayLocation[];
  readonly todayOf: (day: number) => Today;
  readonly surfaceOf: (holeId: string) => Surface;
  /** The fit with what is known of its doubt. */
  readonly storedOf: (holeId: string) => StoredSurface;
  readonly approachOf: (holeId: string) => ApproachTo | null;
  /** Heights of the course; absent or null where it has none. */
  readonly ground?: GroundModel | null;
}

/** What the reader has chosen; null for the book's own. */
export interface ProofState {
  readonly day: number | null;
  /** Metres of stimp reading. */
  readonly stimp: number | null;
}

export interface Proof {
  readonly source: ProofSource;
  readonly greenOf: (state: ProofState, holeId: string) => GreenContent | null;
  readonly pagesOf: (state: ProofState) => readonly PlannedPage[];
  /** The pages of the chosen day; none without a day. */
  readonly dayPagesOf: (state: ProofState) => readonly Page[];
}

const STATES_KEPT = 6;

/** The last few results by key; the least recently asked goes first. */
const remembering = <T>(make: (state: ProofState) => T): ((state: ProofState) => T) => {
  const known = new Map<string, T>();
  return (state) => {
    const key = JSON.stringify([state.day, state.stimp]);
    const found = known.get(key) ?? make(state);
    known.delete(key);
    known.set(key, found);
    if (known.size > STATES_KEPT) known.delete([...known.keys()][0]);
    return found;
  };
};

/** A table that is solved when a cell of it is read. */
const lazyTable = (
  source: ProofSource,
  { holeId, worth }: GreenContent,
  at: PlacedHoleLocation['at'],
  stimp: number,
  { tables }: Layout,
) => {
  const { lengths, past } = tables;
  let solved: BreakTable | null = null;
  const table = (): BreakTable => {
    solved ??= surveyedTable(
      breakTable(source.surfaceOf(holeId), at, lengths, { stimp, past }),
      closedToPutts(worth),
    );
    return solved;
  };
  return {
    hole: at,
    settings: { stimp, past },
    lengths,
    get fall() {
      return table().fall;
    },
    get grade() {
      return table().grade;
    },
    get cells() {
      return table().cells;
    },
  } satisfies BreakTable;
};

/** A break map that is solved when the page that shows it is composed. */
const lazyMap = (
  source: ProofSource,
  { holeId, worth }: GreenContent,
  hole: PlacedHoleLocation['at'],
  settings: PuttSettings,
): BreakMap => {
  let solved: BreakMap | null = null;
  const map = (): BreakMap => {
    const crosses = crossingBare(closedToPutts(worth));
    solved ??= breakMap(source.surfaceOf(holeId), hole, settings, crosses);
    return solved;
  };
  return {
    hole,
    settings,
    get originX() {
      return map().originX;
    },
    get originY() {
      return map().originY;
    },
    get step() {
      return map().step;
    },
    get columns() {
      return map().columns;
    },
    get rows() {
      return map().rows;
    },
    get aim() {
      return map().aim;
    },
    get pace() {
      return map().pace;
    },
    get choices() {
      return map().choices;
    },
    get unknown() {
      return map().unknown;
    },
  } satisfies BreakMap;
};

/** A green with hole locations of a day, as a layout shows it at the speed chosen. */
const greenAt = (
  source: ProofSource,
  green: GreenContent,
  locations: readonly PlacedHoleLocation[],
  stimp: number | null,
  of: Layout,
): GreenContent => {
  const approach = source.approachOf(green.holeId);
  const { worth, bare } = green.worth;
  const speed = stimp ?? green.stimp;
  const speeds = worth === 'tables' ? speedsOfTables(of, speed) : [];
  return {
    ...green,
    locations: locations.map((place) => {
      const isUnknown = worth === 'outline' || isBare(bare, place.at);
      const [table = null, ...atSpeeds] = (isUnknown ? [] : speeds).map((one) =>
        lazyTable(source, green, place.at, one, of),
      );
      const settings = { stimp: speed, past: of.tables.past };
      const isSolved = table !== null;
      return {
        ...bareLocation(place),
        breakMap:
          isSolved && of.pages['break-map'] !== undefined
            ? lazyMap(source, green, place.at, settings)
            : null,
        /** Asked for on greens that belong to no hole alone. */
        get station() {
          if (!isSolved || of.pages.station === undefined) return null;
          const surface = source.surfaceOf(green.holeId);
          const station = practiceStation(surface, place.at, settings);
          return surveyedStation(station, closedToPutts(green.worth));
        },
        ground: isUnknown ? null : fallAt(source.surfaceOf(green.holeId), place.at),
        table,
        atSpeeds,
        approach: approach?.(place) ?? null,
      };
    }),
    stimp: speed,
    past: of.tables.past,
  };
};

const locationsAt = (
  { days }: ProofSource,
  green: Pick<GreenContent, 'holeId'> & { readonly locations: readonly PlacedHoleLocation[] },
  { day }: ProofState,
): readonly PlacedHoleLocation[] =>
  day === null
    ? green.locations
    : days
        .filter((one) => one.day === day && one.holeId === green.holeId)
        .map((one) => one.location);

/** A green by its outline with the hole locations of a day; the book's own are those of its green where it is surveyed. */
const outlineAt = (source: ProofSource, green: OutlinedGreen, state: ProofState): OutlinedGreen => {
  const surveyed = source.book.greens.find(({ holeId }) => holeId === green.holeId);
  const locations = locationsAt(source, surveyed ?? green, state);
  const approach = source.approachOf(green.holeId);
  return { ...green, locations, approaches: locations.flatMap((one) => approach?.(one) ?? []) };
};

/** The green on the day's sheet; none where the day says nothing of it. */
const greenOfDay = (
  source: ProofSource,
  green: GreenContent,
  state: ProofState,
): GreenContent[] => {
  const [place] = locationsAt(source, green, state);
  if (place === undefined) return [];
  const at = greenAt(source, green, [place], state.stimp, source.dayLayout);
  if (at.worth.worth !== 'tables') return [at];
  const surface = source.surfaceOf(green.holeId);
  const settings = { stimp: at.stimp, past: at.past };
  const closed = closedToPutts(at.worth);
  const [{ table }] = at.locations;
  if (table === null) return [at];
  const map = nodeMap(surface, place.at, settings, crossingBare(closed));
  const regions = surveyedRegions(lanesAndLeave(surface, map), closed);
  return [{ ...at, locations: at.locations.map((one) => ({ ...one, regions })) }];
};

const dayPages = (source: ProofSource, state: ProofState): readonly Page[] => {
  if (state.day === null) return [];
  const { book, dayLayout: of, measure } = source;
  const greens = book.greens.flatMap((green) => greenOfDay(source, green, state));
  const locations = source.days.filter((one) => one.day === state.day);
  const day = {
    ...book,
    use: of.use,
    past: of.tables.past,
    stimp: state.stimp ?? book.stimp,
    greens,
    sheet: sheetOfDay(locations, greens, book.outlines ?? []),
    day: state.day,
    today: source.todayOf(state.day),
  };
  return composeDay(day, of, measure);
};

/**
 * A book at any day and green speed. A table is solved when the page that shows it is composed, so that a
 * new speed costs no more than the page looked at.
 */
export const openProof = (given: ProofSource): Proof => {
  const { book, measure } = given;
  const layout = atOneScale(book, given.layout);
  const source = { ...given, layout };
  const content = remembering(
    (state): BookContent => ({
      ...book,
      stimp: state.stimp ?? book.stimp,
      greens: book.greens.map((green) =>
        greenAt(source, green, locationsAt(source, green, state), state.stimp, layout),
      ),
      ...(book.outlines === undefined
        ? {}
        : { outlines: book.outlines.map((green) => outlineAt(source, green, state)) }),
    }),
  );
  return {
    source,
    greenOf: (state, holeId) =>
      content(state).greens.find((green) => green.holeId === holeId) ?? null,
    pagesOf: remembering((state) => planBook(content(state), layout, measure)),
    dayPagesOf: remembering((state) => dayPages(source, state)),
  };
};
