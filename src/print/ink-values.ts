import type { Inks } from '../layout/layout.js';
import type { Paint } from '../page/marks/marks.js';

export type Cmyk = readonly [number, number, number, number];

export type Rgb = readonly [number, number, number];

/** A paint over white paper as CMYK, each 0 to 1. */
export const cmykOf = (paint: Paint, inks: Inks): Cmyk => {
  if (paint.ink === 'paper') return [0, 0, 0, 0];
  const [c, m, y, k] = inks[paint.ink].cmyk;
  return [c * paint.tone, m * paint.tone, y * paint.tone, k * paint.tone];
};

/** ISO 32000-1, 10.3.5: device CMYK to device RGB; a layout in grey stays grey on a screen. */
export const rgbOf = (paint: Paint, inks: Inks): Rgb => {
  if (inks.model === 'grey') {
    const grey = greyOf(paint, inks);
    return [grey, grey, grey];
  }
  const [c, m, y, k] = cmykOf(paint, inks);
  return [1 - Math.min(1, c + k), 1 - Math.min(1, m + k), 1 - Math.min(1, y + k)];
};

/** ISO 32000-1, 10.3.4: device CMYK to device grey; 0 is black. */
export const greyOf = (paint: Paint, inks: Inks): number => {
  const [c, m, y, k] = cmykOf(paint, inks);
  return 1 - Math.min(1, 0.3 * c + 0.59 * m + 0.11 * y + k);
};
