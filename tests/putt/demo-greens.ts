import type { Point } from '../../src/geometry.js';
import { surfaceOfStored } from '../../src/surface/stored-surface.js';
import type { Surface } from '../../src/surface/surface.js';
import { prepareDemo } from '../fitted-demo.js';

export interface DemoGreen {
  readonly id: string;
  readonly surface: Surface;
  readonly locations: readonly Point[];
  readonly stimp: number;
}

/** Greens of the demo course, read and fitted as the book reads them; all of them when none is named. */
export const demoGreens = async (ids: readonly string[] | null = null): Promise<DemoGreen[]> =>
  (await prepareDemo(ids)).map(({ hole, fit }) => ({
    id: hole.id,
    surface: surfaceOfStored(fit.surface),
    locations: (hole.green?.locations ?? []).map(({ at }) => at),
    stimp: hole.green?.stimp ?? 0,
  }));
