/**
 * Green speed: how a stimp reading becomes the deceleration of a rolling ball, and how a reading is
 * taken on a slope.
 */

/** Standard gravity, m/s^2 (ISO 80000-3). */
export const GRAVITY = 9.80665;

/** Gravity felt down the slope by a solid sphere that rolls without slipping: 5/7 of g (textbook). */
export const ROLLING_GRAVITY = (5 / 7) * GRAVITY;

/**
 * Speed at which a stimpmeter releases the ball, m/s (6.00 ft/s). Source: USGA Stimpmeter instruction
 * booklet and Holmes, Am. J. Phys. 54 (1986); the figure is quoted from memory.
 */
export const STIMP_RELEASE_SPEED = 1.83;

/** Deceleration on a level green, m/s^2, from a stimp reading in metres: a0 = v0^2 / (2 S). */
export const decelerationOf = (stimp: number): number => STIMP_RELEASE_SPEED ** 2 / (2 * stimp);

/**
 * Penner's coefficient of rolling resistance, a = (5/7) rho g, which is also the grade (a fraction) from which a
 * ball rolling straight down does not stop. Source: Penner, Can. J. Phys. 80 (2002).
 */
export const resistanceCoefficient = (stimp: number): number =>
  decelerationOf(stimp) / ROLLING_GRAVITY;

/** Speed that carries `distance` metres on a level green. */
export const speedForRoll = (deceleration: number, distance: number): number =>
  Math.sqrt(2 * deceleration * distance);

/** Length of the level roll that a speed gives, metres. */
export const rollForSpeed = (deceleration: number, speed: number): number =>
  speed ** 2 / (2 * deceleration);

/**
 * Level stimp reading from one roll up and one down the same slope, both in the same unit:
 * S = 2 up down / (up + down). Source: Brede, USGA Green Section Record 28(6), 1990.
 */
export const levelReading = (up: number, down: number): number => (2 * up * down) / (up + down);

/**
 * Grade (a fraction) on which two rolls were taken. Straight rolls are d = v^2 / (2 (af +- gs)), so that
 * gs / af = (down - up) / (down + up); with af that of the mean roll, sin(theta) = (7/5) gs / g. Derived
 * from Brede's relation.
 */
export const gradeFromRolls = (up: number, down: number): number => {
  const sine =
    (((down - up) / (down + up)) * decelerationOf(levelReading(up, down))) / ROLLING_GRAVITY;
  return sine / Math.sqrt(1 - sine * sine);
};
