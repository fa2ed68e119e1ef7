import type { DayDistances } from './day-distances.js';
import type { Wind } from './wind.js';

/** What a day is besides its hole locations and its green speed. */
export interface Today {
  /** By the hole's id; holes without a line of play have none. */
  readonly distances: ReadonlyMap<string, DayDistances>;
  /** By the hole's id: the bearing of the line of approach, degrees clockwise from north. */
  readonly bearings: ReadonlyMap<string, number>;
  /** As it is to be printed; null leaves room to write it. */
  readonly date: string | null;
  /** Null leaves room to draw it. */
  readonly wind: Wind | null;
}
