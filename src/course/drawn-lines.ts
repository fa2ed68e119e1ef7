import { distance, lengthOf, type Point } from '../geometry.js';
import type { MapFeature } from './course-map.js';
import { type Flat, laidFlat } from './flat.js';
import { sameRefs } from './hole-refs.js';
import { loopTag } from './settle-numbers.js';

/** Two pieces of one line meet within this, metres. */
const JOINED = 8;

/** A line of play as the map draws it. */
export interface DrawnLine {
  /** Its pieces, in the order of the map. */
  readonly features: readonly MapFeature[];
  readonly points: readonly Point[];
}

/**
 * Two lines with one number whose ends meet, as one; two that come to one place from the same side are two
 * ways to draw the hole: the longer is kept. Null when they do not meet.
 */
const joined = (a: readonly Point[], b: readonly Point[]): readonly Point[] | null => {
  for (const first of [a, [...a].reverse()]) {
    for (const second of [b, [...b].reverse()]) {
      const [before, joint, after] = [first[first.length - 2], second[0], second[1]];
      if (distance(first[first.length - 1], joint) > JOINED) continue;
      const onward =
        (joint[0] - before[0]) * (after[0] - joint[0]) +
        (joint[1] - before[1]) * (after[1] - joint[1]);
      if (onward > 0) return [...first, ...second.slice(1)];
      return lengthOf(a) >= lengthOf(b) ? a : b;
    }
  }
  return null;
};

const samePlace = (a: readonly Point[], b: readonly Point[]): boolean => {
  const ends = (p: readonly Point[]): [Point, Point] => [p[0], p[p.length - 1]];
  const [a0, a1] = ends(a);
  const [b0, b1] = ends(b);
  const near = (p: Point, q: Point): boolean => distance(p, q) < JOINED;
  return (near(a0, b0) && near(a1, b1)) || (near(a0, b1) && near(a1, b0));
};

/** The lines of play, pieces of one line joined, a line drawn twice once. */
export const drawnLines = (flat: Flat, lines: readonly MapFeature[]): DrawnLine[] => {
  const drawn: DrawnLine[] = [];
  for (const feature of lines) {
    const points = laidFlat(flat, feature).points;
    const twin = drawn.findIndex(
      (one) =>
        sameRefs(one.features[0].refs, feature.refs) &&
        loopTag(one.features[0].tags) === loopTag(feature.tags) &&
        (samePlace(one.points, points) ||
          (feature.refs.length > 0 && joined(one.points, points) !== null)),
    );
    if (twin < 0) {
      drawn.push({ features: [feature], points });
      continue;
    }
    const { features, points: known } = drawn[twin];
    drawn[twin] = {
      features: [...features, feature],
      points: samePlace(known, points) ? known : joined(known, points)!,
    };
  }
  return drawn;
};
