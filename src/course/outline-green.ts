import { fetchedRecord, withHeld } from '../fetched-record.js';
import { type Ring, signedDistanceToRing } from '../geometry.js';
import { packedPoints } from '../packed-points.js';
import { ringInFrame, toGreenFrame } from '../survey/survey.js';
import type { Course, Hole, PlacedHoleLocation } from './course.js';
import { featuresOfHole, linesOfCourse, type OtherLines } from './hole-features.js';
import { playLineOf, ringOnPlane } from './play-line.js';

/** What the outline of a green tells, in the frame of the green (see frame.ts), metres. */
export interface OutlineGreen {
  readonly holeId: string;
  readonly name: string;
  readonly par: number | null;
  readonly outline: Ring;
  /** A green without a line of approach: its front is its south edge. */
  readonly northUp: boolean;
  readonly locations: readonly PlacedHoleLocation[];
  /** Bunkers and water round it. */
  readonly hazards: readonly { readonly kind: 'bunker' | 'water'; readonly ring: Ring }[];
}

/** Hazards no farther from the edge are drawn, metres. */
const ROUND = 20;

const outlineGreen = (course: Course, hole: Hole, lines: OtherLines): OutlineGreen | null => {
  const site = hole.outline ?? hole.green;
  if (site === null) return null;
  const { plane, frame, locations } = site;
  const northUp = hole.outline?.northUp ?? false;
  const outline = ringInFrame(frame, site.outline);
  const told = { holeId: hole.id, name: hole.name, par: hole.par, northUp, locations };
  const round = fetchedRecord(told, { outline: packedPoints(outline) });
  const play = playLineOf(hole.site);
  if (play === null) return withHeld(round, { hazards: [] });
  const hazards = featuresOfHole(course.map, hole.id, hole.site, play, lines).flatMap((feature) => {
    const { kind } = feature;
    if (kind !== 'bunker' && kind !== 'water') return [];
    const ring = ringOnPlane(plane, feature).map(([x, y]) => toGreenFrame(frame, x, y));
    const near = ring.some(([x, y]) => signedDistanceToRing(outline, x, y) < ROUND);
    return ring.length > 2 && near ? [{ kind, ring }] : [];
  });
  return withHeld(round, { hazards });
};

/** The green of a hole by its outline, with a survey or without; null where the map has no area of it. */
export const outlineGreenOf = (course: Course, hole: Hole): OutlineGreen | null =>
  outlineGreen(course, hole, linesOfCourse(course.map));

/** The greens of a course that have no survey, by their outlines in the map. */
export const outlineGreens = (course: Course): OutlineGreen[] => {
  const lines = linesOfCourse(course.map);
  return course.holes.flatMap((hole) =>
    hole.green === null ? (outlineGreen(course, hole, lines) ?? []) : [],
  );
};
