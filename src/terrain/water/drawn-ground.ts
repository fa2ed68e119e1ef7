import { seededNormals, seedOf } from '../../surface/seeded-normals.js';
import type { Surface } from '../../surface/surface.js';
import { H, HX, HXX, HXY, HY, HYY } from '../../surface/surface.js';
import type { GroundGrid } from '../ground-grid.js';
import { nodeX, nodeY, sampleGround } from '../ground-grid.js';
import { graphOfGround } from '../points/persistence.js';
import { type DrainageOptions, drainGround } from './drainage.js';
import type { Drainage } from './drained-ground.js';

/** Distance of the nodes on which an error is drawn, metres. */
const STEP = 0.75;
const DRAWS = 24;

/** Weights of four neighbouring nodes, and their first and second derivatives, by cubic convolution (Keys 1981). */
const weights = (t: number, out: Float64Array): void => {
  const s = t * t;
  out[0] = (-s * t + 2 * s - t) / 2;
  out[1] = (3 * s * t - 5 * s + 2) / 2;
  out[2] = (-3 * s * t + 4 * s + t) / 2;
  out[3] = (s * t - s) / 2;
  out[4] = (-3 * s + 4 * t - 1) / 2;
  out[5] = (9 * s - 10 * t) / 2;
  out[6] = (-9 * s + 8 * t + 1) / 2;
  out[7] = (3 * s - 2 * t) / 2;
  out[8] = -3 * t + 2;
  out[9] = 9 * t - 5;
  out[10] = -9 * t + 4;
  out[11] = 3 * t - 1;
};

/** The fitted surface with one draw of its error laid over it; the error is given at the nodes of `grid`. */
const drawnSurface = (grid: GroundGrid, error: Float64Array): Surface => {
  const { surface, columns, rows, originX, originY, step } = grid;
  const across = new Float64Array(12);
  const along = new Float64Array(12);
  return {
    ...surface,
    trust: null,
    at: (x, y, jet) => {
      surface.at(x, y, jet);
      const u = Math.min(columns - 1, Math.max(0, (x - originX) / step));
      const v = Math.min(rows - 1, Math.max(0, (y - originY) / step));
      const i = Math.min(columns - 2, Math.floor(u));
      const j = Math.min(rows - 2, Math.floor(v));
      weights(u - i, across);
      weights(v - j, along);
      for (let q = 0; q < 4; q++) {
        const row = Math.min(rows - 1, Math.max(0, j + q - 1)) * columns;
        let [sum, slope, bend] = [0, 0, 0];
        for (let p = 0; p < 4; p++) {
          const e = error[row + Math.min(columns - 1, Math.max(0, i + p - 1))];
          sum += across[p] * e;
          slope += across[4 + p] * e;
          bend += across[8 + p] * e;
        }
        jet[H] += along[q] * sum;
        jet[HX] += (along[q] * slope) / step;
        jet[HY] += (along[4 + q] * sum) / step;
        jet[HXX] += (along[q] * bend) / step ** 2;
        jet[HXY] += (along[4 + q] * slope) / step ** 2;
        jet[HYY] += (along[8 + q] * sum) / step ** 2;
      }
    },
  };
};

/**
 * The green drained on draws of the ground from the survey's posterior, one after the other, seeded by the outline:
 * two surveys of a green differ by what they say alone. None of an exact surface.
 */
export function* drawnGrounds(
  surface: Surface,
  options: DrainageOptions,
): Generator<Drainage, void, void> {
  const { trust } = surface;
  if (trust === null) return;
  const grid = sampleGround(surface, STEP);
  const points = Float64Array.from({ length: 2 * grid.height.length }, (_, k) =>
    k % 2 === 0 ? nodeX(grid, k >> 1) : nodeY(grid, k >> 1),
  );
  const draw = trust.heightDraws(points);
  const normal = seededNormals(seedOf(Float64Array.from(surface.outline.flat())));
  for (let k = 0; k < DRAWS; k++) {
    const drawn = sampleGround(drawnSurface(grid, draw(normal)), STEP);
    yield drainGround(drawn, graphOfGround(drawn), options);
  }
}
