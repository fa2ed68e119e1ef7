import type { Point } from '../geometry.js';
import { measuredRolls, type RollsReport } from '../putt/measured-rolls.js';
import type { MeasuredRoll } from '../putt/roll-alone.js';
import { seededNormals, seedOf } from '../surface/seeded-normals.js';
import type { StoredSurface } from '../surface/stored-surface.js';
import type { Surface } from '../surface/surface.js';
import { surfaceDraws } from '../surface/surface-draws.js';
import { crossingBare } from './surveyed-only.js';

/** Grounds drawn from the survey's posterior: their spread is known to a tenth or so. */
const DRAWS = 60;

/** The same grounds for all balls of a green, drawn once. */
const drawnOf = new WeakMap<StoredSurface, readonly Surface[]>();

const drawnGrounds = (stored: StoredSurface): readonly Surface[] => {
  const found = drawnOf.get(stored);
  if (found !== undefined) return found;
  const draw = surfaceDraws(stored);
  const normal = seededNormals(seedOf(stored.coefficients));
  const drawn = Array.from({ length: DRAWS }, () => draw(normal));
  drawnOf.set(stored, drawn);
  return drawn;
};

/** A fitted green, as plain data too, and where it has no points. */
export interface RolledGround {
  readonly surface: Surface;
  readonly stored: StoredSurface;
  readonly bare: readonly Point[];
}

/** What balls that came to rest tell of a green; `stimp` is the green speed that was thought to hold, metres. */
export const reportOfRolls = (
  { surface, stored, bare }: RolledGround,
  rolls: readonly MeasuredRoll[],
  stimp: number,
): RollsReport => {
  const crosses = crossingBare(bare);
  return measuredRolls({
    surface,
    drawn: drawnGrounds(stored),
    rolls,
    stimp,
    crossesBare: (path) => crosses?.(path) ?? false,
  });
};
