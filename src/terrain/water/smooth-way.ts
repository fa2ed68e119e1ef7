import type { Point } from '../../geometry.js';

/**
 * A cubic Hermite curve from a to b that leaves along `from` and arrives along `to` (unit vectors), as
 * points about `spacing` apart, a left out and b included.
 */
export const bend = (
  a: readonly [number, number, ...number[]],
  from: Point,
  b: readonly [number, number, ...number[]],
  to: Point,
  spacing: number,
): Point[] => {
  const reach = 0.9 * Math.hypot(b[0] - a[0], b[1] - a[1]);
  const parts = Math.max(1, Math.ceil(reach / spacing));
  return Array.from({ length: parts }, (_, k) => {
    const t = (k + 1) / parts;
    const t2 = t * t;
    const t3 = t2 * t;
    const p = 2 * t3 - 3 * t2 + 1;
    const q = t3 - 2 * t2 + t;
    const r = -2 * t3 + 3 * t2;
    const s = t3 - t2;
    return [
      p * a[0] + q * reach * from[0] + r * b[0] + s * reach * to[0],
      p * a[1] + q * reach * from[1] + r * b[1] + s * reach * to[1],
    ] as const;
  });
};

/** Unit vector from a to b, or (0, 0). */
export const direction = (
  a: readonly [number, number, ...number[]],
  b: readonly [number, number, ...number[]],
): Point => {
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  return length === 0 ? [0, 0] : [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
};
