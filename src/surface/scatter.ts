import type { Box, Ring } from '../geometry.js';
import type { Breakline } from './breaklines.js';

/** Points of one green, their heights over a plane, and what is to be fitted to them; metres. */
export interface Scatter {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly z: Float64Array;
  readonly breaklines: readonly Breakline[];
  readonly statedSigma: number | null;
  /**
   * Standard deviation of a point for the choice of smoothing, where the points themselves do not show it:
   * cells of a grid whose errors neighbours share. Null: it is learnt from the points.
   */
  readonly knownSigma: number | null;
  readonly outline: Ring;
  readonly collar: number;
  /** Of outline and collar. */
  readonly box: Box;
}
