import { InputFault, quoted } from '../fault.js';

/** A wind as a forecast tells it. */
export interface Wind {
  /** "12 mph", "5 m/s". */
  readonly speed: string;
  /** Where it comes from, degrees clockwise from north. */
  readonly from: number;
}

const POINTS = ['n', 'ne', 'e', 'se', 's', 'sw', 'w', 'nw'];

/** "12mph,240" or "5 m/s, SW". */
export const windArgument = (option: string, text: string): Wind => {
  const found =
    /^\s*(\d{1,3}(?:\.\d)?)\s?(mph|m\/s|km\/h|kn|kt|knots)?\s*,\s*(\d{1,3}|[nesw]{1,2})\s*$/i.exec(
      text,
    );
  const point = POINTS.indexOf(found?.[3].toLowerCase() ?? '');
  const from = point >= 0 ? 45 * point : Number(found?.[3] ?? Number.NaN);
  if (found !== null && from >= 0 && from <= 360) {
    const [, figure, unit = ''] = found;
    return { speed: `${figure} ${unit}`.trim(), from };
  }
  throw new InputFault(
    { file: 'command line', place: option },
    `${quoted(text)} is no wind`,
    'write its speed and where it comes from: 12mph,240 or 5m/s,SW',
  );
};
