/**
 * The height by which one side of a line lies above the other: points on both sides fitted, stretch by
 * stretch, with a plane each and one jump common to all.
 */

/** Length of one stretch, metres. */
export const STRETCH = 5;

/** x, y, z; or u along a line, v across it, and z. */
export type Spot = readonly [x: number, y: number, z: number];

export interface Jump {
  readonly height: number;
  readonly sd: number;
  readonly share: number;
  readonly agreeing: number;
}

/** Removes from `a` and `b` what a plane over (1, u, v) explains; modified Gram-Schmidt. */
const withoutPlane = (
  u: readonly number[],
  v: readonly number[],
  a: number[],
  b: number[],
): boolean => {
  const basis = [u.map(() => 1), [...u], [...v]];
  for (let k = 0; k < 3; k++) {
    const e = basis[k];
    for (let j = 0; j < k; j++) subtract(e, basis[j]);
    const norm = Math.sqrt(dot(e, e));
    if (!(norm > 1e-6)) return false;
    for (let i = 0; i < e.length; i++) e[i] /= norm;
    subtract(a, e);
    subtract(b, e);
  }
  return true;
};

const dot = (a: readonly number[], b: readonly number[]): number => {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i] * b[i];
  return sum;
};

const subtract = (from: number[], unit: readonly number[]): void => {
  const part = dot(from, unit);
  for (let i = 0; i < from.length; i++) from[i] -= part * unit[i];
};

/** A point this many (robust) standard deviations off its stretch is left out of a second fit. */
const OUTLYING = 6;
const PER_MAD = 1.4826;

/** The jump without points that fit neither side of it. */
export const jumpOf = (points: readonly Spot[], first: number, last: number): Jump | null => {
  const once = commonJump(points, first, last);
  if (once === null) return null;
  const sizes = once.rests.map((rest) => Math.abs(rest.left)).sort((a, b) => a - b);
  const limit = OUTLYING * PER_MAD * sizes[sizes.length >> 1];
  if (!(sizes[sizes.length - 1] > limit)) return once;
  const kept = once.rests.filter((rest) => Math.abs(rest.left) <= limit).map((rest) => rest.point);
  return commonJump(kept, first, last);
};

/** The common jump across v = 0 of points given by u along the line, v across it and height z. */
const commonJump = (
  points: readonly Spot[],
  first: number,
  last: number,
): (Jump & { readonly rests: readonly { point: Spot; left: number }[] }) | null => {
  const stretches = Math.max(1, Math.round((last - first) / STRETCH));
  const groups: Spot[][] = Array.from({ length: stretches }, () => []);
  for (const point of points) {
    const k = Math.floor(((point[0] - first) / (last - first)) * stretches);
    if (k >= 0) groups[Math.min(stretches - 1, k)].push(point);
  }
  let up = 0;
  let weight = 0;
  let square = 0;
  let freedom = -1;
  let used = 0;
  const own: { jump: number; weight: number }[] = [];
  const parts: { group: Spot[]; h: number[]; z: number[] }[] = [];
  for (const group of groups) {
    const left = group.filter(([, v]) => v > 0).length;
    if (left < 2 || group.length - left < 2 || group.length < 5) continue;
    const h = group.map(([, v]) => (v > 0 ? 0.5 : -0.5));
    const z = group.map((p) => p[2] - group[0][2]);
    const u = group.map((p) => p[0] - group[0][0]);
    if (
      !withoutPlane(
        u,
        group.map((p) => p[1]),
        h,
        z,
      )
    )
      continue;
    const hh = dot(h, h);
    if (!(hh > 1e-9)) continue;
    const hz = dot(h, z);
    up += hz;
    weight += hh;
    freedom += group.length - 3;
    used += 1;
    own.push({ jump: hz / hh, weight: hh });
    parts.push({ group, h, z });
  }
  if (used === 0 || freedom < 4) return null;
  const height = up / weight;
  const rests: { point: Spot; left: number }[] = [];
  for (const { group, h, z } of parts) {
    for (let i = 0; i < z.length; i++) {
      const left = z[i] - height * h[i];
      square += left * left;
      rests.push({ point: group[i], left });
    }
  }
  const agreeing =
    own.filter((o) => o.jump > 0 === height > 0).reduce((sum, o) => sum + o.weight, 0) / weight;
  return {
    height,
    sd: Math.sqrt(square / freedom / weight),
    share: used / stretches,
    agreeing,
    rests,
  };
};
