import type { GreenWorth } from '../appraisal/worth.js';
import { loadCourse } from '../course/load-course.js';
import { type RollsOfGreen, readRolls, type SentBall } from '../event/rolls-file.js';
import { InputFault } from '../fault.js';
import type { RollsReport } from '../putt/measured-rolls.js';
import type { MeasuredRoll } from '../putt/roll-alone.js';
import { solvePutt } from '../putt/solve.js';
import type { Surface } from '../surface/surface.js';
import { feetToMetres, firstUnits, type UnitSystem } from '../units.js';
import { readTextFile } from '../user-text.js';
import { courseSurfaces } from './course-surfaces.js';
import type { PrepareOptions } from './prepare-green.js';
import { reportOfRolls } from './rolls-report.js';

/** Pace of a computed aim past the hole, metres: 12 in, as `putt` has it. */
const PAST = feetToMetres(1);

/** A file of measured rolls, and what its balls tell. */
export interface RollsTold {
  readonly measured: RollsOfGreen;
  readonly worth: GreenWorth;
  /** Green speed that was thought to hold, metres. */
  readonly thought: number;
  readonly report: RollsReport;
  /** Those that are asked for, or the course's. */
  readonly units: UnitSystem;
}

/** The direction that a ball was sent off in, radians from +x. */
const directionOf = (
  surface: Surface,
  { ball, toward, aim, name }: SentBall,
  stimp: number,
  file: string,
): number => {
  const straight = Math.atan2(toward[1] - ball[1], toward[0] - ball[0]);
  const length = Math.hypot(toward[0] - ball[0], toward[1] - ball[1]);
  if (aim !== null) return straight + Math.atan(aim / length);
  const putt = solvePutt(surface, ball, toward, { stimp, past: PAST });
  if (putt.status !== 'holed') {
    throw new InputFault(
      { file, place: name },
      'no pace holds this putt at this green speed, so that no aim is computed',
      'write the aim that was taken: aim: 14 in left',
    );
  }
  return straight + putt.aimAngle;
};

/**
 * What the balls of a file tell of the green that they were sent off on.
 *
 * @throws InputFault for what the file or the course has wrong; `check` may throw for a green's worth.
 */
export const rollsOnGreen = async (
  courseName: string,
  file: string,
  out: string,
  how: PrepareOptions & {
    readonly outside: boolean;
    readonly check: (holeId: string, worth: GreenWorth) => void;
  },
): Promise<RollsTold> => {
  const course = loadCourse(courseName, how);
  const measured = readRolls(readTextFile(file), file, course);
  const { hole } = measured;
  const units = firstUnits(how.units, course.units);
  const [{ surface, worth, stored }] = await courseSurfaces(course, [hole], out, { ...how, units });
  how.check(hole.id, worth);
  const thought = measured.stimp ?? hole.green?.stimp ?? course.stimp;
  const rolls = measured.balls.map(
    (one): MeasuredRoll => ({
      ball: one.ball,
      direction: directionOf(surface, one, thought, file),
      release: one.release,
      rest: one.rest,
    }),
  );
  const report = reportOfRolls({ surface, stored, bare: worth.bare }, rolls, thought);
  return { measured, worth, thought, report, units };
};
