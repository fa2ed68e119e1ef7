import { GRAVITY } from './green-speed.js';

/**
 * Ball and hole. Source: Rules of Golf (The R&A and USGA), Equipment Rules (ball not under 1.680 in)
 * and the definition of Hole (4.25 in, 108 mm).
 */
const BALL_RADIUS = 0.04267 / 2;
export const HOLE_RADIUS = 0.108 / 2;

/** Off-centre distance beyond which Holmes's formula no longer applies; taken as a miss. Metres. */
export const CAPTURE_REACH = HOLE_RADIUS - BALL_RADIUS;

const FALL_RATE = Math.sqrt(GRAVITY / (2 * BALL_RADIUS));

/**
 * Highest speed at the rim, m/s, at which a ball that passes the centre at `offset` metres falls by its
 * radius before the far rim; 0 beyond `CAPTURE_REACH`. On the centre line 1.31 m/s.
 * Source: Holmes, Am. J. Phys. 59 (1991) 129-136 (quoted from memory).
 */
const holmesSpeed = (offset: number): number => {
  const d2 = offset * offset;
  if (d2 > CAPTURE_REACH * CAPTURE_REACH) return 0;
  return (
    (Math.sqrt(HOLE_RADIUS * HOLE_RADIUS - d2) + Math.sqrt(CAPTURE_REACH * CAPTURE_REACH - d2)) *
    FALL_RATE
  );
};

/** Holmes's bound on the centre line: (2R - r) sqrt(g / 2r), 1.31 m/s. */
export const MAX_CAPTURE_SPEED = holmesSpeed(0);

const SPEED_AT_REACH = holmesSpeed(CAPTURE_REACH);

/**
 * The off-centre distance within which a ball of this speed is held, metres: the inverse of
 * `holmesSpeed`. Negative, and falling with speed, where no line holds it.
 */
export const captureReach = (speed: number): number => {
  if (speed <= SPEED_AT_REACH) return CAPTURE_REACH;
  if (speed >= MAX_CAPTURE_SPEED) return (MAX_CAPTURE_SPEED - speed) * HOLE_RADIUS;
  const sum = speed / FALL_RATE;
  const across = (HOLE_RADIUS * HOLE_RADIUS - CAPTURE_REACH * CAPTURE_REACH) / sum;
  const half = (sum + across) / 2;
  return Math.sqrt(Math.max(0, HOLE_RADIUS * HOLE_RADIUS - half * half));
};
