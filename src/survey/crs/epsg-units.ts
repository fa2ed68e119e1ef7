import type { LengthUnit } from './plane.js';

/** Length units by their EPSG codes: 9001 metre, 9002 international foot, 9003 US survey foot. */
export const lengthUnitOfCode = (code: number | null): LengthUnit | null =>
  code === 9001 ? 'm' : code === 9002 ? 'ft' : code === 9003 ? 'us-ft' : null;

/**
 * Units of vertical systems by their EPSG codes, those in common use; EPSG Geodetic Parameter Dataset
 * v10.076 (6360, 8228, 5702: heights in feet of the United States).
 */
const VERTICAL: Readonly<Record<number, LengthUnit>> = {
  6360: 'us-ft',
  5702: 'us-ft',
  8228: 'ft',
  5703: 'm',
  5701: 'm',
  3855: 'm',
  5773: 'm',
  5711: 'm',
  5621: 'm',
  5730: 'm',
  5783: 'm',
  7837: 'm',
  7839: 'm',
  5720: 'm',
  5709: 'm',
  5710: 'm',
};

export const verticalUnitOfCode = (code: number | null): LengthUnit | null =>
  code === null ? null : (VERTICAL[code] ?? null);
