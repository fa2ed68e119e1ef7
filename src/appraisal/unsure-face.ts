import { boxOf, insideRing, type Point } from '../geometry.js';
import { HX, HY, JET_SIZE, type Surface } from '../surface/surface.js';
import { BARE_STEP } from './spacing.js';

/**
 * The face of a tier that its points do not tell: far steeper than the green round it, and known far worse. No
 * putt that crosses it has a figure, so that it need not take the figures of the whole green. The limits are
 * this program's own.
 */

/** A face is steeper than this, as a fraction. */
const STEEP = 0.04;
/** Its grade has this standard deviation or more, as a fraction: half a hole of aim in one step across it ... */
const UNSURE = 0.01;
/** ... and so many times that of half the green. */
const OVER_USUAL = 2.5;

/** Middles of the squares of `BARE_STEP` that make it up, in the raster of bare ground. */
export const unsureFace = ({ outline, at, trust }: Surface): Point[] => {
  if (trust === null) return [];
  const box = boxOf(outline);
  const jet = new Float64Array(JET_SIZE);
  const covariance = new Float64Array(3);
  const sdAt = ([x, y]: Point): number => {
    trust.gradientCovariance(x, y, covariance);
    return Math.sqrt((covariance[0] + covariance[2]) / 2);
  };
  const squares: { readonly place: Point; readonly grade: number }[] = [];
  for (let y = box.minY + BARE_STEP / 2; y < box.maxY; y += BARE_STEP) {
    for (let x = box.minX + BARE_STEP / 2; x < box.maxX; x += BARE_STEP) {
      if (!insideRing(outline, x, y)) continue;
      at(x, y, jet);
      squares.push({ place: [x, y], grade: Math.hypot(jet[HX], jet[HY]) });
    }
  }
  const unsure = squares.flatMap(({ place, grade }) => {
    const sd = grade > STEEP ? sdAt(place) : 0;
    return sd > UNSURE ? { place, sd } : [];
  });
  // Most greens have no such ground: the doubt of all of it is not asked for.
  if (unsure.length === 0) return [];
  const usual = Float64Array.from(squares, ({ place }) => sdAt(place)).sort()[squares.length >> 1];
  return unsure.filter(({ sd }) => sd > OVER_USUAL * usual).map(({ place }) => place);
};
