import { type NamedUnit, unitOfWord } from './column-vocabulary.js';
import type { Line } from './text-lines.js';

/** Units and coordinate systems that lines of a points file tell beside the names of its columns. */

/** Units of a row such as "m, m, m" or "(ft) (ft) (ft)"; null when the line is no such row. */
export const unitsOfRow = (fields: readonly string[]): (NamedUnit | null)[] | null => {
  const bare = fields.map((field) => field.replace(/^[([]|[)\]]$/g, '').trim());
  const units = bare.map(unitOfWord);
  const others = bare.filter(
    (field, k) => units[k] === null && !/^(?:|-|text|id|none|n\/a|deg|degrees|°|dms)$/i.test(field),
  );
  const known = units.filter((unit) => unit !== null).length;
  // A word may stand over the number or the code: "name, ft, ft, ft".
  const isRow =
    others.length === 0 ? known > 0 : known >= 3 && !others.some((one) => /\d/.test(one));
  return isRow ? units : null;
};

/** "All distances in international feet.", "Coordinates are metres". */
const SENTENCE =
  /\b(?:coordinates?|distances|lengths|elevations|units)\s+(?:are\s+)?(?:given\s+)?(?:in\s+)?((?:u\.?s\.?\s+)?(?:survey\s+|international\s+)?(?:feet|foot|met(?:re|er)s?))\b/i;

/** Words that mean a unit wherever they stand: "State plane, US Survey Feet". */
const ALONE = /\b((?:u\.?s\.?\s+survey|international)\s+(?:feet|foot))\b/i;

const inWords = (text: string): NamedUnit | null => {
  const match = SENTENCE.exec(text) ?? ALONE.exec(text);
  return match === null ? null : unitOfWord(match[1]);
};

/** "Units: US survey feet", "Distances = metres" among the lines before the points. */
export const unitOfPreamble = (lines: readonly Line[]): NamedUnit | null => {
  for (const { text } of lines) {
    if (text.length > 200) continue;
    const match =
      /\b(?:(?:linear|distance|length|horizontal|coordinate)[ _]?)?(?:units?|distances?|einheit(?:en)?|unités?|unidad(?:es)?|unità|enhet(?:er)?)(?!\p{L})[^:=,;\p{L}]{0,20}[:=,;]\s*"?(?:are\s+|in\s+)?([\p{L}' .-]{1,30})/iu.exec(
        text,
      );
    if (match === null) {
      const said = inWords(text);
      if (said !== null) return said;
      continue;
    }
    const unit = unitOfWord(match[1].trim()) ?? unitOfWord(match[1].trim().split(/\s{2,}|[,;]/)[0]);
    if (unit !== null) return unit;
  }
  return null;
};

export const crsOfPreamble = (lines: readonly Line[]): string | null => {
  for (const { text } of lines) {
    const match = /\bEPSG\s?:{1,2}\s?(\d{4,6})\b/i.exec(text.slice(0, 500));
    if (match !== null) return `EPSG:${match[1]}`;
  }
  return null;
};

/** The unit that stands at a number: 101.2 m. */
export const unitOfField = (field: string | undefined): NamedUnit | null => {
  const match = /\d\s*([a-z'\u2032-]{1,5})$/i.exec((field ?? '').slice(-12));
  return match === null ? null : unitOfWord(match[1]);
};
