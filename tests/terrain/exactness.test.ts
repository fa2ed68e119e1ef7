import { describe, expect, it } from 'vitest';
import type { Point, Ring } from '../../src/geometry.js';
import { distance, signedArea, signedDistanceToRing } from '../../src/geometry.js';
import type { Surface } from '../../src/surface/surface.js';
import { H, HX, HXX, HXY, HY, HYY } from '../../src/surface/surface.js';
import { sampleGround } from '../../src/terrain/ground-grid.js';
import { graphOfGround } from '../../src/terrain/points/persistence.js';
import { READ_DEFAULTS, readGreen } from '../../src/terrain/read-green.js';
import type { CriticalPoint, FallArrow, Reading } from '../../src/terrain/reading.js';
import { drainGround } from '../../src/terrain/water/drainage.js';
import { traceWater } from '../../src/terrain/water/water-line.js';
import { analyticSurface, circleRing, plane, quadric, twoTier } from '../surface/analytic.js';
import { randomFrom } from './random-green.js';

/** Bounds that the reading must hold on surfaces of known shape. */
const POINT = 0.05;
const DIRECTION = (0.5 * Math.PI) / 180;
const OUTLET = 0.1;
const BORDER = 0.2;

/** h = -slope * distance to (x0, y0): a cone, with no gradient at its top. */
const cone = (outline: Ring, slope: number, x0: number, y0: number): Surface =>
  analyticSurface(outline, (x, y, jet) => {
    jet.fill(0);
    const u = x - x0;
    const v = y - y0;
    const r = Math.hypot(u, v);
    jet[H] = -slope * r;
    if (r === 0) return;
    jet[HX] = (-slope * u) / r;
    jet[HY] = (-slope * v) / r;
    jet[HXX] = (-slope * v * v) / r ** 3;
    jet[HXY] = (slope * u * v) / r ** 3;
    jet[HYY] = (-slope * u * u) / r ** 3;
  });

const tracerOf = (
  surface: Surface,
  drains: readonly Point[] = [],
  shownDrainDepth = Infinity,
): ((x: number, y: number) => { end: Point; mouth: string }) => {
  const grid = sampleGround(surface, READ_DEFAULTS.gridStep);
  const drainage = drainGround(grid, graphOfGround(grid), { drains, shownDrainDepth });
  return (x, y) => {
    const { points, mouth } = traceWater(drainage, x, y);
    const [ex, ey] = points[points.length - 1];
    return { end: [ex, ey], mouth };
  };
};

/** Where a ray from p leaves a ring, by brute force over its edges. */
const exitOfRay = (ring: Ring, [px, py]: Point, [dx, dy]: Point): Point => {
  let best = Infinity;
  for (let i = 0; i < ring.length; i++) {
    const [ax, ay] = ring[i];
    const [bx, by] = ring[(i + 1) % ring.length];
    const det = (bx - ax) * dy - (by - ay) * dx;
    if (det === 0) continue;
    const t = ((bx - ax) * (ay - py) - (by - ay) * (ax - px)) / det;
    const u = (dx * (ay - py) - dy * (ax - px)) / det;
    if (u >= 0 && u <= 1 && t > 0 && t < best) best = t;
  }
  return [px + best * dx, py + best * dy];
};

const somePoints = (seed: number, radius: number, count: number): Point[] => {
  const random = randomFrom(seed);
  return Array.from({ length: count }, () => {
    const a = 2 * Math.PI * random();
    const r = radius * Math.sqrt(random());
    return [r * Math.cos(a), r * Math.sin(a)] as const;
  });
};

const ofKind = (reading: Reading, kind: CriticalPoint['kind']): CriticalPoint[] =>
  reading.critical.filter((point) => point.kind === kind);

const worstTurn = (arrows: readonly FallArrow[], fall: (at: Point) => Point): number =>
  Math.max(
    ...arrows.map(({ at, toward }) => {
      const [fx, fy] = fall(at);
      return Math.abs(Math.atan2(toward[0] * fy - toward[1] * fx, toward[0] * fx + toward[1] * fy));
    }),
  );

const bandArea = (reading: Reading): number[] =>
  reading.bands.map((band) =>
    band.polygons.reduce(
      (sum, polygon) => sum + polygon.reduce((own, ring) => own + signedArea(ring), 0),
      0,
    ),
  );

describe('a plane', () => {
  const angle = 0.7;
  const grade = 0.025;
  const ring = circleRing(11, 0.4, -0.3, 90);
  const surface = plane(ring, grade * Math.cos(angle), grade * Math.sin(angle));
  const fall: Point = [-Math.cos(angle), -Math.sin(angle)];
  const reading = readGreen(surface);

  it('falls one way, and its water leaves where the fall line does', () => {
    expect(reading.arrows.length).toBeGreaterThan(20);
    expect(worstTurn(reading.arrows, () => fall)).toBeLessThan(DIRECTION);
    const trace = tracerOf(surface);
    for (const p of somePoints(1, 10, 60)) {
      expect(distance(trace(p[0], p[1]).end, exitOfRay(ring, p, fall))).toBeLessThan(OUTLET);
    }
  });

  it('has its high and low point on the edge and no other', () => {
    const across = ring.map(([x, y]) => x * fall[0] + y * fall[1]);
    const low = ring[across.indexOf(Math.max(...across))];
    const high = ring[across.indexOf(Math.min(...across))];
    expect(reading.critical.map((point) => [point.kind, point.onEdge])).toEqual([
      ['high', true],
      ['low', true],
    ]);
    expect(distance(ofKind(reading, 'high')[0].at, high)).toBeLessThan(POINT);
    expect(distance(ofKind(reading, 'low')[0].at, low)).toBeLessThan(POINT);
  });

  it('lies in one band, has no divide, no section, no hollow and straight contours', () => {
    const areas = bandArea(reading);
    expect(areas[2]).toBeCloseTo(signedArea(ring), 9);
    expect(areas.filter((area) => area !== 0).length).toBe(1);
    expect(reading.divides).toEqual([]);
    expect(reading.sections).toEqual([]);
    expect(reading.hollows).toEqual([]);
    for (const { height, lines } of reading.contours) {
      for (const [x, y] of lines.flat()) {
        expect(Math.abs(-grade * (x * fall[0] + y * fall[1]) - height)).toBeLessThan(1e-6);
      }
    }
  });
});

describe('a paraboloid', () => {
  const ring = circleRing(10, 0, 0, 720);
  const [x0, y0] = [1.313, -0.771];
  const bend = 0.006;

  it('upside down: a high point, water straight away from it, bands between circles', () => {
    const surface = quadric(ring, -bend, -bend, x0, y0);
    const reading = readGreen(surface, { bandThresholds: [0.01, 0.02, 0.03, 0.04] });
    const [high] = ofKind(reading, 'high');
    expect(high.onEdge).toBe(false);
    expect(distance(high.at, [x0, y0])).toBeLessThan(POINT);
    expect(worstTurn(reading.arrows, ([x, y]) => [x - x0, y - y0])).toBeLessThan(DIRECTION);
    const trace = tracerOf(surface);
    for (const p of somePoints(2, 9.5, 60)) {
      const exit = exitOfRay(ring, p, [p[0] - x0, p[1] - y0]);
      expect(distance(trace(p[0], p[1]).end, exit)).toBeLessThan(OUTLET);
    }
    for (const band of reading.bands.filter((one) => one.polygons.length > 0)) {
      for (const [x, y] of band.polygons.flat(2) as Point[]) {
        if (Math.abs(signedDistanceToRing(ring, x, y)) < 1e-9) continue;
        const grade = bend * Math.hypot(x - x0, y - y0);
        const off = Math.min(Math.abs(grade - band.from), Math.abs(grade - band.to)) / bend;
        expect(off).toBeLessThan(BORDER / 10);
      }
    }
    expect(reading.sections.map((section) => section.kind)).toEqual(['crown']);
  });

  it('a bowl fills to the lowest place of its edge and runs over there', () => {
    const surface = quadric(ring, bend, bend, x0, y0);
    const reading = readGreen(surface, { shownDrainDepth: Infinity });
    const away = Math.hypot(x0, y0);
    const spill: Point = [(10 * x0) / away, (10 * y0) / away];
    const [low] = ofKind(reading, 'low');
    expect(distance(low.at, [x0, y0])).toBeLessThan(POINT);
    const [hollow] = reading.hollows;
    expect(hollow.drain).toBeNull();
    expect(distance(hollow.at, [x0, y0])).toBeLessThan(POINT);
    const exact = (bend / 2) * (10 - away) ** 2;
    expect(Math.abs(hollow.level - exact)).toBeLessThan(0.001);
    expect(distance(hollow.spill as Point, spill)).toBeLessThan(OUTLET);
    for (const stream of reading.streams) expect(stream.mouth).not.toBe('drain');
  });

  it('a deep bowl has a drain, declared or shown, and all water ends there', () => {
    const surface = quadric(ring, bend, bend, x0, y0);
    const shown = readGreen(surface);
    expect(shown.hollows.map((hollow) => hollow.drain)).toEqual(['shown']);
    expect(shown.streams[0].mouth).toBe('drain');
    expect(shown.sections.map((section) => section.kind)).toEqual(['bowl']);
    const trace = tracerOf(surface, [[x0, y0]]);
    for (const p of somePoints(3, 6.5, 60)) {
      const { end, mouth } = trace(p[0], p[1]);
      expect(mouth).toBe('drain');
      expect(distance(end, [x0, y0])).toBeLessThan(OUTLET);
    }
  });
});

describe('a cone', () => {
  const ring = circleRing(9, 0, 0, 100);
  const [x0, y0] = [-0.83, 0.46];
  const surface = cone(ring, 0.03, x0, y0);
  const reading = readGreen(surface);

  it('has its top where it is, though the ground has no gradient there', () => {
    const [high] = ofKind(reading, 'high');
    expect(distance(high.at, [x0, y0])).toBeLessThan(POINT);
    expect(high.onEdge).toBe(false);
    expect(ofKind(reading, 'saddle')).toEqual([]);
  });

  it('sheds its water straight down its sides', () => {
    expect(worstTurn(reading.arrows, ([x, y]) => [x - x0, y - y0])).toBeLessThan(DIRECTION);
    const trace = tracerOf(surface);
    for (const p of somePoints(4, 8.5, 60)) {
      const exit = exitOfRay(ring, p, [p[0] - x0, p[1] - y0]);
      expect(distance(trace(p[0], p[1]).end, exit)).toBeLessThan(OUTLET);
    }
  });
});

describe('a saddle', () => {
  const radius = 10;
  const ring = circleRing(radius, 0, 0, 720);
  const [x0, y0] = [0.37, 0.21];
  const surface = quadric(ring, 0.006, -0.006, x0, y0);
  const reading = readGreen(surface);

  it('has its saddle, two high and two low points on the edge', () => {
    const [saddle] = ofKind(reading, 'saddle');
    expect(distance(saddle.at, [x0, y0])).toBeLessThan(POINT);
    expect(ofKind(reading, 'saddle').length).toBe(1);
    expect(ofKind(reading, 'high').map((point) => point.onEdge)).toEqual([true, true]);
    expect(ofKind(reading, 'low').map((point) => point.onEdge)).toEqual([true, true]);
  });

  it('is divided along its ridge and drained along its valley', () => {
    expect(reading.divides.length).toBeGreaterThan(0);
    const ridge = reading.divides.flat();
    expect(Math.max(...ridge.map(([, y]) => Math.abs(y - y0)))).toBeLessThan(POINT);
    expect(Math.min(...ridge.map(([x]) => x))).toBeLessThan(-9);
    expect(Math.max(...ridge.map(([x]) => x))).toBeGreaterThan(9);
    for (const [x] of reading.valleys.flat()) expect(Math.abs(x - x0)).toBeLessThan(POINT);
  });

  it('sheds its water along hyperbolas, (x - x0)(y - y0) constant', () => {
    const fall = ([x, y]: Point): Point => [-(x - x0), y - y0];
    expect(worstTurn(reading.arrows, fall)).toBeLessThan(DIRECTION);
    const trace = tracerOf(surface);
    for (const [x, y] of somePoints(5, 9.5, 60)) {
      const c = (x - x0) * (y - y0);
      // Along the hyperbola by its own parameter, to the edge.
      let low = 0;
      let high = 20;
      const at = (s: number): Point => [x0 + (x - x0) * Math.exp(-s), y0 + (y - y0) * Math.exp(s)];
      for (let round = 0; round < 60; round++) {
        const s = (low + high) / 2;
        if (signedDistanceToRing(ring, ...at(s)) < 0) low = s;
        else high = s;
      }
      const { end } = trace(x, y);
      expect(distance(end, at(low))).toBeLessThan(OUTLET);
      expect(Math.abs((end[0] - x0) * (end[1] - y0) - c)).toBeLessThan(0.05);
    }
  });
});

describe('a two-tier green', () => {
  const ring = circleRing(11, 0, 11, 120);
  const [rise, at, width, tilt, face] = [0.45, 12.3, 1.6, 0.012, 0.05];
  const surface = twoTier(ring, rise, at, width, tilt);
  const reading = readGreen(surface, { faceGrade: face });
  /** Half the depth of the face: where rise/(2 width) sech^2 + tilt comes down to the grade of a face. */
  const half = width * Math.atanh(Math.sqrt(1 - ((face - tilt) * 2 * width) / rise));

  it('is named by its tiers and its face', () => {
    expect(reading.sections.map((section) => section.name).sort()).toEqual([
      'lower tier',
      'middle face',
      'upper tier',
    ]);
  });

  it('has the borders of its sections where the grade says', () => {
    const inner = (name: string): number[] =>
      reading.sections
        .filter((section) => section.name === name)
        .flatMap((section) => section.polygons.flat(2) as Point[])
        .filter(([x, y]) => signedDistanceToRing(ring, x, y) < -1e-9)
        .map(([, y]) => y);
    expect(inner('middle face').length).toBeGreaterThan(50);
    for (const y of inner('middle face')) {
      expect(Math.abs(Math.abs(y - at) - half)).toBeLessThan(BORDER);
    }
    for (const y of inner('lower tier')) expect(Math.abs(y - (at - half))).toBeLessThan(BORDER);
    for (const y of inner('upper tier')) expect(Math.abs(y - (at + half))).toBeLessThan(BORDER);
  });

  it('falls to the front everywhere and drains over the front edge', () => {
    expect(worstTurn(reading.arrows, () => [0, -1])).toBeLessThan(DIRECTION);
    const trace = tracerOf(surface);
    for (const [x, y] of somePoints(6, 10, 40)) {
      const p: Point = [x, y + 11];
      expect(distance(trace(p[0], p[1]).end, exitOfRay(ring, p, [0, -1]))).toBeLessThan(OUTLET);
    }
  });

  it('is a false front where the face reaches the front edge', () => {
    const front = readGreen(twoTier(ring, rise, 1.5, width, tilt), { faceGrade: face });
    expect(front.sections.map((section) => section.name)).toEqual(['false front']);
    const back = readGreen(twoTier(ring, -rise, 20.5, width, -tilt), { faceGrade: face });
    expect(back.sections.map((section) => section.name)).toEqual(['back false edge']);
  });
});

describe('a straight valley', () => {
  /** h = slope y + bend x^2 / 2: every fall line draws near the axis, and all water leaves at its foot. */
  const ring = circleRing(10, 0, 10, 120);
  const [bend, slope] = [0.012, 0.02];
  const surface = analyticSurface(ring, (x, y, jet) => {
    jet.fill(0);
    jet[H] = slope * y + (bend / 2) * x * x;
    jet[HX] = bend * x;
    jet[HY] = slope;
    jet[HXX] = bend;
  });
  const reading = readGreen(surface);
  const [main] = reading.streams;

  it('has its main drainage line on its axis, down to its outlet', () => {
    expect(main.main).toBe(true);
    expect(main.mouth).toBe('edge');
    const [x, y] = main.points[main.points.length - 1];
    expect(distance([x, y], [0, 0])).toBeLessThan(OUTLET);
    const [, top] = main.points[0];
    expect(top).toBeGreaterThan(12);
  });

  it('gathers what drains to it: the area grows to that of its catchment', () => {
    const last = main.area[main.area.length - 1];
    expect(last).toBeGreaterThan(0.5 * reading.area);
    expect(last).toBeLessThanOrEqual(1.001 * reading.area);
    for (let k = 1; k < main.area.length; k++) {
      expect(main.area[k]).toBeGreaterThanOrEqual(main.area[k - 1]);
    }
  });
});
