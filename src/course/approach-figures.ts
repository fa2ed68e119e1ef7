import { distance, nearestOnSegment, type Point, type Ring } from '../geometry.js';
import { ringInFrame, toGreenFrame } from '../survey/survey.js';
import type { Course, Hole, PlacedHoleLocation } from './course.js';
import { sidesAt } from './frame.js';
import { featuresOfHole, type OtherLines } from './hole-features.js';
import { playLineOf, ringOnPlane } from './play-line.js';

/** Where a hole location lies for a shot to the green; metres. */
export interface ApproachFigures {
  readonly name: string;
  /** From the front of the green's frame, and to its back edge straight behind the location. */
  readonly front: number;
  readonly back: number;
  /** To the green's left and right edge. */
  readonly left: number;
  readonly right: number;
  /** The last bunker or water that a straight approach must carry; null when there is none. */
  readonly hazard: {
    readonly kind: 'bunker' | 'water';
    /** From the hazard's far edge on to the location: the carry is the distance to the hole less this. */
    readonly beyond: number;
  } | null;
}

/** How far before the green a straight approach is looked at, and how far beside it, metres. */
const BEFORE = 90;
const BESIDE = 4;

/** Where the outline ends straight behind a place (the farthest crossing of its x). */
const backBehind = (outline: Ring, [x, y]: Point): number => {
  let back = y;
  for (let i = 0, j = outline.length - 1; i < outline.length; j = i++) {
    const [ax, ay] = outline[j];
    const [bx, by] = outline[i];
    if (ax > x === bx > x) continue;
    back = Math.max(back, ay + ((x - ax) / (bx - ax)) * (by - ay));
  }
  return back;
};

interface Hazard {
  readonly kind: 'bunker' | 'water';
  /** In the frame of the green. */
  readonly ring: Ring;
}

/** The last hazard on the way from a place to a location, and what is left from its far edge. */
const lastHazard = (
  hazards: readonly Hazard[],
  from: Point,
  to: Point,
): ApproachFigures['hazard'] => {
  const reach = distance(from, to);
  let last: { kind: 'bunker' | 'water'; beyond: number } | null = null;
  for (const { kind, ring } of hazards) {
    let far: number | null = null;
    for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
      const steps = Math.max(1, Math.ceil(distance(ring[j], ring[i])));
      for (let k = 0; k < steps; k++) {
        const t = k / steps;
        const p: Point = [
          ring[j][0] + t * (ring[i][0] - ring[j][0]),
          ring[j][1] + t * (ring[i][1] - ring[j][1]),
        ];
        const near = nearestOnSegment(from, to, p);
        if (distance(near, p) > BESIDE) continue;
        const along = distance(from, near);
        if (along < reach && (far === null || along > far)) far = along;
      }
    }
    if (far !== null && far > 0 && (last === null || reach - far < last.beyond)) {
      last = { kind, beyond: reach - far };
    }
  }
  return last;
};

/** What tells the approach to any hole location of a green. */
export type ApproachTo = (location: Pick<PlacedHoleLocation, 'name' | 'at'>) => ApproachFigures;

/**
 * The approach to the hole locations of a green; null for a hole of which the map has no green. A practice
 * green has no hazards to carry.
 */
export const approachTo = (
  course: Pick<Course, 'map'>,
  hole: Hole,
  lines: OtherLines,
): ApproachTo | null => {
  const site = hole.green ?? hole.outline ?? null;
  if (site === null) return null;
  const { frame, plane } = site;
  const play = playLineOf(hole.site);
  const features = play === null ? [] : featuresOfHole(course.map, hole.id, hole.site, play, lines);
  const hazards = features.flatMap((feature): Hazard[] => {
    if (feature.kind !== 'bunker' && feature.kind !== 'water') return [];
    const ring = ringOnPlane(plane, feature).map(([x, y]) => toGreenFrame(frame, x, y));
    return ring.length < 3 ? [] : [{ kind: feature.kind, ring }];
  });
  return ({ name, at }) => {
    // Made anew, since what is held of each green grows with their number.
    const outline = ringInFrame(frame, site.outline);
    const sides = sidesAt(outline, at[1]) ?? [at[0], at[0]];
    return {
      name,
      front: at[1],
      back: backBehind(outline, at) - at[1],
      left: at[0] - sides[0],
      right: sides[1] - at[0],
      hazard: lastHazard(hazards, [0, -BEFORE], at),
    };
  };
};
