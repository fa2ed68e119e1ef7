import { type FaultPlace, InputFault, idInPart } from '../fault.js';
import {
  boxOf,
  insideRing,
  type Point,
  type Ring,
  signedArea,
  signedDistanceToRing,
} from '../geometry.js';
import type { GreenFrame } from '../survey/survey.js';
import { metresToPaces, pacesToMetres } from '../units.js';
import type { HoleLocation } from './course.js';

/**
 * The frame of a green, and hole locations in it.
 *
 * The line of approach runs from where the green is approached through the centre of the green (the
 * centroid of its area). Where it first meets the outline is the origin: the middle of the front edge.
 * +y runs on along the line of approach, +x to its right; metres.
 *
 * A hole location is given in paces (one pace is one yard): `on` is its y; `in` is its distance along x
 * from the nearer side, a side being where the outline reaches farthest left (right) at that y.
 */

/** The centroid of a ring's area; the middle of its box where they enclose none. */
export const centroidOf = (ring: Ring): Point => {
  const [ox, oy] = ring[0];
  let sx = 0;
  let sy = 0;
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
    const ax = ring[j][0] - ox;
    const ay = ring[j][1] - oy;
    const bx = ring[i][0] - ox;
    const by = ring[i][1] - oy;
    const cross = ax * by - bx * ay;
    sx += (ax + bx) * cross;
    sy += (ay + by) * cross;
  }
  const sixAreas = 6 * signedArea(ring.map(([x, y]): Point => [x - ox, y - oy]));
  const centre: Point = [ox + sx / sixAreas, oy + sy / sixAreas];
  const { minX, maxX, minY, maxY } = boxOf(ring);
  const isWithin = centre[0] >= minX && centre[0] <= maxX && centre[1] >= minY && centre[1] <= maxY;
  return isWithin ? centre : [(minX + maxX) / 2, (minY + maxY) / 2];
};

/**
 * The frame of a green: see above. `outline` and `approachFrom` in one plane, metres; `approachFrom`
 * outside the outline.
 */
export const frameOfGreen = (outline: Ring, approachFrom: Point): GreenFrame => {
  const centre = centroidOf(outline);
  const dx = centre[0] - approachFrom[0];
  const dy = centre[1] - approachFrom[1];
  const reach = Math.hypot(dx, dy);
  const forward: Point = [dx / reach, dy / reach];
  let front = Infinity;
  for (let i = 0, j = outline.length - 1; i < outline.length; j = i++) {
    // Across (a, b to the right of the line) and along (p, q) from where the green is approached.
    const [ax, ay] = [outline[j][0] - approachFrom[0], outline[j][1] - approachFrom[1]];
    const [bx, by] = [outline[i][0] - approachFrom[0], outline[i][1] - approachFrom[1]];
    const a = ax * forward[1] - ay * forward[0];
    const b = bx * forward[1] - by * forward[0];
    if (a < 0 === b < 0) continue;
    const p = ax * forward[0] + ay * forward[1];
    const q = bx * forward[0] + by * forward[1];
    const along = p + (a / (a - b)) * (q - p);
    if (along >= 0 && along < front) front = along;
  }
  if (front === Infinity) front = reach;
  return {
    origin: [approachFrom[0] + front * forward[0], approachFrom[1] + front * forward[1]],
    forward,
  };
};

/** Where the outline (in the frame of the green) reaches farthest left and right at y; null beyond it. */
export const sidesAt = (
  outline: Ring,
  y: number,
): readonly [left: number, right: number] | null => {
  let left = Infinity;
  let right = -Infinity;
  for (let i = 0, j = outline.length - 1; i < outline.length; j = i++) {
    const [ax, ay] = outline[j];
    const [bx, by] = outline[i];
    if (ay > y === by > y) continue;
    const x = ax + ((y - ay) / (by - ay)) * (bx - ax);
    if (x < left) left = x;
    if (x > right) right = x;
  }
  return left < right ? [left, right] : null;
};

const round = (value: number): number => Math.round(value * 10) / 10;

/**
 * The point of a hole location, in the frame of the green (as `outline` is), metres.
 *
 * @throws InputFault at `where` when it lies off the green, or nearer to the other side.
 */
export const pointOfLocation = (
  outline: Ring,
  location: HoleLocation,
  where: FaultPlace,
): Point => {
  const y = pacesToMetres(location.on);
  const words = `${location.on} on, ${location.in} from the ${location.side}`;
  const sides = sidesAt(outline, y);
  if (sides === null) {
    const depth = round(metresToPaces(Math.max(...outline.map((p) => p[1]))));
    throw new InputFault(
      where,
      `hole location ${idInPart(location.name)} (${words}) is off its green`,
      `the green reaches from 0 to ${depth} paces on`,
    );
  }
  const [left, right] = sides;
  const step = pacesToMetres(location.in);
  const x = location.side === 'left' ? left + step : right - step;
  const wide = round(metresToPaces(right - left));
  if (x < left || x > right || !insideRing(outline, x, y)) {
    throw new InputFault(
      where,
      `hole location ${idInPart(location.name)} (${words}) is off its green`,
      `${location.on} paces on, the green is ${wide} paces wide`,
    );
  }
  // Half a pace of grace: in the very middle both sides are right.
  if (step > (right - left) / 2 + pacesToMetres(0.5)) {
    const other = location.side === 'left' ? 'right' : 'left';
    const from = round(metresToPaces(right - left) - location.in);
    throw new InputFault(
      where,
      `hole location ${idInPart(location.name)} (${words}) is nearer to the ${other} side`,
      `there the green is ${wide} paces wide: write ${other}: ${from}, or check the side`,
    );
  }
  return [x, y];
};

/** A distance off a green, metres. */
const farWords = (metres: number): string =>
  metres > 10_000 ? 'over 10 km' : `${metres.toFixed(metres < 10 ? 1 : 0)} m`;

/**
 * A point on the green (in its frame) as a hole location: the inverse of `pointOfLocation`, paces not
 * rounded.
 *
 * @throws InputFault at `where` when the point lies off the green.
 */
export const locationOfPoint = (
  outline: Ring,
  name: string,
  at: Point,
  where: FaultPlace,
): HoleLocation => {
  const sides = sidesAt(outline, at[1]);
  if (sides === null || !insideRing(outline, at[0], at[1])) {
    throw new InputFault(
      where,
      `the point lies ${farWords(signedDistanceToRing(outline, at[0], at[1]))} off the green`,
      'check the point, its coordinate system and the hole',
    );
  }
  const [left, right] = sides;
  const side = at[0] - left <= right - at[0] ? 'left' : 'right';
  const step = side === 'left' ? at[0] - left : right - at[0];
  return { name, on: metresToPaces(at[1]), in: metresToPaces(step), side };
};
