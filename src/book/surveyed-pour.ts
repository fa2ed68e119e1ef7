import type { Point } from '../geometry.js';
import { isSameLeaving } from '../terrain/water/leaving-places.js';
import type { PouredStream, PouredWater } from '../terrain/water/pour.js';
import { crossingBare, holdsBare } from './surveyed-only.js';

/** The way as far as ground without points; from there on nothing of it is known. */
const surveyedWay = (
  stream: PouredStream,
  crosses: (way: readonly Point[]) => boolean,
): PouredStream => {
  const way = stream.points.map(([x, y]): Point => [x, y]);
  const strands = stream.strands.map((strand) => {
    const end = strand.findIndex((at, k) => k > 0 && crosses([strand[k - 1], at]));
    return end < 0 ? strand : strand.slice(0, end);
  });
  const isWhole = strands.every((strand, k) => strand.length === stream.strands[k].length);
  const end = way.findIndex((at, k) => k > 0 && crosses([way[k - 1], at]));
  if (end < 0) return { ...stream, strands, mayLeave: isWhole ? stream.mayLeave : [] };
  return {
    ...stream,
    points: stream.points.slice(0, end),
    area: stream.area.slice(0, end),
    seconds: stream.seconds.slice(0, end),
    kept: stream.kept.slice(0, end),
    leaving: null,
    met: stream.met.filter((met) => met.point < end && !crosses([met.at])),
    joins: stream.joins !== null && stream.joins.point < end ? stream.joins : null,
    mayLeave: [],
    strands,
  };
};

/**
 * What is known of poured water on surveyed ground: no way goes over ground without points, and a catchment that
 * holds some is not told.
 */
export const surveyedPour = (water: PouredWater, bare: readonly Point[]): PouredWater => {
  const crosses = crossingBare(bare);
  if (crosses === null) return water;
  const streams = water.streams.map((stream) => surveyedWay(stream, crosses));
  const catchments = water.catchments.filter(
    (one) =>
      streams.some(({ leaving }) => leaving !== null && isSameLeaving(leaving, one)) &&
      !holdsBare(one.polygons, bare),
  );
  return { ...water, streams, catchments };
};
