import { InputFault } from '../../fault.js';
import type { Box } from '../../geometry.js';
import { SURVEY_LIMITS } from '../../input-limits.js';
import type { Survey } from '../survey.js';

/** Points of one window, growing as they come. */
export interface PointStore {
  readonly window: Box | null;
  x: Float64Array;
  y: Float64Array;
  z: Float64Array;
  count: number;
  /** What is known of each point besides; null until the first point that tells it. */
  sigma: Float64Array | null;
  time: Float64Array | null;
  session: Int32Array | null;
}

/** What a file may tell of a single point: metres, seconds, a number of its session. */
export interface PointDetail {
  readonly sigma?: number;
  readonly time?: number;
  readonly session?: number;
}

export const newStore = (window: Box | null, capacity = 1024): PointStore => ({
  window,
  x: new Float64Array(capacity),
  y: new Float64Array(capacity),
  z: new Float64Array(capacity),
  count: 0,
  sigma: null,
  time: null,
  session: null,
});

const grown = (array: Float64Array): Float64Array => {
  const wider = new Float64Array(array.length * 2);
  wider.set(array);
  return wider;
};

/** Notes what the file tells of point `at`; earlier points that told nothing hold NaN, or session 0. */
const note = (store: PointStore, at: number, detail: PointDetail): void => {
  const room = store.x.length;
  const wide = (array: Float64Array | null): Float64Array => {
    if (array !== null && array.length === room) return array;
    const next = new Float64Array(room).fill(Number.NaN);
    if (array !== null) next.set(array);
    return next;
  };
  if (detail.sigma !== undefined) {
    store.sigma = wide(store.sigma);
    store.sigma[at] = detail.sigma;
  }
  if (detail.time !== undefined) {
    store.time = wide(store.time);
    store.time[at] = detail.time;
  }
  if (detail.session !== undefined) {
    if (store.session === null || store.session.length !== room) {
      const next = new Int32Array(room);
      if (store.session !== null) next.set(store.session);
      store.session = next;
    }
    store.session[at] = detail.session;
  }
};

/** Keeps a point, which lies in the store's window. */
export const keepPoint = (
  store: PointStore,
  [x, y, z]: readonly [number, number, number],
  source: string,
  detail?: PointDetail,
): void => {
  if (store.count === store.x.length) {
    if (store.count >= SURVEY_LIMITS.points) {
      throw new InputFault(
        { file: source },
        `more than ${SURVEY_LIMITS.points / 1e6} million points`,
        store.window === null
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
  if (detail !== undefined) note(store, at, detail);
};

/** The store's arrays cut to its points. A time or an error that some points lack is told of none. */
export const settled = (
  store: PointStore,
): Pick<Survey, 'x' | 'y' | 'z' | 'sigma' | 'time' | 'session'> => {
  const { count, sigma, time, session } = store;
  const cut = (array: Float64Array): Float64Array => {
    const out = array.slice(0, count);
    // The array grows with the first point after a doubling that tells something.
    return out.length === count
      ? out
      : Float64Array.from({ length: count }, (_, i) => out[i] ?? Number.NaN);
  };
  const times = time === null ? null : cut(time);
  return {
    x: store.x.slice(0, count),
    y: store.y.slice(0, count),
    z: store.z.slice(0, count),
    ...(sigma === null ? {} : { sigma: cut(sigma) }),
    ...(times === null || times.some(Number.isNaN) ? {} : { time: times }),
    ...(session === null
      ? {}
      : { session: Int32Array.from({ length: count }, (_, i) => session[i] ?? 0) }),
  };
};
