import type { LengthUnit } from './plane.js';

/** Length units by their EPSG codes: 9001 metre, 9002 international foot, 9003 US survey foot. */
export const lengthUnitOfCode = (code: number | null): LengthUnit | null =>
  code === 9001 ? 'm' : code === 9002 ? 'ft' : code === 9003 ? 'us-ft' : null;
