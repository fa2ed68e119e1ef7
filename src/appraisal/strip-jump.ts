/**
 * The height by which one side of a line lies above the other: points on both sides fitted, stretch by
 * stretch, with a plane each and one jump common to all.
 */

/** Length of one stretch, metres. */
export const STRETCH = 5;

/** Points by u along a line, v across it and height z, metres; the first `count` of each array. */
export interface Band {
  readonly u: Float64Array;
  readonly v: Float64Array;
  readonly z: Float64Array;
  count: number;
}

export interface Jump {
  readonly height: number;
  readonly sd: number;
  readonly share: number;
  readonly agreeing: number;
}

/** Room for the fits of bands of so many points: thousands of lines are tried, and none leaves garbage. */
export interface JumpRoom {
  /** The plane's three functions of one stretch, made orthonormal; its jump (plus or minus a half) and heights. */
  readonly basis: readonly [Float64Array, Float64Array, Float64Array];
  readonly h: Float64Array;
  readonly z: Float64Array;
  /** Stretch by stretch: the points used, what the planes leave of their jump and height, and what the fit leaves. */
  readonly used: Int32Array;
  readonly jumps: Float64Array;
  readonly heights: Float64Array;
  readonly left: Float64Array;
  readonly kept: Int32Array;
  readonly sizes: Float64Array;
}

export const jumpRoom = (most: number): JumpRoom => {
  const numbers = (): Float64Array => new Float64Array(most);
  return {
    basis: [numbers(), numbers(), numbers()],
    h: numbers(),
    z: numbers(),
    used: new Int32Array(most),
    jumps: numbers(),
    heights: numbers(),
    left: numbers(),
    kept: new Int32Array(most),
    sizes: numbers(),
  };
};

const dot = (a: Float64Array, b: Float64Array, n: number): number => {
  let sum = 0;
  for (let i = 0; i < n; i++) sum += a[i] * b[i];
  return sum;
};

const subtract = (from: Float64Array, unit: Float64Array, n: number): void => {
  const part = dot(from, unit, n);
  for (let i = 0; i < n; i++) from[i] -= part * unit[i];
};

/** Removes from h and z what a plane, whose functions are the basis, explains; modified Gram-Schmidt. */
const withoutPlane = ({ basis, h, z }: JumpRoom, n: number): boolean => {
  for (let k = 0; k < 3; k++) {
    const e = basis[k];
    for (let j = 0; j < k; j++) subtract(e, basis[j], n);
    const norm = Math.sqrt(dot(e, e, n));
    if (!(norm > 1e-6)) return false;
    for (let i = 0; i < n; i++) e[i] /= norm;
    subtract(h, e, n);
    subtract(z, e, n);
  }
  return true;
};

/** A point this many (robust) standard deviations off its stretch is left out of a second fit. */
const OUTLYING = 6;
const PER_MAD = 1.4826;

/** The jump across v = 0 over the chord from `first` to `last`, without points that fit neither side of it. */
export const jumpOf = (band: Band, first: number, last: number, room: JumpRoom): Jump | null => {
  const { kept, used, left, sizes } = room;
  for (let i = 0; i < band.count; i++) kept[i] = i;
  const once = commonJump(band, band.count, [first, last], room);
  if (once === null) return null;
  const { points } = once;
  for (let i = 0; i < points; i++) sizes[i] = Math.abs(left[i]);
  const sorted = sizes.subarray(0, points).sort();
  const limit = OUTLYING * PER_MAD * sorted[points >> 1];
  if (!(sorted[points - 1] > limit)) return once;
  let count = 0;
  for (let i = 0; i < points; i++) if (Math.abs(left[i]) <= limit) kept[count++] = used[i];
  return commonJump(band, count, [first, last], room);
};

/** The common jump of the band's first `count` points of `kept`; what it leaves of each goes to the room. */
const commonJump = (
  { u, v, z }: Band,
  count: number,
  [first, last]: readonly [number, number],
  room: JumpRoom,
): (Jump & { readonly points: number }) | null => {
  const { kept, used, jumps, heights, left } = room;
  const stretches = Math.max(1, Math.round((last - first) / STRETCH));
  const stretchOf = (i: number): number => {
    const k = Math.floor(((u[i] - first) / (last - first)) * stretches);
    return Math.min(stretches - 1, k);
  };
  let up = 0;
  let weight = 0;
  let freedom = -1;
  let fitted = 0;
  let points = 0;
  const own: { jump: number; weight: number }[] = [];
  for (let stretch = 0; stretch < stretches; stretch++) {
    let n = 0;
    let onLeft = 0;
    for (let c = 0; c < count; c++) {
      const i = kept[c];
      if (stretchOf(i) !== stretch) continue;
      used[points + n++] = i;
      if (v[i] > 0) onLeft += 1;
    }
    if (onLeft < 2 || n - onLeft < 2 || n < 5) continue;
    const origin = used[points];
    for (let k = 0; k < n; k++) {
      const i = used[points + k];
      room.h[k] = v[i] > 0 ? 0.5 : -0.5;
      room.z[k] = z[i] - z[origin];
      room.basis[0][k] = 1;
      room.basis[1][k] = u[i] - u[origin];
      room.basis[2][k] = v[i];
    }
    if (!withoutPlane(room, n)) continue;
    const hh = dot(room.h, room.h, n);
    if (!(hh > 1e-9)) continue;
    const hz = dot(room.h, room.z, n);
    for (let k = 0; k < n; k++) {
      jumps[points + k] = room.h[k];
      heights[points + k] = room.z[k];
    }
    up += hz;
    weight += hh;
    freedom += n - 3;
    fitted += 1;
    points += n;
    own.push({ jump: hz / hh, weight: hh });
  }
  if (fitted === 0 || freedom < 4) return null;
  const height = up / weight;
  let square = 0;
  for (let i = 0; i < points; i++) {
    left[i] = heights[i] - height * jumps[i];
    square += left[i] * left[i];
  }
  const agreeing =
    own.filter((o) => o.jump > 0 === height > 0).reduce((sum, o) => sum + o.weight, 0) / weight;
  return {
    height,
    sd: Math.sqrt(square / freedom / weight),
    share: fitted / stretches,
    agreeing,
    points,
  };
};
