import type { Inks } from '../layout/layout.js';
import type { Paint } from '../page/marks/marks.js';

export type Cmyk = readonly [number, number, number, number];

export type Rgb = readonly [number, number, number];

/** A paint over white paper as CMYK, each 0 to 1. */
const cmykOf = (paint: Paint, inks: Inks): Cmyk => {
  if (paint.ink === 'paper') return [0, 0, 0, 0];
  const [c, m, y, k] = inks[paint.ink].cmyk;
  return [c * paint.tone, m * paint.tone, y * paint.tone, k * paint.tone];
};

/** A screen is no finer than this: its dots would not hold on the plate, share of the solid ink. Common practice, no source. */
export const LEAST_SCREEN = 0.05;

/** Lines and type finer than these are printed in one ink, so that plates out of register do not blur them; points. Common practice, no source. */
export const ONE_INK = { line: 1, type: 12 } as const;

/** A tone that a plate holds: none, or the least screen and more. */
const heldTone = (tone: number): number =>
  tone >= LEAST_SCREEN - 1e-9 ? tone : tone < LEAST_SCREEN / 2 ? 0 : LEAST_SCREEN;

/** The tone of a plate of its own; what is to be seen is not left away. */
export const plateTone = (tone: number): number => (tone > 0 ? Math.max(tone, LEAST_SCREEN) : tone);

/** How dark each process ink is on its own (ISO 32000-1, 10.3.4). */
const DARKNESS: Cmyk = [0.3, 0.59, 0.11, 1];

/** A build of inks in the strongest of them alone, about as dark as all of them, as far as one ink goes. */
const inOneInk = (build: Cmyk): Cmyk => {
  if (build.filter((part) => part > 0).length < 2) return build;
  const strongest = build.indexOf(Math.max(...build));
  const dark = build.reduce((sum, part, i) => sum + part * DARKNESS[i], 0);
  const tone = Math.min(1, dark / DARKNESS[strongest]);
  return [0, 1, 2, 3].map((i) => (i === strongest ? tone : 0)) as unknown as Cmyk;
};

/** A paint as process inks print it: no screen too light for a plate, what is fine in one ink. */
export const pressCmykOf = (paint: Paint, inks: Inks, isFine: boolean): Cmyk => {
  const build = cmykOf(paint, inks);
  const own = isFine ? inOneInk(build) : build;
  return own.map((part) => (part > 0 ? heldTone(part) : 0)) as unknown as Cmyk;
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
