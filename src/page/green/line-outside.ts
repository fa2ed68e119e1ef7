import { insideRing, type Point, type Polygon } from '../../geometry.js';

/** A segment is looked at in so many parts. */
const PARTS = 4;

const isIn = (polygons: readonly Polygon[], [x, y]: Point): boolean =>
  polygons.some((rings) => rings.filter((ring) => insideRing(ring, x, y)).length % 2 === 1);

/** The pieces of a line that lie outside all polygons, to a quarter of a segment. */
export const lineOutside = (line: readonly Point[], polygons: readonly Polygon[]): Point[][] => {
  if (polygons.length === 0) return [[...line]];
  const pieces: Point[][] = [];
  let open: Point[] = [];
  const end = (): void => {
    if (open.length > 1) pieces.push(open);
    open = [];
  };
  for (let i = 1; i < line.length; i++) {
    const [[ax, ay], [bx, by]] = [line[i - 1], line[i]];
    const at = (t: number): Point => [ax + t * (bx - ax), ay + t * (by - ay)];
    for (let k = 0; k < PARTS; k++) {
      if (isIn(polygons, at((k + 0.5) / PARTS))) {
        end();
        continue;
      }
      if (open.length === 0) open.push(at(k / PARTS));
      // Its own last point, so that a line that is not cut stays as it is.
      if (k === PARTS - 1) open.push(line[i]);
      else if (isIn(polygons, at((k + 1.5) / PARTS))) open.push(at((k + 1) / PARTS));
    }
  }
  end();
  return pieces;
};
