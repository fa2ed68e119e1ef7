import type { Point, Ring } from '../../src/geometry.js';
import { distance, lengthOf, signedArea } from '../../src/geometry.js';
import { H, HX, HXX, HXXX, HXXY, HXY, HXYY, HY, HYY, HYYY } from '../../src/surface/surface.js';
import type { GreenFrame } from '../../src/survey/survey.js';
import { type GreenDesign, greenDesigns, type OutlineShape, type Shape } from './greens.js';
import { groundHeight, practice, routes } from './routing.js';

/**
 * The true surfaces of Vellamoor's greens, by which tests measure what the program recovers from the
 * surveys. Everything in the frame of the green (origin: where the line of approach through the middle
 * first meets the outline; +y along it), metres; heights above the sea, as the surveys have them.
 */
export interface TrueGreen {
  readonly id: string;
  readonly name: string;
  readonly character: string;
  /** Counter-clockwise, a point about every 0.5 m. */
  readonly outline: Ring;
  readonly area: number;
  readonly drains: readonly Point[];
  /** From EPSG:32625 to the frame of the green. */
  readonly frame: GreenFrame;
  /** Writes the exact height and its derivatives to the third order; `jet` has `JET_SIZE` places. */
  readonly at: (x: number, y: number, jet: Float64Array) => void;
  /**
   * The length over which the ground bends here: 2 on the face of a tier 2 m wide (and half a width to
   * either side of it), the width of a wider face on that face, and at least 4 elsewhere.
   */
  readonly bendLength: (x: number, y: number) => number;
  /** Toe and crest of each tier. */
  readonly edges: readonly TierEdge[];
}

/** The crest or the toe of a tier: half a face above or below the middle of the face. */
export interface TierEdge {
  readonly name: 'crest' | 'toe';
  /** Width of the tier's face. */
  readonly face: number;
  /** The point of the edge that lies `t` to the left of the tier's middle, seen uphill. */
  readonly at: (t: number) => Point;
}

/** A quadratic form u(x, y) = c + a x + b y + (p x^2 + 2 q x y + r y^2) / 2. */
interface Quadratic {
  readonly c: number;
  readonly a: number;
  readonly b: number;
  readonly p: number;
  readonly q: number;
  readonly r: number;
}

/** One shape as f(u(x, y)) with f given by its value and first three derivatives. */
interface Term {
  readonly u: Quadratic;
  readonly f: (u: number) => readonly [number, number, number, number];
}

/** Coordinates (s along `toward`, t to its left) about a point, as s + curve t^2 / 2, scaled. */
const curvedDistance = (at: Point, toward: number, curve: number, scale: number): Quadratic => {
  const [sx, sy] = [Math.cos((toward * Math.PI) / 180), Math.sin((toward * Math.PI) / 180)];
  const [tx, ty] = [-sy, sx];
  const t0 = tx * at[0] + ty * at[1];
  return {
    c: (-(sx * at[0] + sy * at[1]) + (curve * t0 * t0) / 2) / scale,
    a: (sx - curve * t0 * tx) / scale,
    b: (sy - curve * t0 * ty) / scale,
    p: (curve * tx * tx) / scale,
    q: (curve * tx * ty) / scale,
    r: (curve * ty * ty) / scale,
  };
};

const term = (shape: Shape): Term => {
  switch (shape.kind) {
    case 'plane':
      return {
        u: { c: 0, a: shape.gu, b: shape.gv, p: 0, q: 0, r: 0 },
        f: (u) => [u, 1, 0, 0],
      };
    case 'tier':
      return {
        u: curvedDistance(shape.at, shape.toward, shape.curve, shape.face / 2),
        f: (u) => {
          const t = Math.tanh(u);
          const s = 1 - t * t;
          const k = shape.rise / 2;
          return [k * t, k * s, -2 * k * t * s, k * s * (6 * t * t - 2)];
        },
      };
    case 'mound': {
      const along = curvedDistance(shape.at, shape.turn, 0, shape.su);
      const across = curvedDistance(shape.at, shape.turn + 90, 0, shape.sv);
      return {
        u: {
          c: (along.c * along.c + across.c * across.c) / 2,
          a: along.c * along.a + across.c * across.a,
          b: along.c * along.b + across.c * across.b,
          p: along.a * along.a + across.a * across.a,
          q: along.a * along.b + across.a * across.b,
          r: along.b * along.b + across.b * across.b,
        },
        f: (u) => {
          const e = shape.height * Math.exp(-u);
          return [e, -e, e, -e];
        },
      };
    }
    case 'swale':
      return {
        u: curvedDistance(shape.at, shape.along + 90, shape.curve, shape.width),
        f: (u) => {
          const e = -shape.depth * Math.exp((-u * u) / 2);
          return [e, -u * e, (u * u - 1) * e, (3 * u - u * u * u) * e];
        },
      };
  }
};

/** Adds f(u(x, y)) and its derivatives: the chain rule, u having no third derivatives. */
const addTerm = ({ u, f }: Term, x: number, y: number, jet: Float64Array): void => {
  const [f0, f1, f2, f3] = f(
    u.c + u.a * x + u.b * y + (u.p * x * x + 2 * u.q * x * y + u.r * y * y) / 2,
  );
  const ux = u.a + u.p * x + u.q * y;
  const uy = u.b + u.q * x + u.r * y;
  jet[H] += f0;
  jet[HX] += f1 * ux;
  jet[HY] += f1 * uy;
  jet[HXX] += f2 * ux * ux + f1 * u.p;
  jet[HXY] += f2 * ux * uy + f1 * u.q;
  jet[HYY] += f2 * uy * uy + f1 * u.r;
  jet[HXXX] += f3 * ux ** 3 + 3 * f2 * ux * u.p;
  jet[HXXY] += f3 * ux * ux * uy + f2 * (u.p * uy + 2 * u.q * ux);
  jet[HXYY] += f3 * ux * uy * uy + f2 * (u.r * ux + 2 * u.q * uy);
  jet[HYYY] += f3 * uy ** 3 + 3 * f2 * uy * u.r;
};

const rawOutline = (shape: OutlineShape, samples: number): Point[] =>
  Array.from({ length: samples }, (_, i) => {
    const t = (2 * Math.PI * i) / samples;
    const swell = 1 + shape.swell * Math.cos(3 * t + 0.7);
    const v = shape.halfDepth * Math.sin(t) * swell;
    const u =
      shape.halfWidth * Math.cos(t) * swell * (1 - shape.taper * Math.sin(t)) + shape.bend * v * v;
    const turn = (shape.turn * Math.PI) / 180;
    return [u * Math.cos(turn) - v * Math.sin(turn), u * Math.sin(turn) + v * Math.cos(turn)];
  });

/** The ring walked in equal steps. */
const resample = (ring: Ring, step: number): Point[] => {
  const closed = [...ring, ring[0]];
  const count = Math.round(lengthOf(closed) / step);
  const each = lengthOf(closed) / count;
  const points: Point[] = [];
  let walked = 0;
  for (let i = 1; i < closed.length; i++) {
    const side = distance(closed[i - 1], closed[i]);
    while (points.length < count && points.length * each <= walked + side) {
      const t = (points.length * each - walked) / side;
      points.push([
        closed[i - 1][0] + t * (closed[i][0] - closed[i - 1][0]),
        closed[i - 1][1] + t * (closed[i][1] - closed[i - 1][1]),
      ]);
    }
    walked += side;
  }
  return points;
};

const centroid = (ring: Ring): Point => {
  let [sx, sy] = [0, 0];
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
    const cross = ring[j][0] * ring[i][1] - ring[i][0] * ring[j][1];
    sx += (ring[j][0] + ring[i][0]) * cross;
    sy += (ring[j][1] + ring[i][1]) * cross;
  }
  const six = 6 * signedArea(ring);
  return [sx / six, sy / six];
};

/** The lowest v at which the ring crosses u = 0. */
const frontOf = (ring: Ring): number => {
  let front = Infinity;
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
    const [a, b] = [ring[j], ring[i]];
    if (a[0] < 0 !== b[0] < 0) {
      front = Math.min(front, a[1] + ((0 - a[0]) / (b[0] - a[0])) * (b[1] - a[1]));
    }
  }
  return front;
};

const build = (design: GreenDesign): TrueGreen => {
  const resampled = resample(rawOutline(design.outline, 2880), 0.5);
  const [cu, cv] = centroid(resampled);
  const centred = resampled.map(([u, v]): Point => [u - cu, v - cv]);
  const front = frontOf(centred);
  const outline = centred.map(([u, v]): Point => [u, v - front]);
  const route = [...routes, practice].find((one) => one.id === design.id)!;
  const middle = route.line[route.line.length - 1];
  const from = route.line[route.line.length - 2];
  const reach = distance(from, middle);
  const forward: Point = [(middle[0] - from[0]) / reach, (middle[1] - from[1]) / reach];
  const base = Math.round(10 * groundHeight(middle)) / 10 + 0.5;
  const terms = design.shapes.map(term);
  const at = (x: number, y: number, jet: Float64Array): void => {
    jet.fill(0);
    jet[H] = base;
    for (const one of terms) addTerm(one, x, y + front, jet);
  };
  const faces = design.shapes.flatMap((shape) =>
    shape.kind === 'tier'
      ? [{ face: shape.face, u: curvedDistance(shape.at, shape.toward, shape.curve, 1) }]
      : [],
  );
  const edges = design.shapes.flatMap((shape) =>
    shape.kind === 'tier'
      ? ([-1, 1] as const).map((side): TierEdge => {
          const turn = (shape.toward * Math.PI) / 180;
          const [sx, sy] = [Math.cos(turn), Math.sin(turn)];
          return {
            name: side > 0 === shape.rise > 0 ? 'crest' : 'toe',
            face: shape.face,
            at: (t) => {
              const s = (side * shape.face) / 2 - (shape.curve * t * t) / 2;
              return [shape.at[0] + s * sx - t * sy, shape.at[1] + s * sy + t * sx - front];
            },
          };
        })
      : [],
  );
  const bendLength = (x: number, y: number): number => {
    const v = y + front;
    let shortest = Infinity;
    for (const { face, u } of faces) {
      const d = u.c + u.a * x + u.b * v + (u.p * x * x + 2 * u.q * x * v + u.r * v * v) / 2;
      if (Math.abs(d) <= face) shortest = Math.min(shortest, face);
    }
    return shortest === Infinity ? 4 : shortest;
  };
  return {
    id: design.id,
    name: design.name,
    character: design.character,
    outline,
    area: signedArea(outline),
    drains: design.drains.map(([u, v]) => [u, v - front]),
    frame: {
      origin: [middle[0] + front * forward[0], middle[1] + front * forward[1]],
      forward,
    },
    at,
    bendLength,
    edges,
  };
};

/** Holes 1 to 18 in order, then the practice green. */
export const trueGreens: readonly TrueGreen[] = greenDesigns.map(build);

export const trueGreen = (id: string): TrueGreen => {
  const found = trueGreens.find((green) => green.id === id);
  if (found === undefined) throw new Error(`no green "${id}" in the demo course`);
  return found;
};
