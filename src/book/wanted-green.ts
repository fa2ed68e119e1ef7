import type { GreenSite, Hole, PlacedHoleLocation } from '../course/course.js';
import { InputFault } from '../fault.js';
import type { Point, Ring } from '../geometry.js';
import type { Layout } from '../layout/layout.js';
import { MAX_CAPTURE_SPEED } from '../putt/capture.js';
import { decelerationOf, rollForSpeed, speedForRoll } from '../putt/green-speed.js';
import { isStimpReading } from '../stimp-readings.js';
import { ringInFrame, toGreenFrame } from '../survey/survey.js';
import type { HolesRequest, WantedRegions } from './green-job.js';

/** A green that a book or a day needs, with the hole locations and the green speed it is needed for. */
export interface WantedGreen {
  readonly hole: Hole;
  readonly locations: readonly PlacedHoleLocation[];
  /** Metres of stimp reading. */
  readonly stimp: number;
  /** What its content tells of putts from all over it; none where it is not said. */
  readonly regions?: WantedRegions;
  /** Whether the fit in short will do: where nothing has to be solved on it, it is not read from the cache. */
  readonly inShort?: boolean;
}

/** The speed that a layout's step leads to from a green's own; stimp readings in metres. */
const stepped = (layout: string, own: number, step: number): number => {
  const speed = own + step;
  if (isStimpReading(speed)) return speed;
  throw new InputFault(
    { file: `layout ${layout}`, place: 'tables.speedSteps' },
    `a step of ${step.toFixed(2)} m from a green speed of ${own.toFixed(2)} m leads to ${speed.toFixed(2)} m, which is no stimp reading`,
    'give a smaller step, or the speeds themselves by the key "speeds"',
  );
};

/** Refuses a roll past the hole that no hole holds on a green of this speed, in metres: not one putt would have a pace. */
const requireHeld = (layout: string, past: number, stimp: number): void => {
  const deceleration = decelerationOf(stimp);
  if (speedForRoll(deceleration, past) < MAX_CAPTURE_SPEED) return;
  const most = rollForSpeed(deceleration, MAX_CAPTURE_SPEED);
  throw new InputFault(
    { file: `layout ${layout}`, place: 'tables.past' },
    `at a green speed of ${stimp.toFixed(2)} m no hole holds a ball that would run ${past.toFixed(2)} m past it`,
    `give less than ${(Math.floor(100 * most) / 100).toFixed(2)} m; inches with the unit ft, metres with m`,
  );
};

/**
 * The green speeds of a table, each once, the green's own first; stimp readings in metres.
 *
 * @throws InputFault where a step of the layout leads to no stimp reading, or no putt at the own speed stays in the hole.
 */
export const speedsOfTables = (
  { name, tables: { past, speeds, speedSteps } }: Pick<Layout, 'name' | 'tables'>,
  own: number,
): readonly number[] => {
  requireHeld(name, past, own);
  const kept = [own];
  for (const one of [...speedSteps.map((step) => stepped(name, own, step)), ...speeds]) {
    if (kept.every((other) => Math.abs(other - one) > 1e-6)) kept.push(one);
  }
  return kept;
};

/** Where a green lies that is to be prepared. */
export const siteOf = (hole: Hole): GreenSite => {
  if (hole.green === null) throw new Error(`hole ${hole.id} has no green to prepare`);
  return hole.green;
};

/** What is known of a green before its survey is read, in the frame of the green. */
export const framed = (site: GreenSite): { readonly outline: Ring; readonly drains: Point[] } => ({
  outline: ringInFrame(site.frame, site.outline),
  drains: site.drains.map(([x, y]) => toGreenFrame(site.frame, x, y)),
});

/** What a layout's pages want of a green's hole locations; null where it has none. */
export const requestOf = (
  { locations, stimp, regions = 'none' }: WantedGreen,
  layout: Layout,
): HolesRequest | null => {
  const { tables, pages } = layout;
  return locations.length === 0
    ? null
    : {
        locations,
        lengths: tables.lengths,
        past: tables.past,
        stimps: speedsOfTables(layout, stimp),
        regions,
        breakMaps: pages['break-map'] !== undefined,
        stations: pages.station !== undefined,
      };
};
