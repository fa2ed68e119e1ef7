import { type GreenWorth, overruledBy } from '../appraisal/worth.js';
import type { Course, Hole } from '../course/course.js';
import { surveyedGreen } from '../course/named-hole.js';
import type { StoredSurface } from '../surface/stored-surface.js';
import type { UnitSystem } from '../units.js';
import { type Cache, recall } from './cache.js';
import { type Digests, fitKey, programDigest, worthKey } from './cache-keys.js';
import type { StoredFit } from './green-job.js';

/** The fitted ground of a green as plain data, and what it may be used for. */
export interface FittedGround {
  readonly stored: StoredSurface;
  readonly worth: GreenWorth;
  /** The key under which the cache holds the fit. */
  readonly fitKey: string;
}

/**
 * The grounds of some greens, where the cache holds all of them; null where one has to be made. Nothing that
 * reads surveys or fits them is needed for it.
 */
export const knownGrounds = (
  course: Course,
  holes: readonly Hole[],
  cache: Cache,
  units: UnitSystem,
): FittedGround[] | null => {
  const program = programDigest();
  const digests: Digests = new Map();
  const known: FittedGround[] = [];
  for (const hole of holes) {
    const site = surveyedGreen(course, hole);
    const key = fitKey(course, site, program, digests);
    const fit = recall<StoredFit>(cache, 'fit', key);
    const worth = fit === null ? null : recall<GreenWorth>(cache, 'worth', worthKey(key, units));
    if (fit === null || worth === null) return null;
    const printed = { ...overruledBy(worth, site.trust), doubtfulCells: null };
    known.push({ stored: fit.surface, worth: printed, fitKey: key });
  }
  return known;
};
