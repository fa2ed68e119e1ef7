import type { GreenWorth } from '../../src/appraisal/worth.js';
import { contentOf } from '../../src/book/course-book.js';
import { openCourseCache } from '../../src/book/course-cache.js';
import { type GreenOfBook, greensOfBook, prepareGreens } from '../../src/book/prepare-green.js';
import type { Course, HoleSite, Imprint, PlacedHoleLocation } from '../../src/course/course.js';
import { courseFigures } from '../../src/course/course-figures.js';
import type { LonLat, MapFeature } from '../../src/course/course-map.js';
import { readGround } from '../../src/course/ground.js';
import type { HoleFigures } from '../../src/course/hole-figures.js';
import { loadCourse } from '../../src/course/load-course.js';
import type { OutlineGreen } from '../../src/course/outline-green.js';
import type { HoleNotes, NoteMark, NoteSign } from '../../src/event/notes-file.js';
import type { Today } from '../../src/event/today.js';
import { boxOf, insideRing, type Point } from '../../src/geometry.js';
import type { Layout } from '../../src/layout/layout.js';
import type { BookContent, GreenContent } from '../../src/page/book-content.js';
import type { DayContent } from '../../src/page/day/day-pages.js';
import { metresToPaces } from '../../src/units.js';
import { FIT_FOR_TABLES } from '../fit-for-tables.js';
import { SHARED_OUT } from '../fitted-demo.js';

/** Content that fills each kind of page as far as it goes; ground and map are the demo's, all else is made up. */

const DEMO = 'course-data/vellamoor';
/** A green with two levels, fitted for other tests too. */
export const GREEN = '7';
/** A hole whose green has no survey, and a green without a hole. */
export const OUTLINE = '2';
export const PRACTICE = 'practice';
export const LONG_NAME = 'The Ferrywoman’s Long Way Round to Inner Skerry';
/** Degrees between tees: about 12 m. */
const TEE_STEP = 0.00011;
const TEES = [
  'Harbourmaster',
  'Lighthouse',
  'Cliff',
  'Long Moor',
  'Moor',
  'Short Shore',
  'Juniors',
];

/** Hole locations beside the demo's own, so that the tables take a second page. */
const moreLocations = (green: GreenContent, own: readonly PlacedHoleLocation[]) => {
  const box = boxOf(green.outline);
  const [wide, deep] = [box.maxX - box.minX, box.maxY - box.minY];
  const places = [0.35, 0.5, 0.65, 0.8].map(
    (share, i): Point => [box.minX + (i % 2 === 0 ? 0.4 : 0.62) * wide, box.minY + share * deep],
  );
  const inside = places.filter(([x, y]) => insideRing(green.outline, x, y));
  return [
    ...own,
    ...inside.map((at, i): PlacedHoleLocation => {
      const on = Math.round(metresToPaces(at[1]));
      return { name: 'EFGH'[i], on, in: 9, side: i % 2 === 0 ? 'left' : 'right', at };
    }),
  ];
};

const worthAt = (i: number): GreenWorth =>
  i % 3 === 0
    ? {
        ...FIT_FOR_TABLES,
        points: 12_345,
        surveyed: 'rover on a pole, in two mornings of May 2026',
      }
    : {
        ...FIT_FOR_TABLES,
        worth: i % 3 === 1 ? 'arrows' : 'tables',
        judged: 'arrows',
        overruled:
          i % 3 === 1 ? null : 'walked again with a level; no face was found to be missing',
        reasons: ['asked: points no more than 2.2 yd apart; found: 3.1 yd apart'],
        mend: ['points no more than 2.2 yd apart', 'points on the ground that has none'],
        statedSigma: 0.012,
        noise: 0.031,
        covered: 0.873,
        doubtfulCells: 0.34,
      };

/** Signs of notes where the green has room, as shares of its width and depth. */
const SIGNS: readonly (readonly [NoteSign, x: number, y: number, words: string | null])[] = [
  ['step', 0.3, 0.88, 'a club and a half'],
  ['cross', 0.24, 0.3, null],
  ['arrow', 0.78, 0.3, null],
  ['drop', 0.62, 0.09, 'wet'],
  ['grain', 0.12, 0.62, null],
  ['star', 0.88, 0.56, null],
];

/** As long a note as its room on the page takes, six signs on the green and one beside the words. */
export const fullNotes = (holeId: string, outline: GreenContent['outline']): HoleNotes => {
  const box = boxOf(outline);
  const marks = SIGNS.map(
    ([sign, x, y, text], i): NoteMark => ({
      sign,
      at: [box.minX + x * (box.maxX - box.minX), box.minY + y * (box.maxY - box.minY)],
      clock: ['arrow', 'grain'].includes(sign) ? i + 1 : null,
      text,
    }),
  );
  return {
    holeId,
    text: 'Wait for the bell. Ground is firm short right and kicks on; from the left it dies. Take the middle of the lower shelf: nobody makes two from the back left.',
    marks: [...marks, { sign: 'wind', at: null, clock: 2, text: 'off the harbour at noon' }],
    putts: [],
    measured: [],
  };
};

export interface Fullest {
  readonly course: Course;
  readonly holes: readonly HoleFigures[];
  readonly green: GreenContent;
  readonly outline: OutlineGreen;
  readonly prepared: GreenOfBook;
}

/**
 * The demo's green with all its hole locations. Two are solved, with tables at two speeds, break maps and stations; the
 * others stand at their own places with the figures of these: what is printed is looked at here, not what it says.
 */
export const fullestGround = async (layout: Layout): Promise<Fullest> => {
  const course = withTees(loadCourse(DEMO));
  const [own] = greensOfBook(course).filter(({ hole }) => hole.id === GREEN);
  const [prepared] = await prepareGreens(
    course,
    [{ ...own, locations: own.locations.slice(0, 2) }],
    layout,
    openCourseCache(SHARED_OUT, 'vellamoor'),
  );
  const { content } = prepared;
  const places = moreLocations(content, own.locations);
  const locations = places.map((place, i) => ({ ...content.locations[i % 2], ...place }));
  const outline: OutlineGreen = {
    holeId: GREEN,
    name: LONG_NAME,
    par: 3,
    outline: content.outline,
    northUp: false,
    locations: places,
    hazards: [],
  };
  const green = { ...content, name: LONG_NAME, locations };
  return {
    course,
    holes: courseFigures(course, await readGround(course)),
    prepared: { ...prepared, content: green },
    outline,
    green,
  };
};

/** Seven tees of one hole, one before the other along the line of play. */
const teesAlong = ({ line, tees: [tee] }: HoleSite): MapFeature[] => {
  if (line === null || tee?.shape.kind !== 'area') return [];
  const { rings } = tee.shape;
  const [[x0, y0], [x1, y1]] = line;
  const reach = Math.hypot(x1 - x0, y1 - y0);
  return TEES.map((name, k): MapFeature => {
    const [dx, dy] = [(x1 - x0) / reach, (y1 - y0) / reach].map((d) => d * k * TEE_STEP);
    const moved = rings.map((ring) => ring.map(([x, y]): LonLat => [x + dx, y + dy]));
    return {
      ...tee,
      id: `${tee.id}-${k}`,
      name,
      shape: { ...tee.shape, rings: moved } as MapFeature['shape'],
    };
  });
};

/** The map with seven tees to a hole. */
export const withTees = (course: Course): Course => {
  const holes = course.holes.map((hole) => ({
    ...hole,
    site: { ...hole.site, tees: teesAlong(hole.site) },
  }));
  const features = course.map.features.filter(({ kind }) => kind !== 'tee');
  return {
    ...course,
    holes,
    map: { ...course.map, features: [...features, ...holes.flatMap(({ site }) => site.tees)] },
  };
};

/** Every third hole and the busiest under the longest name. */
const named = (holes: readonly HoleFigures[]): HoleFigures[] =>
  holes.map((hole, i) =>
    i % 3 === 0 || hole === busiest(holes) ? { ...hole, name: LONG_NAME } : hole,
  );

/** The hole whose map has most to say. */
export const busiest = (holes: readonly HoleFigures[]): HoleFigures => {
  const weight = (hole: HoleFigures): number =>
    hole.hazards.length + hole.landmarks.length + hole.gaps.length + hole.tees.length;
  return [...holes].sort((a, b) => weight(b) - weight(a))[0];
};

/** Six lines of contact, a long name of a buyer, a back cover of twelve hundred letters. */
export const fullestImprint = ({ imprint }: Course): Imprint => ({
  ...imprint,
  edition: 'Second edition, with four greens surveyed again, for the hundred and first season',
  buyer:
    'For the members and guests of the Autumn Meeting of the Outer Skerries Boat and Bowling Society',
  copyright:
    '© 2027 The Harbour Trustees of the Old Harbour and the Outer Skerries, and their heirs',
  contact: [1, 2, 3, 4, 5, 6].map(
    (i) => `${i} The Long Slipway behind the Salt Store, Old Harbour`,
  ),
  surveyed: 'by rover in May, by drone in June and by hand in the first week of September 2027',
  price: '£14.00 in shops of the island, £15.50 elsewhere',
  made: '27 September 2027',
  about: 'Between its high points every green has one way out for the rain. '.repeat(18),
});

/** A book whose every page is full: long title and names, seven tees, notes, twenty greens of all worths. */
export const fullestBook = (
  { course, holes, prepared, green, outline }: Fullest,
  layout: Layout,
): BookContent => {
  const content = contentOf(course, layout, 'imperial', [prepared], { holes: named(holes) });
  const [approached] = content.greens;
  const greens = Array.from(
    { length: 24 },
    (_, i): GreenContent => ({
      ...approached,
      name: green.name,
      holeId: i === 0 ? green.holeId : i === 1 ? PRACTICE : `${i + 20}`,
      locations: i < 2 ? approached.locations : [],
      worth: worthAt(i),
    }),
  );
  const noted = fullNotes(green.holeId, green.outline);
  return {
    ...content,
    title: 'The Old Harbour and Outer Skerries Links',
    setting: 'Eighteen holes and a practice green on the crescent of an island that is on no chart',
    greens,
    imprint: fullestImprint(course),
    outlines: [
      {
        ...outline,
        holeId: OUTLINE,
        worth: { ...worthAt(1), worth: 'outline', judged: 'outline' },
        approaches: approached.locations.flatMap(({ approach }) => approach ?? []),
      },
    ],
    notes: {
      by: 'the caddie of the outer boat',
      holes: [noted, { ...noted, holeId: busiest(holes).id }],
    },
  };
};

/** Eighteen greens of a day with everything told of them. */
export const fullestDay = (ground: Fullest, layout: Layout): DayContent => {
  const { green } = ground;
  const ids = Array.from({ length: 18 }, (_, i) => `${i + 1}`);
  const distances: Today['distances'] = new Map(
    ids.map((id, i) => [
      id,
      {
        tees: TEES[i % TEES.length],
        front: 140 + 21 * i,
        hole: 158 + 21 * i,
        back: 171 + 21 * i,
        rise: i % 2 === 0 ? 18.4 : -23.1,
        past: i % 3 === 0 ? { kind: 'water' as const, length: 17 } : null,
      },
    ]),
  );
  return {
    title: 'The Old Harbour and Outer Skerries Links',
    setting: '',
    use: layout.use,
    units: 'imperial',
    stimp: green.stimp,
    past: green.past,
    greens: ids.map((holeId, i) => ({
      ...green,
      holeId,
      worth: worthAt(i),
      locations: [green.locations[i % green.locations.length]],
    })),
    day: 4,
    today: {
      distances,
      bearings: new Map(ids.map((id, i) => [id, 20 * i])),
      date: 'Saturday 26 September 2026',
      wind: { speed: '22 mph', from: 235 },
    },
  };
};
