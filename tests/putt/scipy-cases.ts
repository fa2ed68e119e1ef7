import type { Surface } from '../../src/surface/surface.js';
import { circleRing, quadric, twoTier } from '../surface/analytic.js';
import { hermiteSurface, type NodeTable } from './hermite-surface.js';

/** A ground that both this program and the SciPy script can roll on. */
export type CaseGround =
  | {
      readonly kind: 'quadric';
      readonly kx: number;
      readonly ky: number;
      readonly x0: number;
      readonly y0: number;
    }
  | {
      readonly kind: 'tier';
      readonly rise: number;
      readonly y0: number;
      readonly width: number;
      readonly tilt: number;
    }
  | ({ readonly kind: 'nodes' } & NodeTable);

/** One putt: solved here, rolled by SciPy from the same launch; states at the times. */
export interface ScipyCase {
  readonly name: string;
  readonly ground: CaseGround;
  readonly stimp: number;
  readonly past: number;
  readonly deceleration: number;
  readonly hole: readonly [number, number];
  /** x, y, vx, vy at the ball. */
  readonly start: readonly number[];
  readonly times: readonly number[];
}

export interface ScipyRecord {
  readonly command: string;
  readonly version: string;
  readonly cases: readonly (ScipyCase & { readonly states: readonly (readonly number[])[] })[];
}

export const caseSurface = (ground: CaseGround): Surface => {
  const outline = circleRing(14);
  if (ground.kind === 'quadric') {
    return quadric(outline, ground.kx, ground.ky, ground.x0, ground.y0);
  }
  if (ground.kind === 'tier') {
    return twoTier(outline, ground.rise, ground.y0, ground.width, ground.tilt);
  }
  return hermiteSurface(ground);
};
