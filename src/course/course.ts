import type { Point, Ring } from '../geometry.js';
import type { Survey } from '../survey/survey.js';

/** A course file, checked; lengths in metres, surveys not yet read. */
export interface Course {
  readonly title: string;
  readonly setting: string;
  /** The folder the course file lies in. */
  readonly folder: string;
  readonly file: string;
  readonly use: 'practice' | 'play' | 'committee';
  /** Default green speed, metres of stimp reading. */
  readonly stimp: number;
  readonly holes: readonly Hole[];
}

export interface Hole {
  /** "1" to "18", or a word for a practice green: "practice". Unique. */
  readonly id: string;
  readonly name: string;
  readonly par: number | null;
  readonly strokeIndex: number | null;
  readonly green: GreenSite;
}

/** A green as the course file gives it. */
export interface GreenSite {
  readonly survey: SurveySource;
  /** The edge of the green and the line of approach in the survey's projected frame; see `frameOfGreen`. */
  readonly outline: Ring;
  readonly approachFrom: Point;
  /** Drains in the survey's frame. */
  readonly drains: readonly Point[];
  readonly stimp: number;
  readonly locations: readonly HoleLocation[];
}

export interface SurveySource {
  readonly file: string;
  readonly format: 'points' | 'ascii-grid' | 'geotiff' | 'landxml' | 'las' | null;
  readonly crs: string | null;
  readonly unit: 'm' | 'ft' | 'us-ft';
  readonly verticalUnit: 'm' | 'ft' | 'us-ft';
  readonly sigma: number | null;
  readonly columns: readonly string[] | null;
}

/** Paces on from the front edge and in from a side; resolved to a point in the frame of the green. */
export interface HoleLocation {
  readonly name: string;
  readonly on: number;
  readonly in: number;
  readonly side: 'left' | 'right';
}

/** One green ready to be fitted: everything in its own frame. */
export interface GreenGround {
  readonly holeId: string;
  readonly survey: Survey;
  readonly outline: Ring;
  readonly drains: readonly Point[];
}
