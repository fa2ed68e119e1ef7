import type { Point, Ring } from '../geometry.js';
import { convexHull } from '../geometry.js';

/**
 * The part of one convex ring inside another, both counter-clockwise; empty when they do not meet.
 * Source: Sutherland & Hodgman, Commun. ACM 17 (1974) 32-42.
 */
const clipConvex = (subject: Ring, window: Ring): Ring => {
  let ring: Point[] = [...subject];
  for (let i = 0, j = window.length - 1; i < window.length; j = i++) {
    const [ax, ay] = window[j];
    const [ex, ey] = [window[i][0] - ax, window[i][1] - ay];
    const side = ([x, y]: Point): number => ex * (y - ay) - ey * (x - ax);
    const kept: Point[] = [];
    for (let b = 0, a = ring.length - 1; b < ring.length; a = b++) {
      const [sa, sb] = [side(ring[a]), side(ring[b])];
      if (sa < 0 !== sb < 0) {
        const t = sa / (sa - sb);
        kept.push([
          ring[a][0] + t * (ring[b][0] - ring[a][0]),
          ring[a][1] + t * (ring[b][1] - ring[a][1]),
        ]);
      }
      if (sb >= 0) kept.push(ring[b]);
    }
    ring = kept;
  }
  return ring;
};

const pointsOf = (x: Float64Array, y: Float64Array): Point[] =>
  Array.from(x, (value, i): Point => [value, y[i]]);

/**
 * The ground that two surveys of one frame have in common: where their convex hulls meet. Empty when
 * they do not.
 */
export const commonGround = (
  a: { readonly x: Float64Array; readonly y: Float64Array },
  b: { readonly x: Float64Array; readonly y: Float64Array },
): Ring => clipConvex(convexHull(pointsOf(a.x, a.y)), convexHull(pointsOf(b.x, b.y)));
