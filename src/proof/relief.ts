import { boxOf, insideRing } from '../geometry.js';
import { encodePicture } from '../print/raster.js';
import { HX, HY, JET_SIZE, type Surface } from '../surface/surface.js';

/** Metres of ground to a pixel. */
export const RELIEF_STEP = 0.12;
/** Grades are shown so many times steeper, so that a green shades at all. */
const STEEPER = 9;
/** Towards the light: from the top left, halfway up. Common practice in cartography, no source. */
const LIGHT = [-0.5, 0.5, Math.SQRT1_2] as const;
/** Greys of the ground turned from the light and of that turned to it: light enough for lines to stand on. */
const DARKEST = 150;
const LIGHTEST = 255;

/** Whether a green's ground rises or falls at a place, as the shade of a surface in the light; PNG, clear off the green. */
export const reliefPicture = (surface: Surface): Uint8Array => {
  const { outline } = surface;
  const box = boxOf(outline);
  const width = Math.ceil((box.maxX - box.minX) / RELIEF_STEP);
  const height = Math.ceil((box.maxY - box.minY) / RELIEF_STEP);
  const data = new Uint8Array(4 * width * height);
  const jet = new Float64Array(JET_SIZE);
  for (let row = 0; row < height; row++) {
    const y = box.maxY - (row + 0.5) * RELIEF_STEP;
    for (let column = 0; column < width; column++) {
      const x = box.minX + (column + 0.5) * RELIEF_STEP;
      if (!insideRing(outline, x, y)) continue;
      surface.at(x, y, jet);
      const [p, q] = [STEEPER * jet[HX], STEEPER * jet[HY]];
      const lit = (LIGHT[2] - p * LIGHT[0] - q * LIGHT[1]) / Math.hypot(p, q, 1);
      const grey = DARKEST + (LIGHTEST - DARKEST) * Math.min(1, Math.max(0, lit));
      data.set([grey, grey, grey, 255], 4 * (row * width + column));
    }
  }
  return encodePicture({ width, height, data });
};
