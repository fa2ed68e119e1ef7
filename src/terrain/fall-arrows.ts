import type { Point } from '../geometry.js';
import { signedDistanceToRing } from '../geometry.js';
import { HX, HY, JET_SIZE } from '../surface/surface.js';
import type { GroundGrid } from './ground-grid.js';
import type { FallArrow } from './reading.js';

/** Arrows on a staggered grid. */
export const fallArrows = (grid: GroundGrid, spacing: number): FallArrow[] => {
  const ring = grid.outline.ring;
  const jet = new Float64Array(JET_SIZE);
  const arrows: FallArrow[] = [];
  const rowStep = (spacing * Math.sqrt(3)) / 2;
  const box = grid.surface.box;
  for (let r = 0, y = box.minY; y <= box.maxY; y += rowStep, r++) {
    for (let x = box.minX + (r % 2 ? spacing / 2 : 0); x <= box.maxX; x += spacing) {
      if (signedDistanceToRing(ring, x, y) > -0.6) continue;
      grid.surface.at(x, y, jet);
      const grade = Math.hypot(jet[HX], jet[HY]);
      if (grade < 1e-4) continue;
      const toward: Point = [-jet[HX] / grade, -jet[HY] / grade];
      const half = Math.min(0.45 * spacing, 15 * grade);
      arrows.push({
        at: [x, y],
        toward,
        grade,
        path: [
          [x - half * toward[0], y - half * toward[1]],
          [x + half * toward[0], y + half * toward[1]],
        ],
      });
    }
  }
  return arrows;
};
