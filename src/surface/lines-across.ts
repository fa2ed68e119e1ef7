import { boxOf, insideRing, type Point } from '../geometry.js';
import { HX, HY, JET_SIZE, type Surface } from './surface.js';

/** A line across the fall that ends at a place where it is judged. */
export interface LineAcross {
  /** Its mean slope down the fall at that place: x, y, wx, wy after one another (see `Trust.functionalVariance`). */
  readonly slope: Float64Array;
  readonly places: readonly Point[];
}

/** Places of a green that are judged stand this far apart, and a line has so many parts; metres. */
const APART = 3;
const PARTS = 8;
/** Ground more level than this falls toward the front, as for `fallAt`. */
const LEVEL = 1e-9;

/** Lines of this length across the fall, to both sides of places all over the green, that lie on it whole. */
export const linesAcross = (
  { outline, at }: Pick<Surface, 'outline' | 'at'>,
  length: number,
): LineAcross[] => {
  const box = boxOf(outline);
  const jet = new Float64Array(JET_SIZE);
  const found: LineAcross[] = [];
  for (let y = box.minY + APART / 2; y < box.maxY; y += APART) {
    for (let x = box.minX + APART / 2; x < box.maxX; x += APART) {
      if (!insideRing(outline, x, y)) continue;
      at(x, y, jet);
      const grade = Math.hypot(jet[HX], jet[HY]);
      const [tx, ty] = grade > LEVEL ? [-jet[HX] / grade, -jet[HY] / grade] : [0, -1];
      for (const side of [1, -1]) {
        const slope = new Float64Array(4 * PARTS);
        const places = Array.from({ length: PARTS }, (_, k): Point => {
          const d = (side * length * (k + 0.5)) / PARTS;
          const place: Point = [x - d * -ty, y + d * -tx];
          slope.set([...place, -tx / PARTS, -ty / PARTS], 4 * k);
          return place;
        });
        if (places.every(([px, py]) => insideRing(outline, px, py))) found.push({ slope, places });
      }
    }
  }
  return found;
};
