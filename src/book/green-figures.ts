import { BARE_STEP } from '../appraisal/spacing.js';
import { lengthOf, type Point, type Polygon, signedArea } from '../geometry.js';
import type { GreenContent } from '../page/book-content.js';
import type { PuttRegions } from '../putt/lanes.js';
import type { FitReport } from '../surface/fit.js';
import {
  isKept,
  type Outlet,
  otherOutlets,
  type Reading,
  type Section,
  type Stream,
} from '../terrain/reading.js';
import { metresToInches, type UnitSystem } from '../units.js';
import {
  groundLength as length,
  smallLength as small,
  placeOnGreen as where,
} from './ground-words.js';
import { holdsBare, surveyedArea } from './surveyed-only.js';

export interface GreenFigures {
  readonly green: GreenContent;
  readonly report: FitReport;
}

const to = (value: number, digits: number): number => Number(value.toFixed(digits));

const place = ([x, y]: readonly [number, number, ...number[]]): number[] => [to(x, 3), to(y, 3)];

const areaOf = (polygons: readonly Polygon[]): number =>
  polygons.reduce(
    (sum, polygon) => sum + polygon.reduce((own, ring) => own + signedArea(ring), 0),
    0,
  );

const percent = (grade: number): number | null =>
  Number.isFinite(grade) ? to(100 * grade, 2) : null;

const regionFigures = ({ lanes, bends, leave }: PuttRegions): object => ({
  straight_lanes: lanes.map((lane) => ({
    side: lane.side,
    length_m: to(lane.length, 2),
    width_m: to(lane.width, 3),
    end_m: place(lane.axis[lane.axis.length - 1]),
  })),
  ...(bends === null
    ? {}
    : {
        bends_left_m2: to(areaOf(bends.left), 1),
        bends_right_m2: to(areaOf(bends.right), 1),
        no_pace_m2: to(areaOf(bends.noPace), 1),
      }),
  leave:
    leave === null
      ? null
      : {
          best_m: place(leave.best),
          room_m: to(leave.room, 2),
          area_m2: to(areaOf(leave.polygons), 1),
        },
});

/** Shares of the grounds that the survey allows. */
export const outletFigures = ({ kind, share, kept, draws }: Outlet) => ({
  kind,
  share: to(share, 3),
  share_with_valley: to(kept, 3),
  draws,
});

/** None where some of a section has no points. */
const meanGrade = (
  { polygons, meanGrade: mean }: Section,
  bare: readonly Point[],
): number | null => (holdsBare(polygons, bare) ? null : percent(mean));

/** Everything that was read, as figures: metres in the frame of the green, grades in per cent. */
export const greenFigures = ({ green, report }: GreenFigures): object => {
  const { reading } = green;
  const { bare } = green.worth;
  return {
    hole: green.holeId,
    name: green.name,
    frame:
      'origin at the middle of the front edge, y along the line of approach, x to its right; metres',
    area_m2: to(reading.area, 2),
    not_surveyed_m2: to(bare.length * BARE_STEP ** 2, 2),
    survey: {
      points: report.pointsUsed,
      outliers: report.outliers.length,
      noise_m: to(report.sigma, 5),
    },
    bands: reading.bands.map((band) => ({
      from_percent: percent(band.from),
      to_percent: percent(band.to),
      area_m2: to(surveyedArea(band.polygons, bare), 2),
    })),
    points: reading.critical.map((point) => ({
      kind: point.kind,
      at_m: place(point.at),
      height_m: to(point.height, 4),
      relief_m: to(point.relief, 4),
      on_edge: point.onEdge,
    })),
    drainage: reading.streams.map((stream) => ({
      main: stream.main,
      order: stream.order,
      head_m: place(stream.points[0]),
      mouth_m: place(stream.points[stream.points.length - 1]),
      mouth: stream.mouth,
      valley_depth_m: to(stream.valley, 4),
      outlet: stream.outlet === null ? null : outletFigures(stream.outlet),
      length_m: to(lengthOf(stream.points.map(([x, y]) => [x, y] as const)), 2),
      fall_m: to(stream.points[0][2] - stream.points[stream.points.length - 1][2], 4),
      area_m2: to(stream.area[stream.area.length - 1], 1),
    })),
    outlets: reading.outlets.map((outlet) => ({
      at_m: place(outlet.at),
      ...outletFigures(outlet),
    })),
    hollows: reading.hollows.map((hollow) => ({
      at_m: place(hollow.at),
      depth_m: to(hollow.depth, 4),
      level_m: to(hollow.level, 4),
      spill_m: hollow.spill === null ? null : place(hollow.spill),
      drain: hollow.drain,
    })),
    divides: reading.divides.map((line) => ({
      from_m: place(line[0]),
      to_m: place(line[line.length - 1]),
      length_m: to(lengthOf(line), 2),
    })),
    valleys: reading.valleys.map((line) => ({
      from_m: place(line[0]),
      to_m: place(line[line.length - 1]),
      length_m: to(lengthOf(line), 2),
    })),
    sections: reading.sections.map((section) => ({
      kind: section.kind,
      name: section.name,
      area_m2: to(section.area, 1),
      mean_grade_percent: meanGrade(section, bare),
    })),
    direction_in_doubt_m2: to(surveyedArea(reading.doubtful, bare), 2),
    arrows: reading.arrows.length,
    locations: green.locations.map(({ name, at, regions }) => ({
      name,
      at_m: place(at),
      ...(regions === null ? {} : regionFigures(regions)),
    })),
  };
};

export const inShares = (share: number): string =>
  `in ${(100 * share).toFixed(0)} % of the grounds that the survey allows`;

/** How sure a main line's outlet and valley are. */
const standing = (stream: Stream): string => {
  const { outlet } = stream;
  if (outlet === null) return '; most of the water may leave elsewhere';
  if (outlet.draws === 1) return isKept(stream) ? '' : '; no valley, one of many lines alike';
  const share = `; takes most ${inShares(outlet.share)}`;
  return isKept(stream) || outlet.share <= 0.5
    ? share
    : `${share}; no valley, one of many lines alike`;
};

type Row = readonly [name: string, words: string];

const ENDS = { edge: 'leaves the green', drain: 'ends in a drain', stream: 'joins another' };

const streamRow = (stream: Stream, units: UnitSystem): Row => {
  const last = stream.points[stream.points.length - 1];
  return [
    stream.main ? 'main drainage' : 'drainage',
    `from ${where(stream.points[0], units)}; ${ENDS[stream.mouth]} at ${where(last, units)}${stream.main ? standing(stream) : ''}`,
  ];
};

const otherRows = (reading: Reading, units: UnitSystem): Row[] =>
  otherOutlets(reading).map((outlet) => [
    'other outlet',
    `${where(outlet.at, units)}; takes most ${inShares(outlet.share)}`,
  ]);

/** Where most of a green's water leaves: the main line and how sure it is, and the outlets that take turns with it. */
export const outletRows = (reading: Reading, units: UnitSystem): Row[] => [
  ...reading.streams.filter(({ main }) => main).map((stream) => streamRow(stream, units)),
  ...otherRows(reading, units),
];

/** The same in words, a line a thing; places on from the front edge and beside the line of approach. */
export const greenWords = (figures: GreenFigures, units: UnitSystem): string => {
  const { green, report } = figures;
  const { reading } = green;
  const rows: Row[] = [
    ['green', `${green.holeId}, ${green.name}`],
    [
      'survey',
      `${report.pointsUsed} points, noise ${units === 'metric' ? `${(1000 * report.sigma).toFixed(1)} mm` : `${metresToInches(report.sigma).toFixed(2)} in`}`,
    ],
  ];
  const { bare } = green.worth;
  const surveyed = reading.area - bare.length * BARE_STEP ** 2;
  if (bare.length > 0) {
    rows.push([
      'not surveyed',
      `${(100 * (1 - surveyed / reading.area)).toFixed(0)} % of the green: no figure rests on it`,
    ]);
  }
  for (const band of reading.bands) {
    const share = surveyedArea(band.polygons, bare) / surveyed;
    const range = Number.isFinite(band.to)
      ? `${percent(band.from)} to ${percent(band.to)} %`
      : `over ${percent(band.from)} %`;
    rows.push([
      'grade',
      `${range}: ${(100 * share).toFixed(0)} % of the ${bare.length > 0 ? 'rest' : 'green'}`,
    ]);
  }
  for (const point of reading.critical) {
    const name = point.kind === 'saddle' ? 'saddle' : `${point.kind} point`;
    rows.push([
      name,
      `${where(point.at, units)}${point.onEdge ? ', on the edge' : ''}; ${small(point.relief, units)} of relief`,
    ]);
  }
  rows.push(
    ...reading.streams.map((stream) => streamRow(stream, units)),
    ...otherRows(reading, units),
  );
  for (const hollow of reading.hollows) {
    if (hollow.drain === null && hollow.depth < 0.01) continue;
    const told =
      hollow.drain === 'shown'
        ? 'no drain is declared: the survey shows one, or an error'
        : hollow.drain === 'declared'
          ? 'drained'
          : 'fills and runs over';
    rows.push([
      'hollow',
      `${where(hollow.at, units)}; ${small(hollow.depth, units)} deep, ${told}`,
    ]);
  }
  for (const section of reading.sections) {
    const share = section.area / reading.area;
    const mean = meanGrade(section, bare);
    rows.push([
      'section',
      `${section.name}: ${(100 * share).toFixed(0)} % of the green${mean === null ? ', some of it not surveyed' : `, ${mean} % on average`}`,
    ]);
  }
  const doubtful = surveyedArea(reading.doubtful, bare) / reading.area;
  if (doubtful >= 0.005) {
    rows.push([
      'in doubt',
      `the direction of fall on ${(100 * doubtful).toFixed(0)} % of the green`,
    ]);
  }
  for (const { name, regions } of green.locations) {
    if (regions === null) continue;
    for (const lane of regions.lanes) {
      rows.push([
        `hole ${name}`,
        `straight ${lane.side} for ${length(lane.length, units)}, ${small(lane.width, units)} wide`,
      ]);
    }
    if (regions.leave !== null) {
      rows.push([
        `hole ${name}`,
        `best leave ${where(regions.leave.best, units)}, ${length(regions.leave.room, units)} of room`,
      ]);
    }
  }
  const width = Math.max(...rows.map(([name]) => name.length)) + 2;
  return rows.map(([name, words]) => `${name.padEnd(width)}${words}`).join('\n');
};
