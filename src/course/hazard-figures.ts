import {
  distance,
  type Point,
  type Ring,
  signedDistanceToRing,
  squareToSegment,
} from '../geometry.js';
import type { Plane } from '../survey/crs/plane.js';
import { yardsToMetres } from '../units.js';
import type { MapFeature } from './course-map.js';
import { placeAlong, ringOnPlane, stationOf, trueDistance } from './play-line.js';

/** A tee shot is given figures up to this far from the tee; hazards beyond are measured to the green. */
export const TEE_SHOT = yardsToMetres(310);
/** Hazards whose nearest point lies farther than this beside the line are not in play. */
const BESIDE = 36;
/** Hazards this near to the green's edge belong to the approach. */
const GREENSIDE = 14;
/** Hazards nearer to the tee than this are played over without a thought, metres. */
const LEAST_CARRY = 40;

export interface TeeCarry {
  /** To the near edge and to the far edge, metres on the ellipsoid. */
  readonly reach: number;
  readonly carry: number;
  /** From the tee up to the far edge, metres; null without a ground model. */
  readonly rise: number | null;
}

export interface HazardFigures {
  readonly feature: MapFeature;
  readonly kind: 'bunker' | 'water';
  /** Metres along the line of play from the rearmost tee. */
  readonly along: number;
  /** Where its middle lies: metres to the right of the line. */
  readonly off: number;
  /** The line of play itself runs over it. */
  readonly crosses: boolean;
  readonly greenside: boolean;
  /** One a tee, in the tees' order; null where the tee shot does not come to it. */
  readonly carries: readonly (TeeCarry | null)[];
  /** From its near and far edge to the middle of the green; null when every tee's shot comes to it. */
  readonly toMiddle: readonly [near: number, far: number] | null;
  /** From those edges up to the middle of the green, metres; null where the ground is not known. */
  readonly risesToMiddle: readonly [near: number | null, far: number | null];
}

/** The ring with extra points, so that no side is longer than a metre. */
export const finePoints = (ring: Ring): Point[] =>
  ring.flatMap((b, i) => {
    const a = ring[(i + ring.length - 1) % ring.length];
    const steps = Math.min(200, Math.max(1, Math.ceil(distance(a, b))));
    return Array.from({ length: steps }, (_, k): Point => {
      const t = (k + 1) / steps;
      return [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];
    });
  });

/** Where a straight line from a to b meets a ring, as distances from a, sorted. */
export const crossingsOnShot = (ring: Ring, a: Point, b: Point): number[] => {
  const reach = distance(a, b);
  const [fx, fy] = [(b[0] - a[0]) / reach, (b[1] - a[1]) / reach];
  const crossings: number[] = [];
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
    const p = (ring[j][0] - a[0]) * fy - (ring[j][1] - a[1]) * fx;
    const q = (ring[i][0] - a[0]) * fy - (ring[i][1] - a[1]) * fx;
    if (p < 0 === q < 0) continue;
    const s = (ring[j][0] - a[0]) * fx + (ring[j][1] - a[1]) * fy;
    const t = (ring[i][0] - a[0]) * fx + (ring[i][1] - a[1]) * fy;
    const along = s + (p / (p - q)) * (t - s);
    if (along >= 0 && along <= reach) crossings.push(along);
  }
  return crossings.sort((x, y) => x - y);
};

/** Where a line of several legs meets a ring, as distances along it, sorted. */
export const crossingsAlong = (ring: Ring, line: readonly Point[]): number[] => {
  const crossings: number[] = [];
  let walked = 0;
  for (let i = 1; i < line.length; i++) {
    for (const along of crossingsOnShot(ring, line[i - 1], line[i])) crossings.push(walked + along);
    walked += distance(line[i - 1], line[i]);
  }
  return crossings;
};

export const nearestAndFarthest = (
  points: readonly Point[],
  from: Point,
): readonly [Point, Point] => {
  let near = points[0];
  let far = points[0];
  for (const p of points) {
    if (distance(p, from) < distance(near, from)) near = p;
    if (distance(p, from) > distance(far, from)) far = p;
  }
  return [near, far];
};

/** How much higher `to` is than `from`; null where one is not known. */
export const riseBetween = (from: number | null, to: number | null): number | null =>
  from === null || to === null ? null : to - from;

/** Where water that crosses the line is entered and left on the straight shot; else its nearest and farthest point. */
const edgesFrom = (
  ring: Ring,
  points: readonly Point[],
  from: Point,
  toward: Point,
): readonly [Point, Point] => {
  const crossings = crossingsOnShot(ring, from, toward);
  if (crossings.length < 2) return nearestAndFarthest(points, from);
  const reach = distance(from, toward);
  const at = (d: number): Point => [
    from[0] + (d / reach) * (toward[0] - from[0]),
    from[1] + (d / reach) * (toward[1] - from[1]),
  ];
  return [at(crossings[0]), at(crossings[crossings.length - 1])];
};

export interface HazardSetting {
  readonly plane: Plane;
  readonly line: readonly Point[];
  readonly green: Ring | null;
  readonly greenCentre: Point;
  readonly tees: readonly Point[];
  /** Where a straight tee shot ends: the landing area, or the middle of the green of a par 3. */
  readonly target: Point;
  /** Height of the ground at a place of the plane; null where it is not known. */
  readonly heightAt: (at: Point) => number | null;
}

/** Where the line of play enters and leaves a hazard that crosses it. */
const endsOnLine = (ring: Ring, line: readonly Point[]): readonly Point[] => {
  const crossings = crossingsAlong(ring, line);
  return [crossings[0], crossings[crossings.length - 1]].map((d) => placeAlong(line, d).at);
};

/**
 * The figures of one bunker or piece of water; null when it is not in play (too far beside the line, or
 * past the green).
 *
 * A hazard on the straight line of the tee shot is measured where that line enters and leaves it; one
 * beside it, at its nearest and farthest point from the tee. Hazards past the tee shot are measured from
 * the middle of the green.
 */
export const hazardFigures = (
  feature: MapFeature,
  setting: HazardSetting,
): HazardFigures | null => {
  const { plane, line, green, greenCentre, tees, target, heightAt } = setting;
  const ring = ringOnPlane(plane, feature);
  if (ring.length < 3 || (feature.kind !== 'bunker' && feature.kind !== 'water')) return null;
  const points = finePoints(ring);
  const stations = points.map((p) => stationOf(line, p));
  const crosses = crossingsAlong(ring, line).length > 0;
  const offs = stations.map((s) => Math.abs(s.off));
  if (!crosses && Math.min(...offs) > BESIDE) return null;
  const middle: Point = [
    points.reduce((s, p) => s + p[0], 0) / points.length,
    points.reduce((s, p) => s + p[1], 0) / points.length,
  ];
  const station = stationOf(line, middle);
  const greenside =
    green !== null && points.some((p) => signedDistanceToRing(green, p[0], p[1]) < GREENSIDE);
  const onTeeShot = (from: Point): TeeCarry | null => {
    const shot = placeAlong([from, target], TEE_SHOT + 60).at;
    const [near, far] = edgesFrom(ring, points, from, shot);
    const carry = trueDistance(plane, from, far);
    if (carry > TEE_SHOT || carry < LEAST_CARRY) return null;
    // What lies round a corner is not on the tee shot.
    const ahead =
      (middle[0] - from[0]) * (target[0] - from[0]) + (middle[1] - from[1]) * (target[1] - from[1]);
    if (ahead <= 0) return null;
    const beside = Math.sqrt(squareToSegment(from, shot, middle[0], middle[1]));
    if (beside > BESIDE + 25) return null;
    const rise = riseBetween(heightAt(from), heightAt(far));
    return { reach: trueDistance(plane, from, near), carry, rise };
  };
  const carries = tees.map(onTeeShot);
  const beyond = carries.some((one) => one === null);
  const ends = crosses
    ? endsOnLine(ring, line)
    : [...nearestAndFarthest(points, greenCentre)].reverse();
  const [near, far] = ends.map((end) => ({
    long: trueDistance(plane, end, greenCentre),
    rise: riseBetween(heightAt(end), heightAt(greenCentre)),
  }));
  return {
    feature,
    kind: feature.kind,
    along: station.along,
    off: station.off,
    crosses,
    greenside,
    carries,
    toMiddle: beyond ? [near.long, far.long] : null,
    risesToMiddle: [near.rise, far.rise],
  };
};
