import type { GreenWorth } from '../appraisal/worth.js';
import type { ApproachFigures } from '../course/approach-figures.js';
import type { Imprint, PlacedHoleLocation } from '../course/course.js';
import type { HoleFigures } from '../course/hole-figures.js';
import type { OutlineGreen } from '../course/outline-green.js';
import type { Notes } from '../event/notes-file.js';
import type { Point, Ring } from '../geometry.js';
import type { BreakMap } from '../putt/break-map.js';
import type { PuttRegions } from '../putt/lanes.js';
import type { BreakTable } from '../putt/putt.js';
import type { PracticeStation } from '../putt/station.js';
import type { Fall } from '../terrain/fall.js';
import type { Reading } from '../terrain/reading.js';
import type { UnitSystem } from '../units.js';
import type { BookChanges } from './changes.js';
import type { LogoPicture } from './marks/picture.js';
import type { WordTable } from './words/words.js';

/** All that the pages tell of one hole location, in the frame of the green; null: no page asks for it. */
export interface LocationContent extends PlacedHoleLocation {
  readonly ground: Fall | null;
  readonly table: BreakTable | null;
  /** Tables at the layout's further green speeds. */
  readonly atSpeeds: readonly BreakTable[];
  /** Lanes and leaves. */
  readonly regions: PuttRegions | null;
  readonly breakMap: BreakMap | null;
  readonly station: PracticeStation | null;
  readonly approach: ApproachFigures | null;
}

/** A hole location of which no more is told than its place. */
export const bareLocation = (place: PlacedHoleLocation): LocationContent => ({
  ...place,
  ground: null,
  table: null,
  atSpeeds: [],
  regions: null,
  breakMap: null,
  station: null,
  approach: null,
});

/** All that the pages of one green show, in the frame of the green. */
export interface GreenContent {
  readonly holeId: string;
  readonly name: string;
  readonly par: number | null;
  readonly outline: Ring;
  readonly reading: Reading;
  /** What may be printed of it, and why. */
  readonly worth: GreenWorth;
  readonly drains: readonly Point[];
  readonly locations: readonly LocationContent[];
  /** Metres. */
  readonly stimp: number;
  readonly past: number;
}

/** A green that is shown by its outline alone, in the frame of the green. */
export interface OutlinedGreen extends OutlineGreen {
  /** Of its survey, which is worth no more; null where it has none. */
  readonly worth: GreenWorth | null;
  /** To its locations, in their order. */
  readonly approaches: readonly ApproachFigures[];
}

/** All that the book's own pages show. */
export interface BookContent {
  readonly title: string;
  readonly setting: string;
  readonly use: 'practice' | 'play' | 'committee';
  readonly units: UnitSystem;
  /** English where it is left out. */
  readonly words?: WordTable | undefined;
  readonly stimp: number;
  readonly past: number;
  readonly greens: readonly GreenContent[];
  /** Greens without a survey, or with one that is worth no more; absent when there are none. */
  readonly outlines?: readonly OutlinedGreen[];
  /** What the book says of itself; absent where nothing asks. */
  readonly imprint?: Imprint;
  /** Of the publisher; absent where there is none. */
  readonly logo?: LogoPicture;
  /** A caddie's own notes; absent when there are none. A committee edition never prints them. */
  readonly notes?: Notes;
  /** The holes that the map has a line of play for, in the course's order; absent: no hole pages. */
  readonly holes?: readonly HoleFigures[];
  /** Against an earlier edition; absent where none is named, or nothing has changed. */
  readonly changes?: BookChanges;
}
