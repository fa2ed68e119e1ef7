import { describe, expect, it } from 'vitest';
import { bandStyle } from '../../src/page/green/slope-bands.js';
import { DARK } from '../../src/page/marks/marks.js';
import { greyOf, pressCmykOf, rgbOf } from '../../src/print/ink-values.js';
import { colourOperator, number } from '../../src/print/inks.js';
import { ownLayout, ownLayoutNames } from './sample-pages.js';

/** Relative luminance and contrast as WCAG 2.1 defines them (W3C Recommendation, 1.4.3). */
const luminance = ([r, g, b]: readonly [number, number, number]): number => {
  const linear = (v: number): number => (v <= 0.03928 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4);
  return 0.2126 * linear(r) + 0.7152 * linear(g) + 0.0722 * linear(b);
};
const contrast = (a: number, b: number): number =>
  (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
/** CIE 1976 lightness of a luminance (CIE 15:2004). */
const lightness = (y: number): number => 116 * Math.cbrt(y) - 16;

describe('inks', () => {
  it.each(ownLayoutNames())(
    '%s: slope bands grow darker step by step, in colour and in grey',
    (name) => {
      const { inks, green } = ownLayout(name);
      const count = green.bandThresholds.length + 1;
      const styles = Array.from({ length: count }, (_, i) => bandStyle(i, count));
      const tones = styles.map(({ tone }) => ({ ink: 'tint' as const, tone }));
      const colour = tones.map((tone) => lightness(luminance(rgbOf(tone, inks))));
      const grey = tones.map((tone) => greyOf(tone, inks));
      for (let i = 1; i < count; i++) {
        // Two neighbours differ by their lightness, or one of them carries strokes.
        const strokes = styles[i].pitch !== null && styles[i].pitch !== styles[i - 1].pitch;
        expect(colour[i - 1] - colour[i] > 4 || strokes).toBe(true);
        expect(grey[i - 1] - grey[i] > 0.03 || strokes).toBe(true);
        expect(grey[i]).toBeLessThanOrEqual(grey[i - 1]);
      }
    },
  );

  it.each(ownLayoutNames())('%s: dark figures read on the darkest band (4.5 to 1)', (name) => {
    const { inks, green } = ownLayout(name);
    const count = green.bandThresholds.length + 1;
    const heaviest = { ink: 'tint' as const, tone: bandStyle(count - 1, count).tone };
    const ratio = contrast(luminance(rgbOf(DARK, inks)), luminance(rgbOf(heaviest, inks)));
    expect(ratio).toBeGreaterThan(4.5);
  });

  it('say the same ink to a press by plate or process, to a screen, and in grey', () => {
    const { inks } = ownLayout('pocket');
    const half = { ink: 'tint', tone: 0.5 } as const;
    expect(pressCmykOf(half, inks, false)).toEqual([0.275, 0.125, 0.06, 0.125]);
    expect(colourOperator(half, inks, 'spot', 'fill')).toBe('/InkTint cs 0.5 scn');
    expect(colourOperator(half, inks, 'cmyk', 'stroke')).toBe('0.275 0.125 0.06 0.125 K');
    expect(colourOperator(half, inks, 'screen', 'fill')).toBe('0.6 0.75 0.815 rg');
    // ISO 32000-1, 10.3.4: 1 - (0.3 C + 0.59 M + 0.11 Y + K).
    expect(greyOf(half, inks)).toBeCloseTo(
      1 - (0.3 * 0.275 + 0.59 * 0.125 + 0.11 * 0.06 + 0.125),
      9,
    );
    expect(colourOperator(DARK, inks, 'grey', 'fill')).toBe('0 g');
    // Bare paper knocks out every plate.
    expect(colourOperator({ ink: 'paper', tone: 1 }, inks, 'spot', 'fill')).toBe(
      '/InkTint cs 0 scn',
    );
  });

  it('prints fine lines and small type of a build in one ink, and no screen that a plate does not hold', () => {
    const { inks } = ownLayout('pocket');
    const tint = { ink: 'tint', tone: 1 } as const;
    // As dark as the build (0.3 C + 0.59 M + 0.11 Y + K), as far as solid cyan goes.
    expect(colourOperator(tint, inks, 'cmyk', 'stroke', true)).toBe('1 0 0 0 K');
    expect(colourOperator({ ...tint, tone: 0.4 }, inks, 'cmyk', 'fill', true)).toMatch(
      /^0\.7\d* 0 0 0 k$/,
    );
    expect(colourOperator(DARK, inks, 'cmyk', 'stroke', true)).toBe('0 0 0 1 K');
    // A tenth of 55, 25, 12 and 25 %: the yellow goes, magenta and black come up to what holds.
    const light = { ink: 'tint', tone: 0.1 } as const;
    expect(colourOperator(light, inks, 'cmyk', 'fill')).toBe('0.055 0.05 0 0.05 k');
    expect(colourOperator({ ...light, tone: 0.02 }, inks, 'spot', 'fill')).toBe(
      '/InkTint cs 0.05 scn',
    );
  });
});

describe('number', () => {
  it('rounds to four decimals as the language does (ECMA-262, Number.prototype.toFixed)', () => {
    const wrong: number[] = [];
    const look = (value: number): void => {
      if (
        Number(number(value)) !== Number(value.toFixed(4)) ||
        /e|-0$|\.$|\.\d*0$/.test(number(value))
      ) {
        wrong.push(value);
      }
    };
    for (let i = -2000; i <= 2000; i++) {
      const value = (i * 0.7318) ** 3 / 1000;
      // As it comes, at four decimals, and between two of them.
      for (const part of [0, 0.5]) look((Math.round(value * 1e4) + part) / 1e4);
      look(value);
    }
    for (const value of [0, -0, 1e-9, -1e-9, 0.00005, -0.00005, 999_999.999_95, 1e12]) look(value);
    expect(wrong).toEqual([]);
    expect(number(-0.25)).toBe('-0.25');
    expect(number(12)).toBe('12');
  });
});
