import { boxOf, growBox } from '../geometry.js';
import { knotGrid } from './knot-grid.js';
import { unknownDraws } from './posterior-draws.js';
import { completeCoefficients, splineSurface } from './spline-surface.js';
import type { StoredSurface } from './stored-surface.js';
import type { Surface } from './surface.js';
import { drawnWaves } from './wave-doubt.js';

/**
 * Whole surfaces as the survey allows them: the fitted one with an error drawn from its posterior, for what
 * has no linear answer. A draw takes standard normal numbers; an error that the whole green has in common is
 * left out. A drawn surface is taken for exact: it has no trust.
 */
export const surfaceDraws = (stored: StoredSurface): ((normal: () => number) => Surface) => {
  const { outline, collar, knotStep, live, coefficients, factor, sigma, shared, waves } = stored;
  const box = growBox(boxOf(outline), collar);
  const grid = knotGrid(outline, collar, box, knotStep, live);
  const unknowns = unknownDraws({ grid, factor, shared });
  return (normal) => {
    const error = unknowns(normal).map((value) => sigma * value);
    const whole = completeCoefficients(grid, error);
    for (let k = 0; k < whole.length; k++) whole[k] += coefficients[k];
    const surface = splineSurface(grid, whole, { outline, collar, box }, null);
    if (waves.length === 0) return surface;
    const addWaves = drawnWaves(waves, normal);
    return {
      ...surface,
      at(x, y, jet) {
        surface.at(x, y, jet);
        addWaves(x, y, jet);
      },
    };
  };
};
