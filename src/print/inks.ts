import type { Inks } from '../layout/layout.js';
import type { Paint } from '../page/marks/marks.js';
import { greyOf, plateTone, pressCmykOf, rgbOf } from './ink-values.js';

/** How inks are told to the device: the layout's three press models, or RGB for a screen. */
export type ColourModel = Inks['model'] | 'screen';

export const hexOf = (paint: Paint, inks: Inks): string =>
  `#${rgbOf(paint, inks)
    .map((part) =>
      Math.round(part * 255)
        .toString(16)
        .padStart(2, '0'),
    )
    .join('')}`;

const ZERO = '0'.charCodeAt(0);
const POINT = '.'.charCodeAt(0);

const decimals = (value: number): string => {
  const fixed = value.toFixed(4);
  if (!fixed.includes('.')) return fixed;
  let end = fixed.length;
  while (fixed.charCodeAt(end - 1) === ZERO) end--;
  const short = fixed.slice(0, fixed.charCodeAt(end - 1) === POINT ? end - 1 : end);
  return short === '-0' ? '0' : short;
};

/** Digits of a fraction of ten thousand parts, its noughts at the end left away. */
const FRACTIONS = Array.from({ length: 10_000 }, (_, parts) => decimals(parts / 10_000).slice(1));

/** Four decimals of a point are 35 nm. No exponents: PDF has none. */
export const number = (value: number): string => {
  const parts = Math.abs(value) * 10_000;
  const whole = Math.round(parts);
  // Near a half the product's own rounding could decide; the longer way rounds by the value itself.
  if (!(parts < 1e10) || Math.abs(parts - whole) > 0.4999) return decimals(value);
  const fraction = whole % 10_000;
  const digits = `${(whole - fraction) / 10_000}${FRACTIONS[fraction]}`;
  return value < 0 && whole !== 0 ? `-${digits}` : digits;
};

/**
 * The operator that sets a fill or stroke colour in a content stream. `isFine`: of a line or type that process
 * colours print in one ink. White is no ink: in spot books it is a plate's nought, so that no process plate is
 * named.
 */
export const colourOperator = (
  paint: Paint,
  inks: Inks,
  model: ColourModel,
  use: 'fill' | 'stroke',
  isFine = false,
): string => {
  const fill = use === 'fill';
  switch (model) {
    case 'screen':
      return `${rgbOf(paint, inks).map(number).join(' ')} ${fill ? 'rg' : 'RG'}`;
    case 'grey':
      return `${number(greyOf(paint, inks))} ${fill ? 'g' : 'G'}`;
    case 'spot': {
      const space = paint.ink === 'dark' ? '/InkDark' : '/InkTint';
      const tone = paint.ink === 'paper' ? 0 : plateTone(paint.tone);
      return `${space} ${fill ? 'cs' : 'CS'} ${number(tone)} ${fill ? 'scn' : 'SCN'}`;
    }
    case 'cmyk':
      return `${pressCmykOf(paint, inks, isFine).map(number).join(' ')} ${fill ? 'k' : 'K'}`;
  }
};

/**
 * Solid dark overprints, so that a plate out of register leaves no white hair round small type; every
 * other paint knocks out what lies below.
 */
export const overprints = (paint: Paint, model: ColourModel): boolean =>
  (model === 'spot' || model === 'cmyk') && paint.ink === 'dark' && paint.tone === 1;
