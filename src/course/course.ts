import type { Point, Ring } from '../geometry.js';
import type { Plane, Tie } from '../survey/crs/plane.js';
import type { SourceFormat } from '../survey/readers/sniff.js';
import type { GreenFrame, Survey } from '../survey/survey.js';
import type { UnitSystem } from '../units.js';
import type { CourseMap, LonLat, MapFeature, MapFinding } from './course-map.js';
import type { SettledHole } from './settled-hole.js';

/** A course file, checked; lengths in metres, surveys not yet read. */
export interface Course {
  readonly title: string;
  readonly setting: string;
  /** The folder the course file lies in. */
  readonly folder: string;
  readonly file: string;
  readonly use: 'practice' | 'play' | 'committee';
  /** A file of the words of pages in another language than English. */
  readonly words?: string;
  /** Units of its pages where neither the command line nor the layout names any. */
  readonly units?: UnitSystem;
  /** Default green speed, metres of stimp reading. */
  readonly stimp: number;
  readonly map: CourseMap;
  /** What the map lacks or may have wrong, without keeping a book from being made. */
  readonly findings: readonly MapFinding[];
  /** What was settled about each hole of the map. */
  readonly settled: readonly SettledHole[];
  /** A ground model of the whole course; null when there is none. */
  readonly ground: SurveySource | null;
  /** The CSV file of the hole locations of each day, as the course file names it; null when there is none. */
  readonly dayFile: string | null;
  /** What the book says of itself. */
  readonly imprint: Imprint;
  readonly holes: readonly Hole[];
}

/** What a book that is sold says of itself; null for what it does not say. */
export interface Imprint {
  readonly edition: string | null;
  /** For whom, or for which event, it is made. */
  readonly buyer: string | null;
  readonly publisher: string | null;
  readonly copyright: string | null;
  readonly contact: readonly string[];
  readonly surveyed: string | null;
  readonly price: string | null;
  readonly isbn: BookNumber | null;
  /** Two or five digits beside the bar code. */
  readonly addOn: string | null;
  /** The day it is made, where a run tells it; else a book is dated by nothing. */
  readonly made: string | null;
  /** A picture of the publisher's, beside the course file; millimetres. */
  readonly logo: { readonly file: string; readonly width: number } | null;
  /** Sentences for the back cover. */
  readonly about: string | null;
}

/** An International Standard Book Number (ISO 2108). */
export interface BookNumber {
  /** As the user writes it, with its hyphens. */
  readonly written: string;
  /** The thirteen digits of its bar code. */
  readonly ean: string;
}

export interface Hole {
  /** "1" to "18", or a word for a practice green: "practice". Unique. */
  readonly id: string;
  readonly name: string;
  readonly par: number | null;
  readonly strokeIndex: number | null;
  /** The loop that it belongs to, where the course has several. */
  readonly loop?: string | null;
  /** What the map shows of it. */
  readonly site: HoleSite;
  /** Null when the course file names no survey: such a hole has no green page. */
  readonly green: GreenSite | null;
  /** What the map alone tells of a green without a survey; null or absent where it has a survey, or the map no area of it. */
  readonly outline?: OutlineSite | null;
}

/** A green without a survey: its edge in a flat plane round its middle, metres. */
export interface OutlineSite {
  readonly plane: Plane;
  readonly outline: Ring;
  /** From the plane to the frame of the green; see `frameOfGreen`. */
  readonly frame: GreenFrame;
  /** It belongs to no hole and has no line of approach: its front is taken to be its south edge. */
  readonly northUp: boolean;
  readonly locations: readonly PlacedHoleLocation[];
  readonly days: readonly LocationOfDay[];
}

/** The parts of the map that make up one hole. */
export interface HoleSite {
  /** The line of play from the rearmost tee to the green; null for a practice green. */
  readonly line: readonly LonLat[] | null;
  readonly lineId: string | null;
  readonly green: MapFeature | null;
  readonly tees: readonly MapFeature[];
  readonly tags: Readonly<Record<string, string>>;
}

/** A green as the course file gives it. */
export interface GreenSite {
  readonly survey: SurveySource;
  /** The flat frame in metres that the survey is read into. */
  readonly plane: Plane;
  /** The edge of the green and a point on the line of approach, in that plane. */
  readonly outline: Ring;
  readonly approachFrom: Point;
  /** From the plane to the frame of the green; see `frameOfGreen`. */
  readonly frame: GreenFrame;
  /** Drains in the plane. */
  readonly drains: readonly Point[];
  readonly stimp: number;
  /** What is printed against the judgement of the survey, as the course file says; null where it is obeyed. */
  readonly trust: {
    readonly printAs: 'tables' | 'arrows' | 'outline';
    readonly because: string;
  } | null;
  readonly locations: readonly PlacedHoleLocation[];
  /** What the course file says of single days, in the order of days; see also `Course.dayFile`. */
  readonly days: readonly LocationOfDay[];
}

/** The hole location of one day; its name is that of a location of the green, or the day's number. */
export interface LocationOfDay {
  readonly day: number;
  readonly location: PlacedHoleLocation;
}

export interface SurveySource {
  /** As the course file names it, relative to its folder. */
  readonly file: string;
  readonly format: SourceFormat | null;
  readonly crs: string | null;
  /** Null: what the file states, else the unit of the coordinate system, else metres. */
  readonly unit: 'm' | 'ft' | 'us-ft' | null;
  readonly verticalUnit: 'm' | 'ft' | 'us-ft' | null;
  /** Standard deviation of a height, metres; null when not stated. */
  readonly sigma: number | null;
  readonly columns: readonly string[] | null;
  /** Classes of a point cloud that are ground; null: 2. */
  readonly classes: readonly number[] | null;
  /** One of several surfaces, layers, sheets (or files of an archive) or bands by its name or number; null: the only one. */
  readonly surface: string | null;
  readonly layer: string | null;
  readonly sheet: string | null;
  readonly band: number | null;
  /** Ties a local frame to the map; null when the coordinate system does. */
  readonly tie: readonly [Tie, Tie] | null;
  /** When and how it was surveyed, as the course file tells; null when it does not. */
  readonly surveyed: string | null;
}

/** Paces on from the front edge and in from a side; resolved to a point in the frame of the green. */
export interface HoleLocation {
  readonly name: string;
  readonly on: number;
  readonly in: number;
  readonly side: 'left' | 'right';
}

/** A hole location with its point in the frame of the green, metres. */
export interface PlacedHoleLocation extends HoleLocation {
  readonly at: Point;
}

/** One green ready to be fitted: everything in its own frame. */
export interface GreenGround {
  readonly holeId: string;
  readonly survey: Survey;
  readonly outline: Ring;
  readonly drains: readonly Point[];
  readonly locations: readonly PlacedHoleLocation[];
}
