import type { Columns } from './points-columns.js';
import type { Dialect } from './points-dialect.js';
import { unitsOfRow } from './points-units.js';
import { degreesOf, isNoDataValue, unpackedDegrees } from './text-number.js';

/** Position, height and what else a line tells, in the file's own numbers; or why it is no point. */
export type LineRead =
  | { readonly point: readonly [number, number, number] }
  | { readonly passed: string }
  | { readonly wrong: number };

const isBlank = (field: string | undefined): boolean =>
  field !== undefined && /^(?:|\*+|-+|\?+|\.+|#?n\/?a|nan|nul|null|nil|none|void)$/i.test(field);

/** What stands for the number of a point where a program adds a line of its own below. */
const TOTALS =
  /^(?:(?:grand )?totals?|sum|average|avg\.?|mean|median|min(?:imum)?\.?|max(?:imum)?\.?|count|range|st\.? ?dev\.?|summe|mittel(?:wert)?|moyenne|media|promedio|somme|suma)[:=]?$/i;

export const readLine = (
  fields: readonly string[],
  columns: Columns,
  dialect: Dialect,
): LineRead => {
  // Most begin with a digit, and no pattern is asked.
  if (fields[0].charCodeAt(0) > 0x39 && TOTALS.test(fields[0])) return { passed: 'of totals' };
  const { at, factor } = columns;
  const place = (k: number): number => {
    const field = fields[k];
    const number = dialect.number(field);
    if (!columns.angles) return number;
    if (columns.packed) return unpackedDegrees(number);
    return Number.isNaN(number) ? degreesOf(field ?? '') : number;
  };
  const x = place(at.x) * factor.x;
  const y = place(at.y) * factor.y;
  const z = dialect.number(fields[at.z]) * factor.z;
  if (Number.isFinite(x) && Number.isFinite(y) && Number.isFinite(z)) {
    return isNoDataValue(z) ? { passed: 'without a height' } : { point: [x, y, z] };
  }
  const sound = [x, y, z].filter(Number.isFinite).length;
  if (sound === 2 && isBlank(fields[at.z])) return { passed: 'without a height' };
  const header = columns.header;
  if (header !== null && fields.some((field, k) => field !== '' && field === header[k])) {
    return { passed: 'that repeat the names' };
  }
  if (unitsOfRow(fields) !== null) return { passed: 'of units' };
  if (sound === 0 || (sound === 1 && fields.length !== Math.max(header?.length ?? 0, 3))) {
    return { passed: 'that are no points' };
  }
  return {
    wrong: [at.x, at.y, at.z].find((_, k) => !Number.isFinite([x, y, z][k]))!,
  };
};

/** Seconds of a time of day, of a date with a time, or of a plain number; NaN when it is none of them. */
export const secondsOf = (field: string | undefined, dialect: Dialect): number => {
  const number = dialect.number(field);
  if (Number.isFinite(number) || field === undefined || field.length > 40) return number;
  const clock = /(\d{1,2}):(\d{2})(?::(\d{2}(?:\.\d{1,6})?))?/.exec(field);
  if (clock === null) return Number.NaN;
  const day = /(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})/.exec(field);
  const days =
    day === null ? 0 : Date.UTC(Number(day[1]), Number(day[2]) - 1, Number(day[3])) / 1000;
  return days + Number(clock[1]) * 3600 + Number(clock[2]) * 60 + Number(clock[3] ?? 0);
};
