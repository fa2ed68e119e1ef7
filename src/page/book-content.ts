import type { ApproachFigures } from '../course/approach-figures.js';
import type { HoleFigures } from '../course/hole-figures.js';
import type { Notes } from '../event/notes-file.js';
import type { Point, Ring } from '../geometry.js';
import type { BreakMap } from '../putt/break-map.js';
import type { PuttRegions } from '../putt/lanes.js';
import type { BreakTable } from '../putt/putt.js';
import type { PracticeStation } from '../putt/station.js';
import type { Reading } from '../terrain/reading.js';
import type { UnitSystem } from '../units.js';

/** A hole location with both its forms: paces as the trade gives it, and the point. */
export interface PlacedLocation {
  readonly name: string;
  readonly at: Point;
  /** Paces on from the front edge and in from the nearer side. */
  readonly on: number;
  readonly in: number;
  readonly side: 'left' | 'right';
}

/** All that the pages of one green show, in the frame of the green. */
export interface GreenContent {
  readonly holeId: string;
  readonly name: string;
  readonly par: number | null;
  readonly outline: Ring;
  readonly reading: Reading;
  readonly drains: readonly Point[];
  readonly locations: readonly PlacedLocation[];
  /** One a location, in the same order. */
  readonly tables: readonly BreakTable[];
  /** Tables at the layout's further green speeds, one list a location; absent where it names none. */
  readonly atSpeeds?: readonly (readonly BreakTable[])[];
  /** Lanes and leaves: one a location, in the same order; absent where the page does not show them. */
  readonly regions?: readonly PuttRegions[];
  /** One a location, in the same order; absent where no page of the layout shows them. */
  readonly breakMaps?: readonly BreakMap[];
  readonly stations?: readonly PracticeStation[];
  /** Metres. */
  readonly stimp: number;
  readonly past: number;
  /** One a location, in the same order; absent where the map shows no more than the green. */
  readonly approach?: readonly ApproachFigures[];
}

/** All that the book's own pages show. */
export interface BookContent {
  readonly title: string;
  readonly setting: string;
  readonly use: 'practice' | 'play' | 'committee';
  readonly units: UnitSystem;
  readonly stimp: number;
  readonly past: number;
  readonly greens: readonly GreenContent[];
  /** A caddie's own notes; absent when there are none. A committee edition never prints them. */
  readonly notes?: Notes;
  /** The holes that the map has a line of play for, in the course's order; absent: no hole pages. */
  readonly holes?: readonly HoleFigures[];
}
