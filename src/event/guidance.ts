import { METRES_PER_FOOT, METRES_PER_PACE } from '../units.js';

/** By what a hole location is judged; metres, square metres, grades as fractions. */
export interface Guidance {
  /** Least distance from the edge of the green, and the same on a small green. */
  readonly edge: number;
  readonly edgeOnSmall: number;
  /** A green of less area is a small one. */
  readonly smallGreen: number;
  /** Distance from the edge beyond which more is no better. */
  readonly edgeEase: number;
  /** Radius of the ground round the hole that is looked at. */
  readonly around: number;
  /** Greatest grade on that ground. */
  readonly steepest: number;
  /** Greatest departure of the gradient there from its mean. */
  readonly unevenness: number;
  /** Pace at which a ball from above passes the hole, as its roll past on a level green. */
  readonly past: number;
  /** How far past the hole such a ball may run. */
  readonly stopsWithin: number;
  /** Least distance from an earlier location. */
  readonly apart: number;
}

/**
 * Edge of four paces (five with ease), three on small greens; the ground two to three feet round a hole
 * as nearly level and uniform as possible, no steep slope; a ball from above can be stopped near the
 * hole. Source: USGA guidance on selecting hole locations; Lemons, USGA Green Section Record, July-August
 * 2008. The sources give no figures for what is steep, uneven, near, small, or far enough for the turf:
 * 3 %, 1.5 %, 3 ft, 5000 sq ft and 5 paces are ours (common practice, no source), to be changed by options.
 */
export const GUIDANCE: Guidance = {
  edge: 4 * METRES_PER_PACE,
  edgeOnSmall: 3 * METRES_PER_PACE,
  smallGreen: 5000 * METRES_PER_FOOT ** 2,
  edgeEase: 5 * METRES_PER_PACE,
  around: 3 * METRES_PER_FOOT,
  steepest: 0.03,
  unevenness: 0.015,
  past: METRES_PER_FOOT,
  stopsWithin: 3 * METRES_PER_FOOT,
  apart: 5 * METRES_PER_PACE,
};

/** The five things that guidance asks of a location, in the order in which they are told. */
export type Rule = 'edge' | 'grade' | 'evenness' | 'stopping' | 'turf';

export const RULES: readonly Rule[] = ['edge', 'grade', 'evenness', 'stopping', 'turf'];

/** Least distance from the edge on a green of this area. */
export const edgeRule = (guidance: Guidance, greenArea: number): number =>
  greenArea < guidance.smallGreen ? guidance.edgeOnSmall : guidance.edge;
