import type { Point, Ring } from '../geometry.js';

/**
 * What was measured on one green, in metres, in the survey's own projected frame (not yet the frame
 * of the green). Readers make it; nothing in it is smoothed, thinned or dropped.
 */
export interface Survey {
  /** Where it came from, for messages: a path relative to the course folder. */
  readonly source: string;
  readonly kind: 'points' | 'grid' | 'tin' | 'cloud';
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly z: Float64Array;
  /** Standard deviation of z that the survey states, metres; null when it states none. */
  readonly statedSigma: number | null;
  /** Standard deviation of each height that the file states point by point, metres (NaN where it states none); left out where it states none at all. */
  readonly sigma?: Float64Array | null;
  /** Lines along which the ground may bend sharply. Each point is x, y, z. */
  readonly breaklines: readonly (readonly (readonly [number, number, number])[])[];
  /** Spacing of a grid's cells, metres; null for scattered points. */
  readonly cellSize: number | null;
  /**
   * When each point was measured, seconds from any beginning; left out where the file does not tell. Points
   * of a rover without it are taken to stand in the order in which they were walked.
   */
  readonly time?: Float64Array | null;
  /** Which session (day, flight line, set-up) each point belongs to, from 0; left out where the file does not tell. */
  readonly session?: Int32Array | null;
  /** Set for a rough survey by hand, whose places are paced; left out for all others. */
  readonly paced?: PacedReadings | null;
  /** The coordinate system in which the file was read: as asked for, or as the file states it; null when neither does. */
  readonly crs?: string | null;
  /** How the file was read, one line: which column is what, unit, coordinate system, first point, and whence each was known. */
  readonly how?: string;
  /** What the reader had to assume, one sentence each: for the reader of a report. */
  readonly notes?: readonly string[];
}

/** What was read at the places of a survey by hand, and how well; metres and parts of one, in the survey's frame. */
export interface PacedReadings {
  /** Where a place is meant to be, along each direction, standard deviation. */
  readonly placeSd: number;
  /** How far each place was paced, along x and y, metres; and by which part all paces may be longer, standard deviation. */
  readonly walked: PlaneParts;
  readonly strideSd: number;
  /** Standard deviation of a height, where heights were read. */
  readonly heightSd: number;
  /** The line of its file that each place stands on, from 1; left out where no file tells. */
  readonly lines?: readonly number[];
  /** The slopes of the ground at the places, where falls were read and heights are made of them; else null. */
  readonly falls: PacedFalls | null;
}

/** A vector at each place. */
export interface PlaneParts {
  readonly x: Float64Array;
  readonly y: Float64Array;
}

/** Rise a metre along x and y. */
export interface PacedFalls extends PlaneParts {
  /** Standard deviations: of a grade, of the direction that a fall is given, and of that from which all are counted, radians. */
  readonly gradeSd: number;
  readonly turnSd: number;
  readonly sightSd: number;
}

/** A rigid map from a survey's frame to the frame of the green (origin middle front, +y up the approach). */
export interface GreenFrame {
  readonly origin: Point;
  /** Unit vector of +y (the line of approach), in the survey's frame. */
  readonly forward: Point;
}

export const toGreenFrame = (frame: GreenFrame, x: number, y: number): Point => {
  const dx = x - frame.origin[0];
  const dy = y - frame.origin[1];
  const [fx, fy] = frame.forward;
  return [dx * fy - dy * fx, dx * fx + dy * fy];
};

/** A ring of the survey's frame in the frame of the green. */
export const ringInFrame = (frame: GreenFrame, ring: Ring): Ring =>
  ring.map(([x, y]) => toGreenFrame(frame, x, y));

export const fromGreenFrame = (frame: GreenFrame, x: number, y: number): Point => {
  const [fx, fy] = frame.forward;
  return [frame.origin[0] + x * fy + y * fx, frame.origin[1] - x * fx + y * fy];
};
