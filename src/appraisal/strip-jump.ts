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
  /** Of each point: the side of its stretch, how far it lies from the stretch's middle, what the fit leaves of it. */
  readonly side: Int32Array;
  readonly along: Float64Array;
  readonly left: Float64Array;
  /** Points that are used, and sizes to be put in order. */
  readonly used: Int32Array;
  readonly kept: Int32Array;
  readonly sizes: Float64Array;
  /** `SUMS` numbers a side of a stretch, the lower one (v <= 0) first. */
  readonly sums: Float64Array;
  /** `PARTS` numbers a stretch. */
  readonly parts: Float64Array;
}

/** @param longest the longest chord that will be asked for, metres. */
export const jumpRoom = (most: number, longest: number): JumpRoom => {
  const stretches = Math.ceil(longest / STRETCH) + 2;
  return {
    side: new Int32Array(most),
    along: new Float64Array(most),
    left: new Float64Array(most),
    used: new Int32Array(most),
    kept: new Int32Array(most),
    sizes: new Float64Array(most),
    sums: new Float64Array(2 * SUMS * stretches),
    parts: new Float64Array(PARTS * stretches),
  };
};

/** What is summed over the points of a side of a stretch: their number, and products of u, v and z. */
const [N, U, V, Z, UU, UV, VV, UZ, VZ] = [0, 1, 2, 3, 4, 5, 6, 7, 8];
const SUMS = 9;
/** Of a stretch: the planes of height and of the jump, which is plus or minus a half, and their share. */
const [AZ, BZ, CZ, AH, BH, CH, WEIGHT, PULL] = [0, 1, 2, 3, 4, 5, 6, 7];
/** Then the planes that are left of the heights on the lower side and on the upper one. */
const LEFT = 8;
const PARTS = 14;
/** Functions of a plane that are this short beside the others do not make one. */
const LEAST_PIVOT = 1e-12;

/** A sum over both sides of a stretch, and of what jumps by a half to either side. */
const both = (sums: Float64Array, below: number, k: number): number =>
  sums[below + k] + sums[below + SUMS + k];
const jumping = (sums: Float64Array, below: number, k: number): number =>
  (sums[below + SUMS + k] - sums[below + k]) / 2;

/**
 * The planes that fit height and jump of a stretch best, and what both leave in common: normal equations by
 * their Cholesky factors, about the stretch's middle. False where the points make no plane, or no jump.
 */
const planesOf = (sums: Float64Array, below: number, parts: Float64Array, at: number): boolean => {
  const n = both(sums, below, N);
  const sumU = both(sums, below, U);
  const sumV = both(sums, below, V);
  const sumZ = both(sums, below, Z);
  const jumps = jumping(sums, below, N);
  const u = sumU / n;
  const v = sumV / n;
  const uu = both(sums, below, UU) - u * sumU;
  if (!(uu > LEAST_PIVOT)) return false;
  const uv = both(sums, below, UV) - u * sumV;
  const vv = both(sums, below, VV) - v * sumV - (uv * uv) / uu;
  if (!(vv > LEAST_PIVOT)) return false;
  const uz = both(sums, below, UZ) - u * sumZ;
  const vz = both(sums, below, VZ) - v * sumZ;
  const uh = jumping(sums, below, U) - u * jumps;
  const vh = jumping(sums, below, V) - v * jumps;
  const cz = (vz - (uv * uz) / uu) / vv;
  const ch = (vh - (uv * uh) / uu) / vv;
  const bz = (uz - uv * cz) / uu;
  const bh = (uh - uv * ch) / uu;
  parts[at + AZ] = sumZ / n - bz * u - cz * v;
  parts[at + BZ] = bz;
  parts[at + CZ] = cz;
  parts[at + AH] = jumps / n - bh * u - ch * v;
  parts[at + BH] = bh;
  parts[at + CH] = ch;
  parts[at + WEIGHT] = n / 4 - (jumps * jumps) / n - bh * uh - ch * vh;
  parts[at + PULL] = jumping(sums, below, Z) - (jumps * sumZ) / n - bz * uh - cz * vh;
  return parts[at + WEIGHT] > 1e-9;
};

/** Sets the planes that a jump of this height leaves of the heights of a stretch, on the lower side and on the upper. */
const planesLeft = (parts: Float64Array, at: number, height: number): void => {
  for (let side = 0; side < 2; side++) {
    const to = at + LEFT + 3 * side;
    parts[to] = parts[at + AZ] - height * parts[at + AH] + (side - 0.5) * height;
    parts[to + 1] = parts[at + BZ] - height * parts[at + BH];
    parts[to + 2] = parts[at + CZ] - height * parts[at + CH];
  }
};

/** A point this many (robust) standard deviations off its stretch is left out of a second fit. */
const OUTLYING = 6;
const PER_MAD = 1.4826;

/** What would stand at `rank` were the first `count` values in order, by parting them (Hoare, Commun. ACM 4 (1961) 321). */
const smallest = (values: Float64Array, count: number, rank: number): number => {
  let [low, high] = [0, count - 1];
  while (low < high) {
    const by = values[(low + high) >> 1];
    let [i, j] = [low, high];
    while (i <= j) {
      while (values[i] < by) i++;
      while (values[j] > by) j--;
      if (i > j) break;
      const held = values[i];
      values[i++] = values[j];
      values[j--] = held;
    }
    if (rank <= j) high = j;
    else if (rank >= i) low = i;
    else break;
  }
  return values[rank];
};

/** The jump across v = 0 over the chord from `first` to `last`, without points that fit neither side of it. */
export const jumpOf = (band: Band, first: number, last: number, room: JumpRoom): Jump | null => {
  const { kept, used, left, sizes } = room;
  for (let i = 0; i < band.count; i++) kept[i] = i;
  const once = commonJump(band, band.count, [first, last], room);
  if (once === null) return null;
  const { points, most } = once;
  // Seldom is any so far off that more than half of the points lie so much nearer, and only then they are put in order.
  const near = most / (OUTLYING * PER_MAD);
  const enough = points - (points >> 1);
  let far = 0;
  for (let i = 0; i < points; i++) {
    if (left[i] < near && left[i] > -near) continue;
    far += 1;
    if (far >= enough) return once;
  }
  for (let i = 0; i < points; i++) sizes[i] = Math.abs(left[i]);
  const limit = OUTLYING * PER_MAD * smallest(sizes, points, points >> 1);
  let count = 0;
  for (let i = 0; i < points; i++) if (Math.abs(left[i]) <= limit) kept[count++] = used[i];
  return commonJump(band, count, [first, last], room);
};

/** Sums the band's first `count` points of `kept` by the sides of their stretches; heights are over the first of them. */
const sumStretches = (
  { u, v, z }: Band,
  count: number,
  { first, length, stretches }: Stretches,
  { kept, side, along, sums }: JumpRoom,
): void => {
  sums.fill(0, 0, 2 * SUMS * stretches);
  const level = z[kept[0]];
  for (let c = 0; c < count; c++) {
    const i = kept[c];
    const far = u[i] - first;
    if (far < 0) {
      side[c] = -1;
      continue;
    }
    const k = Math.min(stretches - 1, (far / length) | 0);
    const pu = far - (k + 0.5) * length;
    const pv = v[i];
    const pz = z[i] - level;
    const own = 2 * k + (pv > 0 ? 1 : 0);
    side[c] = own;
    along[c] = pu;
    const at = SUMS * own;
    sums[at + N] += 1;
    sums[at + U] += pu;
    sums[at + V] += pv;
    sums[at + Z] += pz;
    sums[at + UU] += pu * pu;
    sums[at + UV] += pu * pv;
    sums[at + VV] += pv * pv;
    sums[at + UZ] += pu * pz;
    sums[at + VZ] += pv * pz;
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
): (Jump & { readonly points: number; readonly most: number }) | null => {
  if (count === 0) return null;
  const { kept, used, side, along, left, sums, parts } = room;
  const stretches = Math.max(1, Math.round((last - first) / STRETCH));
  const length = (last - first) / stretches;
  sumStretches(band, count, { first, length, stretches }, room);
  let up = 0;
  let weight = 0;
  let freedom = -1;
  let fitted = 0;
  for (let k = 0; k < stretches; k++) {
    const below = 2 * SUMS * k;
    const at = PARTS * k;
    const under = sums[below + N];
    const over = sums[below + SUMS + N];
    if (over < 2 || under < 2 || under + over < 5 || !planesOf(sums, below, parts, at)) {
      parts[at + WEIGHT] = 0;
      continue;
    }
    up += parts[at + PULL];
    weight += parts[at + WEIGHT];
    freedom += under + over - 3;
    fitted += 1;
  }
  if (fitted === 0 || freedom < 4) return null;
  const height = up / weight;
  let agreeing = 0;
  for (let at = 0; at < PARTS * stretches; at += PARTS) {
    if (parts[at + WEIGHT] === 0) continue;
    planesLeft(parts, at, height);
    if (parts[at + PULL] > 0 === height > 0) agreeing += parts[at + WEIGHT];
  }
  const level = band.z[kept[0]];
  let square = 0;
  let points = 0;
  let most = 0;
  for (let c = 0; c < count; c++) {
    const own = side[c];
    const at = PARTS * (own >> 1);
    if (own < 0 || parts[at + WEIGHT] === 0) continue;
    const i = kept[c];
    const plane = at + LEFT + 3 * (own & 1);
    const off =
      band.z[i] - level - parts[plane] - parts[plane + 1] * along[c] - parts[plane + 2] * band.v[i];
    used[points] = i;
    left[points++] = off;
    square += off * off;
    if (off > most) most = off;
    else if (-off > most) most = -off;
  }
  return {
    height,
    sd: Math.sqrt(square / freedom / weight),
    share: fitted / stretches,
    agreeing: agreeing / weight,
    points,
    most,
  };
};
