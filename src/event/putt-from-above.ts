import type { Point } from '../geometry.js';
import { insideRing } from '../geometry.js';
import type { PuttSolution } from '../putt/putt.js';
import { solvePutt } from '../putt/solve.js';
import { quadrantDirection } from '../putt/table.js';
import { fallAt } from '../terrain/fall.js';
import { METRES_PER_FOOT } from '../units.js';
import type { Site } from './assess-location.js';

/** Lengths of the putt from above that is tried, longest first, metres. */
const LENGTHS = [10, 6, 4].map((feet) => feet * METRES_PER_FOOT);

/**
 * The putt to a hole from straight above it on the fall line, solved at the pace of the guidance: from
 * 10 ft, or from 6 or 4 ft where the green ends sooner. Null when no pace holds it, or no ball fits; `unknown`
 * where its way crosses ground that nothing is known of.
 */
export const puttFromAbove = (site: Site, hole: Point): PuttSolution | 'unknown' | null => {
  const { toward: fall } = fallAt(site.surface, hole);
  const [ux, uy] = quadrantDirection('above', fall);
  for (const length of LENGTHS) {
    const ball: Point = [hole[0] + length * ux, hole[1] + length * uy];
    if (!insideRing(site.surface.outline, ball[0], ball[1])) continue;
    const putt = solvePutt(site.surface, ball, hole, site.putts.settings);
    if (site.crossesUnknown?.(putt.path) === true) return 'unknown';
    return putt.status === 'holed' ? putt : null;
  }
  return null;
};
