import { decimal, phrase, type Worded } from '../words/words.js';

/** A figure of `putt/rounding` with its unit as the page's language writes it: "11 in", "3½ ft", "1.2 m". */
export const withUnit = (figure: string, tell: Worded): string =>
  decimal(figure, tell).replace(
    / (m|cm|mm|ft|in)$/,
    (_, unit: 'm' | 'cm' | 'mm' | 'ft' | 'in') => ` ${phrase(tell, `unit.${unit}`)}`,
  );
