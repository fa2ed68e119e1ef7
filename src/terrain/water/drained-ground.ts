import type { Point } from '../../geometry.js';
import type { GroundGrid } from '../ground-grid.js';
import type { OutlinePlace } from '../outline-index.js';
import type { Hollow } from '../reading.js';
import type { FlowShares } from './flow-accumulation.js';
import type { Flood } from './priority-flood.js';

/** Room for one pass over the nodes, left as it was found: owner -1, nearness Infinity, flow 0. */
export interface CatchmentScratch {
  readonly owner: Int32Array;
  readonly vertex: Int32Array;
  readonly nearness: Float64Array;
  readonly flow: Float64Array;
}

export const catchmentScratch = (size: number): CatchmentScratch => ({
  owner: new Int32Array(size).fill(-1),
  vertex: new Int32Array(size),
  nearness: new Float64Array(size).fill(Infinity),
  flow: new Float64Array(size),
});

/** Where a filled hollow runs over. */
export interface Spill {
  readonly at: Point;
  /** On the outline: the water leaves the green there. */
  readonly place: OutlinePlace | null;
  /** `at` is a saddle of the surface. */
  readonly pass: boolean;
  /** The drain that takes the water instead. */
  readonly drain: Point | null;
}

export interface Pool {
  readonly level: number;
  readonly spill: Spill;
}

/** The green as water sees it. */
export interface Drainage {
  readonly grid: GroundGrid;
  readonly flood: Flood;
  readonly shares: FlowShares;
  /** D-infinity contributing area at the nodes, square metres. */
  readonly area: Float64Array;
  /** One for each pool of the flood. */
  readonly pools: readonly Pool[];
  readonly hollows: readonly Hollow[];
  /** Declared drains on the green, then those that the survey shows. */
  readonly drains: readonly Point[];
  readonly scratch: CatchmentScratch;
}
