/** Points, rings and small vector helpers on the plane. Metres unless a caller says otherwise. */

export type Point = readonly [x: number, y: number];

/** A closed outline; the first point is not repeated at the end. Counter-clockwise when it is an outer ring. */
export type Ring = readonly Point[];

/** An outer ring and its holes. */
export type Polygon = readonly Ring[];

export interface Box {
  readonly minX: number;
  readonly minY: number;
  readonly maxX: number;
  readonly maxY: number;
}

/** `Math.hypot` of two numbers, to the bit (ECMAScript leaves its rounding open; V8's is this), but without its garbage. */
export const hypotenuse = (x: number, y: number): number => {
  const [a, b] = [Math.abs(x), Math.abs(y)];
  const most = Math.max(a, b);
  if (!(most > 0 && most < Infinity && a + b > 0)) return Math.hypot(x, y);
  const p = a / most;
  const q = b / most;
  return Math.sqrt(p * p + q * q) * most;
};

export const distance = (a: Point, b: Point): number => hypotenuse(a[0] - b[0], a[1] - b[1]);

export const boxOf = (points: Iterable<Point>): Box => {
  let minX = Infinity;
  let minY = Infinity;
  let maxX = -Infinity;
  let maxY = -Infinity;
  for (const [x, y] of points) {
    if (x < minX) minX = x;
    if (x > maxX) maxX = x;
    if (y < minY) minY = y;
    if (y > maxY) maxY = y;
  }
  return { minX, minY, maxX, maxY };
};

/** As `boxOf`, of positions held in two arrays. */
export const boxOfCoordinates = (x: ArrayLike<number>, y: ArrayLike<number>): Box => {
  let minX = Infinity;
  let minY = Infinity;
  let maxX = -Infinity;
  let maxY = -Infinity;
  for (let i = 0; i < x.length; i++) {
    if (x[i] < minX) minX = x[i];
    if (x[i] > maxX) maxX = x[i];
    if (y[i] < minY) minY = y[i];
    if (y[i] > maxY) maxY = y[i];
  }
  return { minX, minY, maxX, maxY };
};

export const middleOfBox = ({ minX, minY, maxX, maxY }: Box): Point => [
  (minX + maxX) / 2,
  (minY + maxY) / 2,
];

export const growBox = (box: Box, by: number): Box => ({
  minX: box.minX - by,
  minY: box.minY - by,
  maxX: box.maxX + by,
  maxY: box.maxY + by,
});

/** Signed area (shoelace), positive for a counter-clockwise ring. */
export const signedArea = (ring: Ring): number => {
  let twice = 0;
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
    twice += ring[j][0] * ring[i][1] - ring[i][0] * ring[j][1];
  }
  return twice / 2;
};

/** The edges of a ring, filed by bands of y that they pass through. */
interface BandedRing {
  readonly minY: number;
  readonly maxY: number;
  readonly bandsPerMetre: number;
  /** Corners of the edges of band b, x1, y1, x2, y2 each: corners[4 * starts[b]] to corners[4 * starts[b + 1] - 1]. */
  readonly starts: Int32Array;
  readonly corners: Float64Array;
}

const MOST_BANDS = 256;

const bandOf = ({ minY, bandsPerMetre }: BandedRing, y: number, bands: number): number =>
  Math.min(bands - 1, Math.floor((y - minY) * bandsPerMetre));

const bandRing = (ring: Ring): BandedRing | null => {
  const { minY, maxY } = boxOf(ring);
  const bands = Math.min(MOST_BANDS, ring.length >> 1);
  const bandsPerMetre = bands / (maxY - minY);
  if (!Number.isFinite(bandsPerMetre)) return null;
  const starts = new Int32Array(bands + 1);
  const shape = { minY, maxY, bandsPerMetre, starts, corners: new Float64Array(0) };
  const overBands = (take: (band: number, a: Point, b: Point) => void): void => {
    for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
      const [a, b] = [ring[i], ring[j]];
      // A level edge is never crossed.
      if (a[1] === b[1]) continue;
      const last = bandOf(shape, Math.max(a[1], b[1]), bands);
      for (let k = bandOf(shape, Math.min(a[1], b[1]), bands); k <= last; k++) take(k, a, b);
    }
  };
  overBands((band) => starts[band + 1]++);
  for (let band = 0; band < bands; band++) starts[band + 1] += starts[band];
  const fill = starts.slice();
  const corners = new Float64Array(4 * starts[bands]);
  overBands((band, a, b) => {
    corners.set([a[0], a[1], b[0], b[1]], 4 * fill[band]++);
  });
  return { ...shape, corners };
};

const insideBands = (ring: BandedRing, x: number, y: number): boolean => {
  const { starts, corners } = ring;
  if (!(y >= ring.minY && y < ring.maxY)) return false;
  const band = bandOf(ring, y, starts.length - 1);
  let inside = false;
  for (let k = 4 * starts[band], end = 4 * starts[band + 1]; k < end; k += 4) {
    const yi = corners[k + 1];
    const yj = corners[k + 3];
    if (yi > y === yj > y) continue;
    const xi = corners[k];
    if (x < ((corners[k + 2] - xi) * (y - yi)) / (yj - yi) + xi) inside = !inside;
  }
  return inside;
};

const insideEdges = (ring: Ring, x: number, y: number): boolean => {
  let inside = false;
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
    // By index: to take a point apart by a pattern costs several times as much here.
    const xi = ring[i][0];
    const yi = ring[i][1];
    const xj = ring[j][0];
    const yj = ring[j][1];
    if (yi > y !== yj > y && x < ((xj - xi) * (y - yi)) / (yj - yi) + xi) inside = !inside;
  }
  return inside;
};

/** Rings of fewer corners are walked; others are filed once they have been asked of so many points. */
const FEW_CORNERS = 24;
const WORTH_FILING = 12;

const asked = new WeakMap<Ring, number | BandedRing>();

/**
 * Even-odd test; points exactly on an edge may fall either way. A long ring that is asked again and again is
 * filed by bands, with the same answers: no ring may change once it has been asked.
 */
export const insideRing = (ring: Ring, x: number, y: number): boolean => {
  if (ring.length < FEW_CORNERS) return insideEdges(ring, x, y);
  const known = asked.get(ring) ?? 0;
  if (typeof known === 'object') return insideBands(known, x, y);
  asked.set(ring, (known === WORTH_FILING ? bandRing(ring) : null) ?? known + 1);
  return insideEdges(ring, x, y);
};

/** The point of segment a-b that is nearest to p. */
export const nearestOnSegment = (a: Point, b: Point, p: Point): Point => {
  const dx = b[0] - a[0];
  const dy = b[1] - a[1];
  const square = dx * dx + dy * dy;
  if (square === 0) return a;
  const t = Math.min(1, Math.max(0, ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / square));
  return [a[0] + t * dx, a[1] + t * dy];
};

/** Square of the distance from (x, y) to segment a-b: makes no points, for it is asked often. */
export const squareToSegment = (a: Point, b: Point, x: number, y: number): number => {
  const ex = b[0] - a[0];
  const ey = b[1] - a[1];
  const square = ex * ex + ey * ey;
  const t =
    square === 0 ? 0 : Math.min(1, Math.max(0, ((x - a[0]) * ex + (y - a[1]) * ey) / square));
  const nx = a[0] + t * ex - x;
  const ny = a[1] + t * ey - y;
  return nx * nx + ny * ny;
};

/** Distance to the ring, negative inside. */
export const signedDistanceToRing = (ring: Ring, x: number, y: number): number => {
  let best = Infinity;
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
    const d = squareToSegment(ring[j], ring[i], x, y);
    if (d < best) best = d;
  }
  return insideRing(ring, x, y) ? -Math.sqrt(best) : Math.sqrt(best);
};

export const lengthOf = (line: readonly Point[]): number => {
  let sum = 0;
  for (let i = 1; i < line.length; i++) sum += distance(line[i - 1], line[i]);
  return sum;
};

/** Convex hull, counter-clockwise. Source: Andrew, Inf. Process. Lett. 9 (1979) 216-219. */
export const convexHull = (points: readonly Point[]): Ring => {
  const sorted = [...points].sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  const half = (line: readonly Point[]): Point[] => {
    const chain: Point[] = [];
    for (const p of line) {
      while (chain.length > 1) {
        const [ax, ay] = chain[chain.length - 2];
        const [bx, by] = chain[chain.length - 1];
        if ((bx - ax) * (p[1] - ay) - (by - ay) * (p[0] - ax) > 0) break;
        chain.pop();
      }
      chain.push(p);
    }
    return chain.slice(0, -1);
  };
  return [...half(sorted), ...half(sorted.reverse())];
};

/**
 * The fewest of a line's points that keep it within `tolerance` of its course (Douglas and Peucker, The
 * Canadian Cartographer 10 (1973) 112-122); both ends stay. Worked on a stack, since lines are long.
 */
export const simplifyLine = (line: readonly Point[], tolerance: number): Point[] => {
  if (line.length < 3) return [...line];
  const kept = new Uint8Array(line.length);
  kept[0] = kept[line.length - 1] = 1;
  const spans: [number, number][] = [[0, line.length - 1]];
  for (let span = spans.pop(); span !== undefined; span = spans.pop()) {
    const [first, last] = span;
    let farthest = -1;
    let reach = tolerance;
    for (let i = first + 1; i < last; i++) {
      const away = distance(line[i], nearestOnSegment(line[first], line[last], line[i]));
      if (away > reach) {
        reach = away;
        farthest = i;
      }
    }
    if (farthest < 0) continue;
    kept[farthest] = 1;
    spans.push([first, farthest], [farthest, last]);
  }
  return line.filter((_, i) => kept[i] === 1);
};

/** How far along a line each of its points lies, 0 to 1. */
export const sharesOf = (points: readonly Point[]): number[] => {
  let along = 0;
  const reach = points.map((point, i) => {
    if (i > 0) along += distance(points[i - 1], point);
    return along;
  });
  return reach.map((at) => (along === 0 ? 0 : at / along));
};
