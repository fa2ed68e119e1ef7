import type { Hole } from '../course/course.js';
import type { EarlierLocation } from '../event/assess-location.js';
import { type DayLocation, daysOf } from '../event/day-locations.js';
import { InputFault } from '../fault.js';
import type { UnitSystem } from '../units.js';
import type { GuidanceArguments } from './guidance-options.js';

export interface LocateArguments extends GuidanceArguments {
  readonly course: string;
  readonly hole: string | undefined;
  readonly day: number | undefined;
  readonly rota: number | undefined;
  readonly speed: string | undefined;
  readonly locations: string | undefined;
  readonly at: string | undefined;
  readonly write: string | undefined;
  readonly out: string;
  readonly units: UnitSystem;
  readonly outside: boolean;
  readonly json: boolean;
}

/** The day that is chosen for: as asked, else the one after the last that has locations. */
export const dayChosen = (asked: number | undefined, days: readonly DayLocation[]): number => {
  if (asked === undefined) return Math.max(0, ...daysOf(days)) + 1;
  if (Number.isInteger(asked) && asked >= 1 && asked <= 99) return asked;
  throw new InputFault(
    { file: 'command line', place: '--day' },
    `${asked} is no day`,
    'days are numbered from 1 to 99',
  );
};

/** The holes cut on a green before a day. */
export const earlierOn = (
  hole: Hole,
  days: readonly DayLocation[],
  before: number,
): EarlierLocation[] =>
  days
    .filter((one) => one.holeId === hole.id && one.day < before)
    .map((one) => ({ at: one.location.at, name: `the hole of day ${one.day}` }));
