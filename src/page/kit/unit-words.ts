import { decimal, phrase, type Worded } from '../words/words.js';

/** A figure of `putt/rounding` with its unit as the page's language writes it: "11 in", "3½ ft", "1.2 m", "340 m²". */
export const withUnit = (figure: string, tell: Worded): string =>
  decimal(figure, tell).replace(
    / (m|cm|mm|ft|in|m²|sq ft)$/,
    (_, unit: 'm' | 'cm' | 'mm' | 'ft' | 'in' | 'm²' | 'sq ft') =>
      ` ${phrase(tell, `unit.${unit}`)}`,
  );
