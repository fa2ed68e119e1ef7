import type { Point } from '../geometry.js';

/** What is assumed of the ball on this green. */
export interface PuttSettings {
  /** Green speed: the stimp reading, metres of roll on a level green. */
  readonly stimp: number;
  /** Pace past the hole, d: the ball arrives over the centre at sqrt(2 a0 d). Metres. */
  readonly past: number;
}

export type PuttStatus = 'holed' | 'short' | 'never-stops' | 'leaves-green';
export type Side = 'left' | 'right' | 'straight';

/**
 * A putt that brings the ball over the centre of the hole at the asked pace ('holed'). 'leaves-green':
 * its path crosses the edge. 'never-stops': no pace arrives as slowly as asked, and this one arrives
 * slowest. 'short': nothing that can be launched reaches the hole.
 */
export interface ArrivingPutt {
  readonly status: PuttStatus;
  readonly ball: Point;
  readonly hole: Point;
  /** Straight distance from ball to hole in plan, metres. */
  readonly length: number;
  /** Launch speed along the ground, m/s. */
  readonly launchSpeed: number;
  /** Launch direction against the straight line to the hole; positive: left of it, seen from the ball. */
  readonly aimAngle: number;
  /** length * tan(aimAngle), metres; the side to aim at, beside the centre of the hole. */
  readonly aimOffset: number;
  /** v0^2 / (2 a0): the length of the level putt with the same launch speed, metres. */
  readonly pace: number;
  /** Over the centre of the hole, along the ground, m/s. */
  readonly arrivalSpeed: number;
  /** Where on the rim the ball arrives, clock hours seen from the ball (6: the front of the hole), 0 < h <= 12. */
  readonly entryClock: number;
  /** The side the ball breaks to, seen from the ball. */
  readonly breakSide: Side;
  readonly time: number;
  readonly path: readonly Point[];
}

/** The same with what becomes of a ball that is played a little otherwise. */
export interface PuttSolution extends ArrivingPutt {
  /** What it would roll past the hole on the real slope, metres; null when it would not stop on the green. */
  readonly wouldRollPast: number | null;
  /** Aim angles (radians) and launch speeds (m/s) that still hole the ball by Holmes's bound. */
  readonly aimWindow: readonly [number, number];
  readonly speedWindow: readonly [number, number];
}

export type Quadrant = 'below' | 'above' | 'left' | 'right';

export interface TableCell {
  readonly quadrant: Quadrant;
  /** Length of the putt, metres. */
  readonly length: number;
  readonly ball: Point;
  /**
   * 'off-green': the ball would stand off the green; 'leaves-green': the path that holes it would cross
   * the edge; 'no-pace': no pace holds this putt; 'unsurveyed': its way crosses ground without points.
   */
  readonly outcome: 'solved' | 'off-green' | 'leaves-green' | 'no-pace' | 'unsurveyed';
  readonly putt: ArrivingPutt | null;
  /** Standard deviation of aimOffset from the survey's uncertainty, metres; null when not known. */
  readonly aimSd: number | null;
}

/** The break table of one hole location at one green speed. */
export interface BreakTable {
  readonly hole: Point;
  readonly settings: PuttSettings;
  /** Unit vector downhill at the hole, by which the quadrants lie. */
  readonly fall: Point;
  readonly grade: number;
  readonly lengths: readonly number[];
  readonly cells: readonly TableCell[];
}
