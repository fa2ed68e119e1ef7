import { InputFault } from '../../fault.js';
import type { Box } from '../../geometry.js';

/** More points than this on one green are not kept: 24 bytes each, and no green needs as many. */
export const POINT_LIMIT = 8_000_000;

/** Points of one window, growing as they come. */
export interface PointStore {
  readonly window: Box | null;
  x: Float64Array;
  y: Float64Array;
  z: Float64Array;
  count: number;
}

export const newStore = (window: Box | null, capacity = 1024): PointStore => ({
  window,
  x: new Float64Array(capacity),
  y: new Float64Array(capacity),
  z: new Float64Array(capacity),
  count: 0,
});

const grown = (array: Float64Array): Float64Array => {
  const wider = new Float64Array(array.length * 2);
  wider.set(array);
  return wider;
};

/** Keeps the point when it lies in the store's window. */
export const keep = (store: PointStore, x: number, y: number, z: number, source: string): void => {
  const w = store.window;
  if (w !== null && !(x >= w.minX && x <= w.maxX && y >= w.minY && y <= w.maxY)) return;
  if (store.count === store.x.length) {
    if (store.count >= POINT_LIMIT) {
      throw new InputFault(
        { file: source },
        `more than ${POINT_LIMIT / 1e6} million points`,
        w === null
          ? 'give the outline of a green, so that only the ground round it is kept'
          : 'give a smaller outline or a thinner survey',
      );
    }
    store.x = grown(store.x);
    store.y = grown(store.y);
    store.z = grown(store.z);
  }
  const at = store.count;
  store.x[at] = x;
  store.y[at] = y;
  store.z[at] = z;
  store.count = at + 1;
};

/** The store's arrays cut to its points. */
export const settled = (
  store: PointStore,
): { x: Float64Array; y: Float64Array; z: Float64Array } => ({
  x: store.x.slice(0, store.count),
  y: store.y.slice(0, store.count),
  z: store.z.slice(0, store.count),
});
