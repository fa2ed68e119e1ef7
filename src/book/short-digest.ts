import { createHash } from 'node:crypto';

/** Digits of a digest: thirty-two bits, so that one change in four thousand million goes unseen. */
const DIGITS = 8;

/** A digest of what JSON tells of a value, as records of books hold it. */
export const shortDigest = (value: unknown): string =>
  createHash('sha256').update(JSON.stringify(value)).digest('hex').slice(0, DIGITS);

/** To the nearest of so many parts of a unit. */
export const rounded = (value: number, parts: number): number =>
  Math.round(value * parts) / parts + 0;
