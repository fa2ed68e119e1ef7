import geographiclib from 'geographiclib-geodesic';
import type { LonLat } from './course-map.js';

/**
 * Lengths on the WGS 84 ellipsoid by Karney's algorithms (J. Geodesy 87 (2013) 43-55), as the library
 * geographiclib-geodesic computes them, to some nanometres. A sphere would be wrong by up to 0.5 %.
 */
const { WGS84 } = geographiclib.Geodesic;

/** Length of the geodesic, metres. */
export const geodesicDistance = (from: LonLat, to: LonLat): number =>
  WGS84.Inverse(from[1], from[0], to[1], to[0]).s12!;

/** Bearing of the geodesic where it starts, degrees clockwise from true north, -180 to 180. */
export const geodesicBearing = (from: LonLat, to: LonLat): number =>
  WGS84.Inverse(from[1], from[0], to[1], to[0]).azi1!;

/** Where the geodesic of this bearing (degrees) and length (metres) ends. */
export const geodesicTarget = (from: LonLat, bearing: number, metres: number): LonLat => {
  const { lat2, lon2 } = WGS84.Direct(from[1], from[0], bearing, metres);
  // The library wraps longitudes; a map's longitudes go on past the antimeridian.
  const turns = Math.round((lon2! - from[0]) / 360);
  return [lon2! - 360 * turns, lat2!];
};

/** Length of a line on the map, metres. */
export const geodesicLength = (line: readonly LonLat[]): number => {
  let sum = 0;
  for (let i = 1; i < line.length; i++) sum += geodesicDistance(line[i - 1], line[i]);
  return sum;
};

/** The place `metres` along a line from its start; before it and past its end the line goes straight on. */
export const alongGeodesics = (line: readonly LonLat[], metres: number): LonLat => {
  let left = metres;
  for (let i = 1; i < line.length; i++) {
    const side = geodesicDistance(line[i - 1], line[i]);
    if (left <= side || i === line.length - 1) {
      return geodesicTarget(line[i - 1], geodesicBearing(line[i - 1], line[i]), left);
    }
    left -= side;
  }
  return line[0];
};
