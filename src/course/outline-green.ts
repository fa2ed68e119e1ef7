import { distance, type Point, type Ring, signedArea, signedDistanceToRing } from '../geometry.js';
import { localPlane } from '../survey/crs/plane.js';
import { ringInFrame, toGreenFrame } from '../survey/survey.js';
import type { Course, Hole } from './course.js';
import { frameOfGreen } from './frame.js';
import { alongGeodesics, geodesicLength } from './geodesy.js';
import { featuresOfHole, linesOfCourse, type OtherLines } from './hole-features.js';
import { middleOf } from './hole-site.js';
import { playLineOf, ringOnPlane } from './play-line.js';

/** A green of which only the outline is known, in the frame of the green (see frame.ts), metres. */
export interface OutlineGreen {
  readonly holeId: string;
  readonly name: string;
  readonly par: number | null;
  readonly outline: Ring;
  /** Bunkers and water round it. */
  readonly hazards: readonly { readonly kind: 'bunker' | 'water'; readonly ring: Ring }[];
}

/** How much of a hole's line, from its end back, tells the line of approach, metres. */
const APPROACH = 100;
/** Hazards no farther from the edge are drawn, metres. */
const ROUND = 20;

const outlineGreen = (course: Course, hole: Hole, lines: OtherLines): OutlineGreen | null => {
  const { green, line } = hole.site;
  if (hole.green !== null || green?.shape.kind !== 'area' || line === null) return null;
  const middle = middleOf(green);
  const plane = localPlane(middle[0], middle[1]);
  const ring = green.shape.rings[0].map(([lon, lat]): Point => plane.toPlane(lon, lat));
  const outline = signedArea(ring) > 0 ? ring : ring.reverse();
  const from = alongGeodesics(line, Math.max(0, geodesicLength(line) - APPROACH));
  const approachFrom = plane.toPlane(from[0], from[1]);
  if (distance(approachFrom, plane.toPlane(middle[0], middle[1])) < 1) return null;
  const frame = frameOfGreen(outline, approachFrom);
  const inFrame = ringInFrame(frame, outline);
  const play = playLineOf(hole.site)!;
  const hazards = featuresOfHole(course.map, hole.id, hole.site, play, lines).flatMap((feature) => {
    const { kind } = feature;
    if (kind !== 'bunker' && kind !== 'water') return [];
    const round = ringOnPlane(plane, feature).map(([x, y]) => toGreenFrame(frame, x, y));
    const near = round.some(([x, y]) => signedDistanceToRing(inFrame, x, y) < ROUND);
    return round.length > 2 && near ? [{ kind, ring: round }] : [];
  });
  return { holeId: hole.id, name: hole.name, par: hole.par, outline: inFrame, hazards };
};

/** The greens of a course that have no survey, by their outlines in the map; a green without a line of play has no front. */
export const outlineGreens = (course: Course): OutlineGreen[] => {
  const lines = linesOfCourse(course.map);
  return course.holes.flatMap((hole) => outlineGreen(course, hole, lines) ?? []);
};
