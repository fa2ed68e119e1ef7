import type { Today } from '../../src/event/today.js';

/** A day of which nothing is known but its hole locations. */
export const NO_TODAY: Today = {
  distances: new Map(),
  bearings: new Map(),
  date: null,
  wind: null,
};

/** Passes over what a reader has to tell. */
export const UNTOLD = (): void => {};
