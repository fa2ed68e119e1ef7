import { metresToInches } from '../../units.js';
import { decimal, phrase, type Telling, type Worded } from '../words/words.js';

/** A figure of `putt/rounding` with its unit as the page's language writes it: "11 in", "3½ ft", "1.2 m", "340 m²". */
export const withUnit = (figure: string, tell: Worded): string =>
  decimal(figure, tell).replace(
    / (m|cm|mm|ft|in|m²|sq ft)$/,
    (_, unit: 'm' | 'cm' | 'mm' | 'ft' | 'in' | 'm²' | 'sq ft') =>
      ` ${phrase(tell, `unit.${unit}`)}`,
  );

/** How far in height contours are from each other: whole centimetres, or inches. */
export const intervalWords = (metres: number, tell: Telling): string =>
  tell.units === 'metric'
    ? withUnit(`${Math.round(metres * 100)} cm`, tell)
    : withUnit(`${Number(metresToInches(metres).toFixed(1))} in`, tell);
