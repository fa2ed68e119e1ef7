import { BARE_STEP, inSquares } from '../appraisal/spacing.js';
import { insideRing, type Point, type Polygon, sharesOf, signedArea } from '../geometry.js';
import type { PuttRegions } from '../putt/lanes.js';
import type { BreakTable, PuttSolution, TableCell } from '../putt/putt.js';
import type { PracticeStation } from '../putt/station.js';
import { aimPointOf, type WalkRound } from '../putt/walk-round.js';
import type { Reading, Stream } from '../terrain/reading.js';

/** Squares of `BARE_STEP` without points, to be asked whether a place lies in one of them. */
type Bare = readonly Point[];

/** A way is looked at this often, metres. */
const STEP = BARE_STEP / 4;

/** Whether a way, point after point, crosses bare ground. */
export const crossesBare = (bare: Bare, way: readonly Point[]): boolean =>
  crossingBare(bare)?.(way) ?? false;

/** The same to be asked of many ways; null where all ground has points. */
export const crossingBare = (bare: Bare): ((way: readonly Point[]) => boolean) | null => {
  if (bare.length === 0) return null;
  const isOn = inSquares(bare);
  return (way) => lineCrosses(isOn, way);
};

/** Whether the putt itself, or the roll past the hole when it misses, crosses bare ground. */
export const puttOverBare = (
  bare: Bare,
  { path, wouldRollPast }: Pick<PuttSolution, 'path' | 'wouldRollPast'>,
): { readonly way: boolean; readonly past: boolean } => {
  if (bare.length === 0) return { way: false, past: false };
  const isOn = inSquares(bare);
  const [from, end] = path.slice(-2);
  if (from === undefined || end === undefined || wouldRollPast === null) {
    return { way: lineCrosses(isOn, path), past: false };
  }
  const long = Math.hypot(end[0] - from[0], end[1] - from[1]) || 1;
  // Straight on: a ball past the hole has little way left to bend.
  const on = (k: 0 | 1): number => end[k] + (wouldRollPast * (end[k] - from[k])) / long;
  return { way: lineCrosses(isOn, path), past: crosses(isOn, end, [on(0), on(1)]) };
};

export const isBare = (bare: Bare, at: Point): boolean => inSquares(bare)(at);

const crosses = (isOn: (at: Point) => boolean, from: Point, to: Point): boolean => {
  const long = Math.hypot(to[0] - from[0], to[1] - from[1]);
  const parts = Math.max(1, Math.ceil(long / STEP));
  for (let i = 0; i <= parts; i++) {
    const t = i / parts;
    if (isOn([from[0] + t * (to[0] - from[0]), from[1] + t * (to[1] - from[1])])) return true;
  }
  return false;
};

const lineCrosses = (isOn: (at: Point) => boolean, line: readonly Point[]): boolean =>
  line.some((at, i) => (i === 0 ? isOn(at) : crosses(isOn, line[i - 1], at)));

const isIn = (polygon: Polygon, [x, y]: Point): boolean =>
  insideRing(polygon[0], x, y) && !polygon.slice(1).some((hole) => insideRing(hole, x, y));

/** Area of some ground without what of it is bare, square metres; it loses whole squares. */
export const surveyedArea = (polygons: readonly Polygon[], bare: Bare): number => {
  const whole = polygons.flat().reduce((sum, ring) => sum + signedArea(ring), 0);
  const lost = bare.filter((at) => polygons.some((polygon) => isIn(polygon, at))).length;
  return Math.max(0, whole - lost * BARE_STEP ** 2);
};

/** Whether some of a piece of ground is bare. */
export const holdsBare = (polygons: readonly Polygon[], bare: Bare): boolean =>
  bare.some((at) => polygons.some((polygon) => isIn(polygon, at)));

/** A table without the putts whose way crosses bare ground. */
export const surveyedTable = (table: BreakTable, bare: Bare): BreakTable => {
  if (bare.length === 0) return table;
  const isOn = inSquares(bare);
  const cells = table.cells.map((cell): TableCell => {
    const way = cell.putt?.path ?? [cell.ball, table.hole];
    return cell.outcome !== 'off-green' && lineCrosses(isOn, way)
      ? { ...cell, outcome: 'unsurveyed', putt: null, aimSd: null }
      : cell;
  });
  return { ...table, cells };
};

/** A practice station without the putts whose way crosses bare ground; null where the hole itself lies on it. */
export const surveyedStation = (station: PracticeStation, bare: Bare): PracticeStation | null => {
  if (bare.length === 0) return station;
  const isOn = inSquares(bare);
  if (isOn(station.hole)) return null;
  const tees = station.tees.map((tee): PracticeStation['tees'][number] =>
    tee.outcome !== 'off-green' && lineCrosses(isOn, tee.putt?.path ?? [tee.tee, station.hole])
      ? { ...tee, outcome: 'unsurveyed', putt: null, pictured: null }
      : tee,
  );
  // The point above the hole is that of both side putts.
  const isSide = ({ picture }: PracticeStation['tees'][number]): boolean =>
    picture === 'over the point above';
  const known = tees.every((tee) => !isSide(tee) || tee.outcome !== 'unsurveyed');
  // The marker is that of all four.
  const { marker } = station;
  const isMarked =
    marker !== null &&
    tees.every(
      ({ tee, outcome }) =>
        outcome !== 'unsurveyed' && !lineCrosses(isOn, [tee, marker.best.at, station.hole]),
    );
  return {
    ...station,
    tees,
    above: known ? station.above : null,
    marker: isMarked ? marker : null,
  };
};

/** A walk round a hole without the putts whose way crosses bare ground. */
export const surveyedRound = (round: WalkRound, bare: Bare): WalkRound => {
  if (bare.length === 0) return round;
  const isOn = inSquares(bare);
  const tees = round.tees.map((tee): WalkRound['tees'][number] =>
    tee.outcome !== 'off-green' && lineCrosses(isOn, tee.putt?.path ?? [tee.tee, round.hole])
      ? { ...tee, outcome: 'unsurveyed', putt: null }
      : tee,
  );
  return { ...round, tees, over: aimPointOf(tees, round.hole, round.fall) };
};

/** Lanes and a leave that rest on surveyed ground. */
export const surveyedRegions = (regions: PuttRegions, bare: Bare): PuttRegions => {
  if (bare.length === 0) return regions;
  const isOn = inSquares(bare);
  const { leave } = regions;
  return {
    ...regions,
    lanes: regions.lanes.filter(({ axis }) => !lineCrosses(isOn, axis)),
    leave: leave !== null && isOn(leave.best) ? null : leave,
  };
};

/** The parts of a line that lie on surveyed ground, by the first and past the last of their points. */
const surveyedParts = (
  line: readonly Point[],
  isOn: (at: Point) => boolean,
): [number, number][] => {
  const parts: [number, number][] = [];
  let start = -1;
  line.forEach((at, i) => {
    const on = isOn(at);
    if (!on && start < 0) start = i;
    const ends = on || i === line.length - 1;
    if (start >= 0 && ends) {
      const end = on ? i : i + 1;
      if (end - start > 1) parts.push([start, end]);
      start = -1;
    }
  });
  return parts;
};

/** A stream broken where it crosses bare ground; only its last part still has the mouth. */
const surveyedStream = (stream: Stream, isOn: (at: Point) => boolean): Stream[] => {
  const line = stream.points.map(([x, y]): Point => [x, y]);
  const shares = sharesOf(line);
  return surveyedParts(line, isOn).map(
    ([from, to]): Stream => ({
      ...stream,
      points: stream.points.slice(from, to),
      area: stream.area.slice(from, to),
      mouth: to === line.length ? stream.mouth : 'stream',
      ...(to - from < line.length && { piece: [shares[from], shares[to - 1]] as const }),
    }),
  );
};

/**
 * What was read on surveyed ground: no arrow, point, hollow or part of a line on ground without points.
 * Bands, contours and sections stay whole; what draws them leaves bare ground blank.
 */
export const surveyedReading = (reading: Reading, bare: Bare): Reading => {
  if (bare.length === 0) return reading;
  const isOn = inSquares(bare);
  const lines = (all: readonly (readonly Point[])[]): Point[][] =>
    all.flatMap((line) => surveyedParts(line, isOn).map(([from, to]) => line.slice(from, to)));
  return {
    ...reading,
    critical: reading.critical.filter(({ at }) => !isOn(at)),
    outlets: reading.outlets.filter(({ at }) => !isOn(at)),
    hollows: reading.hollows.filter(({ at }) => !isOn(at)),
    arrows: reading.arrows.filter(({ path }) => !lineCrosses(isOn, path)),
    divides: lines(reading.divides),
    valleys: lines(reading.valleys),
    contours: reading.contours.map((contour) => ({ ...contour, lines: lines(contour.lines) })),
    streams: reading.streams.flatMap((stream) => surveyedStream(stream, isOn)),
  };
};
