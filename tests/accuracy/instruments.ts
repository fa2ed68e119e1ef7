import { type Random, seeded } from '../../course-data/vellamoor/random.js';
import { boxOf, type Ring, signedDistanceToRing } from '../../src/geometry.js';
import { H, JET_SIZE } from '../../src/surface/surface.js';
import type { Survey } from '../../src/survey/survey.js';
import type { RoughGreen } from './rough-greens.js';

/** A survey made of a true surface, in the frame of the green; metres, seconds. */
export type Instrument = (green: Pick<RoughGreen, 'at' | 'outline'>, seed: number) => Survey;

/** How far past the outline is surveyed. */
const REACH = 2;

interface Spots {
  readonly x: number[];
  readonly y: number[];
}

const heightOf = (green: Pick<RoughGreen, 'at'>): ((x: number, y: number) => number) => {
  const jet = new Float64Array(JET_SIZE);
  return (x, y) => {
    green.at(x, y, jet);
    return jet[H];
  };
};

const surveyOf = (
  kind: Survey['kind'],
  { x, y }: Spots,
  z: readonly number[],
  more: Partial<Survey> = {},
): Survey => ({
  source: 'made up',
  kind,
  x: Float64Array.from(x),
  y: Float64Array.from(y),
  z: Float64Array.from(z),
  statedSigma: null,
  breaklines: [],
  cellSize: null,
  ...more,
});

/** Rows walked to and fro in some direction, about `spacing` apart, in the order of walking. */
const walked = (outline: Ring, random: Random, spacing: number): Spots => {
  const turn = Math.PI * random.uniform();
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  const ring = outline.map(([x, y]) => [c * x + s * y, -s * x + c * y] as const);
  const box = boxOf(ring);
  const spots: Spots = { x: [], y: [] };
  let back = false;
  for (let v = box.minY - REACH + spacing * random.uniform(); v < box.maxY + REACH; v += spacing) {
    const row: (readonly [number, number])[] = [];
    for (
      let u = box.minX - REACH + spacing * random.uniform();
      u < box.maxX + REACH;
      u += spacing
    ) {
      const pu = u + 0.12 * spacing * random.normal();
      const pv = v + 0.12 * spacing * random.normal();
      if (signedDistanceToRing(ring, pu, pv) <= REACH) row.push([c * pu - s * pv, s * pu + c * pv]);
    }
    if (back) row.reverse();
    back = !back;
    for (const [x, y] of row) {
      spots.x.push(x);
      spots.y.push(y);
    }
  }
  return spots;
};

/** Seconds from one point of a walk to the next. */
const PER_POINT = 3;

export interface RoverPlan {
  readonly spacing: number;
  readonly noise: number;
  /** Standard deviation of the drift (first-order Gauss-Markov) and the time it is correlated over. */
  readonly drift?: number;
  readonly over?: number;
  /** Height of the second session over the first. */
  readonly jump?: number;
}

/** A rover on a pole, its points in the order of walking. */
export const rover =
  (plan: RoverPlan): Instrument =>
  (green, seed) => {
    const random = seeded(seed);
    const spots = walked(green.outline, random, plan.spacing);
    const height = heightOf(green);
    const keep = Math.exp(-PER_POINT / (plan.over ?? 120));
    let drift = (plan.drift ?? 0) * random.normal();
    const split = spots.x.length * random.between(0.35, 0.65);
    const z = spots.x.map((x, k) => {
      const value = height(x, spots.y[k]) + plan.noise * random.normal() + drift;
      drift = keep * drift + (plan.drift ?? 0) * Math.sqrt(1 - keep * keep) * random.normal();
      return value + (k > split ? (plan.jump ?? 0) : 0);
    });
    return surveyOf('points', spots, z);
  };

export interface LidarPlan {
  /** Points a square metre. */
  readonly density: number;
  readonly noise: number;
  /** Height of one swath over the other, along a straight line across the green. */
  readonly step: number;
}

/** Points thrown evenly at random, in no order that tells anything. */
const cloudOf = (green: Pick<RoughGreen, 'at' | 'outline'>, random: Random, plan: LidarPlan) => {
  const box = boxOf(green.outline);
  const height = heightOf(green);
  const [west, east, south, north] = [box.minX - 5, box.maxX + 5, box.minY - 5, box.maxY + 5];
  const count = Math.round((east - west) * (north - south) * plan.density);
  const turn = Math.PI * random.uniform();
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  const off = random.between(-4, 4) + c * ((west + east) / 2) + s * ((south + north) / 2);
  const spots: Spots = { x: [], y: [] };
  const z: number[] = [];
  for (let k = 0; k < count; k++) {
    const x = random.between(west, east);
    const y = random.between(south, north);
    spots.x.push(x);
    spots.y.push(y);
    z.push(height(x, y) + plan.noise * random.normal() + (c * x + s * y > off ? plan.step : 0));
  }
  return { spots, z, box: { west, east, south, north } };
};

type Cloud = ReturnType<typeof cloudOf>;

export const lidarPoints =
  (plan: LidarPlan): Instrument =>
  (green, seed) => {
    const { spots, z } = cloudOf(green, seeded(seed), plan);
    return surveyOf('cloud', spots, z);
  };

/** Cells over a cloud, three metres within its edges; each cell's height by `value`. */
const gridOver = (
  { box }: Cloud,
  outline: Ring,
  cell: number,
  value: (x: number, y: number) => number | null,
): Survey => {
  const spots: Spots = { x: [], y: [] };
  const z: number[] = [];
  for (let y = box.south + 2.5; y < box.north - 2.5; y += cell) {
    for (let x = box.west + 2.5; x < box.east - 2.5; x += cell) {
      if (signedDistanceToRing(outline, x, y) > REACH) continue;
      const height = value(x, y);
      if (height === null) continue;
      spots.x.push(x);
      spots.y.push(y);
      z.push(height);
    }
  }
  return surveyOf('grid', spots, z, { cellSize: cell });
};

/** Indices of a cloud's points by squares of one metre, to look round a place. */
const squaresOf = ({ spots }: Cloud): ((x: number, y: number, reach: number) => number[]) => {
  const held = new Map<string, number[]>();
  spots.x.forEach((x, k) => {
    const key = `${Math.floor(x)},${Math.floor(spots.y[k])}`;
    held.set(key, [...(held.get(key) ?? []), k]);
  });
  return (x, y, reach) => {
    const found: number[] = [];
    for (let i = Math.floor(x - reach); i <= Math.floor(x + reach); i++) {
      for (let j = Math.floor(y - reach); j <= Math.floor(y + reach); j++) {
        found.push(...(held.get(`${i},${j}`) ?? []));
      }
    }
    return found;
  };
};

/** Each cell the mean of the points in it; of the nearest point where there is none. */
export const meanGrid =
  (plan: LidarPlan, cell: number): Instrument =>
  (green, seed) => {
    const cloud = cloudOf(green, seeded(seed), plan);
    const near = squaresOf(cloud);
    return gridOver(cloud, green.outline, cell, (x, y) => {
      const { spots, z } = cloud;
      const close = near(x, y, 3);
      const own = close.filter(
        (k) => Math.abs(spots.x[k] - x) <= cell / 2 && Math.abs(spots.y[k] - y) <= cell / 2,
      );
      if (own.length > 0) return own.reduce((sum, k) => sum + z[k], 0) / own.length;
      const away = (k: number): number => Math.hypot(spots.x[k] - x, spots.y[k] - y);
      return z[close.reduce((best, k) => (away(k) < away(best) ? k : best), close[0])];
    });
  };

/** Each cell from the triangle of points round it: the one of least circumscribed circle (Delaunay's). */
export const triangleGrid =
  (plan: LidarPlan, cell: number): Instrument =>
  (green, seed) => {
    const cloud = cloudOf(green, seeded(seed), plan);
    const near = squaresOf(cloud);
    const { spots, z } = cloud;
    const at = (x: number, y: number): number | null => {
      const away = (k: number): number => Math.hypot(spots.x[k] - x, spots.y[k] - y);
      const close = near(x, y, 2.2)
        .sort((a, b) => away(a) - away(b))
        .slice(0, 14);
      let best = Infinity;
      let height: number | null = null;
      for (let i = 0; i < close.length; i++) {
        for (let j = i + 1; j < close.length; j++) {
          for (let k = j + 1; k < close.length; k++) {
            const [a, b, c] = [close[i], close[j], close[k]];
            const [ax, ay] = [spots.x[a] - x, spots.y[a] - y];
            const [bx, by] = [spots.x[b] - x, spots.y[b] - y];
            const [cx, cy] = [spots.x[c] - x, spots.y[c] - y];
            const [u, v, w] = [bx * cy - by * cx, cx * ay - cy * ax, ax * by - ay * bx];
            const area = u + v + w;
            if (u / area < 0 || v / area < 0 || w / area < 0) continue;
            const radius =
              (Math.hypot(ax - bx, ay - by) *
                Math.hypot(bx - cx, by - cy) *
                Math.hypot(cx - ax, cy - ay)) /
              (2 * Math.abs(area));
            if (radius < best) {
              best = radius;
              height = (u * z[a] + v * z[b] + w * z[c]) / area;
            }
          }
        }
      }
      return height;
    };
    return gridOver(cloud, green.outline, cell, at);
  };

/** Each cell the mean of the points round it under a Gaussian of standard deviation `width`. */
export const smoothedGrid =
  (plan: LidarPlan, cell: number, width: number): Instrument =>
  (green, seed) => {
    const cloud = cloudOf(green, seeded(seed), plan);
    const near = squaresOf(cloud);
    return gridOver(cloud, green.outline, cell, (x, y) => {
      let sum = 0;
      let mass = 0;
      for (const k of near(x, y, 3 * width)) {
        const d = Math.hypot(cloud.spots.x[k] - x, cloud.spots.y[k] - y);
        const w = Math.exp(-0.5 * (d / width) ** 2);
        sum += w * cloud.z[k];
        mass += w;
      }
      return sum / mass;
    });
  };

/** The same survey with its error stated. */
export const stating =
  (instrument: Instrument, sigma: number): Instrument =>
  (green, seed) => ({ ...instrument(green, seed), statedSigma: sigma });

const LIDAR = { noise: 0.04, step: 0.03 };
const sparse: LidarPlan = { ...LIDAR, density: 1.5 };
const dense: LidarPlan = { ...LIDAR, density: 4 };

const unstated: readonly (readonly [name: string, sigma: number, make: Instrument])[] = [
  ['rover 1 m', 0.008, rover({ spacing: 1, noise: 0.008 })],
  ['rover, drift', 0.013, rover({ spacing: 1, noise: 0.008, drift: 0.01, over: 120 })],
  ['rover, jump', 0.011, rover({ spacing: 1, noise: 0.008, jump: 0.015 })],
  ['rover 2 m', 0.008, rover({ spacing: 2, noise: 0.008 })],
  ['lidar 1.5', 0.04, lidarPoints(sparse)],
  ['lidar 4', 0.04, lidarPoints(dense)],
  ['1 m grid of 1.5', 0.04, meanGrid(sparse, 1)],
  ['1 m grid of 4', 0.04, meanGrid(dense, 1)],
  ['triangles of 1.5', 0.04, triangleGrid(sparse, 0.5)],
  ['triangles of 4', 0.04, triangleGrid(dense, 0.5)],
  ['smoothed 1.5', 0.04, smoothedGrid(sparse, 0.5, 0.8)],
  ['smoothed 4', 0.04, smoothedGrid(dense, 0.5, 0.8)],
];

export const instruments: ReadonlyMap<string, Instrument> = new Map(
  unstated.flatMap(([name, sigma, make]): [string, Instrument][] => [
    [name, make],
    [`${name}, stated`, stating(make, sigma)],
  ]),
);
