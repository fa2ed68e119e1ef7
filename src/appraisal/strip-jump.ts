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
  /** Of each point: its stretch, what the fit leaves of it, and whether (and where) it is used. */
  readonly stretch: Int32Array;
  readonly left: Float64Array;
  readonly used: Int32Array;
  readonly kept: Int32Array;
  readonly sizes: Float64Array;
  /** `PARTS` numbers a stretch. */
  readonly sums: Float64Array;
}

/** @param longest the longest chord that will be asked for, metres. */
export const jumpRoom = (most: number, longest: number): JumpRoom => ({
  stretch: new Int32Array(most),
  left: new Float64Array(most),
  used: new Int32Array(most),
  kept: new Int32Array(most),
  sizes: new Float64Array(most),
  sums: new Float64Array(PARTS * (Math.ceil(longest / STRETCH) + 2)),
});

/** What is summed over the points of a stretch: their number, how many lie left, and products of u, v and z ... */
const [N, LEFT, U, V, Z, UU, UV, VV, UZ, VZ] = [0, 1, 2, 3, 4, 5, 6, 7, 8, 9];
/** ... with the jump, which is plus or minus a half; then the planes of height and jump, and their share. */
const [HU, HV, HZ, AZ, BZ, CZ, AH, BH, CH, WEIGHT, PULL] = [
  10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20,
];
const PARTS = 21;
/** Functions of a plane that are this short beside the others do not make one. */
const LEAST_PIVOT = 1e-12;

/**
 * The planes that fit height and jump of a stretch best, and what both leave in common: normal equations by
 * their Cholesky factors, about the stretch's middle. False where the points make no plane, or no jump.
 */
const planesOf = (sums: Float64Array, at: number): boolean => {
  const n = sums[at + N];
  const jumps = sums[at + LEFT] - n / 2;
  const [u, v] = [sums[at + U] / n, sums[at + V] / n];
  const uu = sums[at + UU] - u * sums[at + U];
  if (!(uu > LEAST_PIVOT)) return false;
  const uv = sums[at + UV] - u * sums[at + V];
  const vv = sums[at + VV] - v * sums[at + V] - (uv * uv) / uu;
  if (!(vv > LEAST_PIVOT)) return false;
  const uz = sums[at + UZ] - u * sums[at + Z];
  const vz = sums[at + VZ] - v * sums[at + Z];
  const uh = sums[at + HU] - u * jumps;
  const vh = sums[at + HV] - v * jumps;
  const cz = (vz - (uv * uz) / uu) / vv;
  const ch = (vh - (uv * uh) / uu) / vv;
  const bz = (uz - uv * cz) / uu;
  const bh = (uh - uv * ch) / uu;
  sums[at + AZ] = sums[at + Z] / n - bz * u - cz * v;
  sums[at + BZ] = bz;
  sums[at + CZ] = cz;
  sums[at + AH] = jumps / n - bh * u - ch * v;
  sums[at + BH] = bh;
  sums[at + CH] = ch;
  sums[at + WEIGHT] = n / 4 - (jumps * jumps) / n - bh * uh - ch * vh;
  sums[at + PULL] = sums[at + HZ] - (jumps * sums[at + Z]) / n - bz * uh - cz * vh;
  return sums[at + WEIGHT] > 1e-9;
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
  let most = 0;
  for (let i = 0; i < points; i++) {
    sizes[i] = Math.abs(left[i]);
    if (sizes[i] > most) most = sizes[i];
  }
  // Seldom is any so far off that more than half of the points lie so much nearer, and only then they are put in order.
  let near = 0;
  for (let i = 0; i < points; i++) if (OUTLYING * PER_MAD * sizes[i] < most) near += 1;
  if (near <= points >> 1) return once;
  const limit = OUTLYING * PER_MAD * sizes.subarray(0, points).sort()[points >> 1];
  let count = 0;
  for (let i = 0; i < points; i++) if (Math.abs(left[i]) <= limit) kept[count++] = used[i];
  return commonJump(band, count, [first, last], room);
};

/** Sums the band's first `count` points of `kept` by their stretch; heights are over the first of them. */
const sumStretches = (
  { u, v, z }: Band,
  count: number,
  { first, length, stretches }: Stretches,
  { kept, stretch, sums }: JumpRoom,
): void => {
  sums.fill(0, 0, PARTS * stretches);
  const level = z[kept[0]];
  for (let c = 0; c < count; c++) {
    const i = kept[c];
    const along = (u[i] - first) / length;
    const k = Math.min(stretches - 1, Math.floor(along));
    stretch[c] = k;
    if (k < 0) continue;
    const at = PARTS * k;
    const pu = u[i] - first - (k + 0.5) * length;
    const pv = v[i];
    const pz = z[i] - level;
    const h = pv > 0 ? 0.5 : -0.5;
    sums[at + N] += 1;
    if (h > 0) sums[at + LEFT] += 1;
    sums[at + U] += pu;
    sums[at + V] += pv;
    sums[at + Z] += pz;
    sums[at + UU] += pu * pu;
    sums[at + UV] += pu * pv;
    sums[at + VV] += pv * pv;
    sums[at + UZ] += pu * pz;
    sums[at + VZ] += pv * pz;
    sums[at + HU] += h * pu;
    sums[at + HV] += h * pv;
    sums[at + HZ] += h * pz;
  }
};

interface Stretches {
  readonly first: number;
  readonly length: number;
  readonly stretches: number;
}

/** The common jump of the band's first `count` points of `kept`; what it leaves of each goes to the room. */
const commonJump = (
  band: Band,
  count: number,
  [first, last]: readonly [number, number],
  room: JumpRoom,
): (Jump & { readonly points: number }) | null => {
  if (count === 0) return null;
  const { kept, used, stretch, left, sums } = room;
  const stretches = Math.max(1, Math.round((last - first) / STRETCH));
  const length = (last - first) / stretches;
  sumStretches(band, count, { first, length, stretches }, room);
  let [up, weight, freedom, fitted] = [0, 0, -1, 0];
  for (let k = 0; k < stretches; k++) {
    const at = PARTS * k;
    const [n, onLeft] = [sums[at + N], sums[at + LEFT]];
    if (onLeft < 2 || n - onLeft < 2 || n < 5 || !planesOf(sums, at)) {
      sums[at + WEIGHT] = 0;
      continue;
    }
    up += sums[at + PULL];
    weight += sums[at + WEIGHT];
    freedom += n - 3;
    fitted += 1;
  }
  if (fitted === 0 || freedom < 4) return null;
  const height = up / weight;
  let agreeing = 0;
  for (let at = 0; at < PARTS * stretches; at += PARTS) {
    if (sums[at + WEIGHT] > 0 && sums[at + PULL] > 0 === height > 0) agreeing += sums[at + WEIGHT];
  }
  const level = band.z[kept[0]];
  let [square, points] = [0, 0];
  for (let c = 0; c < count; c++) {
    const k = stretch[c];
    const at = PARTS * k;
    if (k < 0 || sums[at + WEIGHT] === 0) continue;
    const i = kept[c];
    const pu = band.u[i] - first - (k + 0.5) * length;
    const pv = band.v[i];
    const z = band.z[i] - level - sums[at + AZ] - sums[at + BZ] * pu - sums[at + CZ] * pv;
    const h = (pv > 0 ? 0.5 : -0.5) - sums[at + AH] - sums[at + BH] * pu - sums[at + CH] * pv;
    const off = z - height * h;
    used[points] = i;
    left[points++] = off;
    square += off * off;
  }
  return {
    height,
    sd: Math.sqrt(square / freedom / weight),
    share: fitted / stretches,
    agreeing: agreeing / weight,
    points,
  };
};
