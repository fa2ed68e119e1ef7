import type { Paint, Stroke } from '../../page/marks/marks.js';
import { DARK, PAPER } from '../../page/marks/marks.js';
import type { Rgb } from '../../print/ink-values.js';

/** Below this spread of its parts a colour is a grey, and so near to white or black it is that. */
const GREY = 0.08;
const END = 0.02;

/** Lightness of a colour (ISO 32000-1, 10.3.3). */
const lightness = ([r, g, b]: Rgb): number => 0.3 * r + 0.59 * g + 0.11 * b;

/**
 * A colour in the inks of a book: white is paper, greys are tones of the dark ink, and all else is the tint, as dark as the
 * colour was and no lighter than a fifth.
 */
export const paintOf = (colour: Rgb): Paint => {
  const dark = 1 - lightness(colour);
  if (dark < END) return PAPER;
  if (Math.max(...colour) - Math.min(...colour) > GREY) {
    return { ink: 'tint', tone: Number(Math.min(1, Math.max(0.2, 1.6 * dark)).toFixed(3)) };
  }
  return dark > 1 - END ? DARK : { ink: 'dark', tone: Number(Math.max(0.05, dark).toFixed(3)) };
};

/** How a line is broken, ended and turned; lengths of dashes in millimetres. */
export const lineStyle = (
  dash: readonly number[],
  { cap, join }: { readonly cap: boolean; readonly join: boolean },
): Partial<Stroke> => ({
  ...(dash.some((one) => one > 0) ? { dash } : {}),
  ...(cap ? { cap: 'round' as const } : {}),
  ...(join ? { join: 'round' as const } : {}),
});
