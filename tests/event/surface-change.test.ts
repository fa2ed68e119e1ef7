import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { trueGreen } from '../../course-data/vellamoor/truth.js';
import { commonGround } from '../../src/event/common-ground.js';
import { surfaceChange } from '../../src/event/surface-change.js';
import { boxOf, insideRing, type Polygon, signedArea } from '../../src/geometry.js';
import { normalQuantile } from '../../src/surface/normal-distribution.js';
import { H, type Surface } from '../../src/surface/surface.js';
import { areaOfPolygon } from '../../src/terrain/regions/region.js';
import { atDepth } from '../depth.js';
import { circleRing, plane, quadric } from '../surface/analytic.js';
import { roundGreen } from './grounds.js';
import { bump, type Resurveyed, resurveyed } from './resurveyed.js';
import { calm, PLACES, wavy } from './waves.js';

const recorded = JSON.parse(
  readFileSync(new URL('./recorded/normal-quantiles.json', import.meta.url), 'utf8'),
) as { quantiles: [number, number][] };

/** Metres between the nodes that are compared. */
const GRID_STEP = 0.25;

describe('the quantile of the normal distribution', () => {
  it('is that of SciPy', () => {
    for (const [p, z] of recorded.quantiles) {
      expect(Math.abs(normalQuantile(p) - z)).toBeLessThan(1e-11 * Math.max(1, Math.abs(z)));
    }
  });

  it('gives the textbook threshold of one test, and Bonferroni’s of a hundred', () => {
    const level = plane(roundGreen(6), 0, 0);
    expect(surfaceChange(level, level, 1).threshold).toBeCloseTo(1.959964, 6);
    expect(surfaceChange(level, level, 100).threshold).toBeCloseTo(3.480756, 6);
  });
});

describe('two exact surfaces', () => {
  const green = roundGreen(14);
  const flat = plane(green, 0.01, -0.015);
  /** Ground raised by a cap that is `rise` high in its middle and nothing at its rim. */
  const raised = (rise: number, radius: number, [cx, cy]: readonly [number, number]) => ({
    ...flat,
    at: (x: number, y: number, jet: Float64Array): void => {
      flat.at(x, y, jet);
      const r2 = ((x - cx) ** 2 + (y - cy) ** 2) / (radius * radius);
      if (r2 < 1) jet[H] += rise * (1 - r2);
    },
  });

  it('that are the same moved nowhere', () => {
    const change = surfaceChange(flat, plane(green, 0.01, -0.015), 100);
    expect(change.regions).toEqual([]);
    expect(change.shift).toBe(0);
    expect(change.movedArea).toBe(0);
  });

  it('show a raised cap: where, its area, its mean (half its height) and its top', () => {
    const change = surfaceChange(flat, raised(0.05, 4, [2, 15]), 100);
    expect(change.regions.length).toBe(1);
    const [region] = change.regions;
    // To half a cell along its rim.
    const half = (2 * Math.PI * 4 * GRID_STEP) / 2;
    expect(Math.abs(region.area - Math.PI * 16)).toBeLessThan(half);
    expect(region.meanChange).toBeCloseTo(0.025, 3);
    expect(region.greatestChange).toBeCloseTo(0.05, 3);
    expect(Math.hypot(region.middle[0] - 2, region.middle[1] - 15)).toBeLessThan(0.3);
    expect(Math.abs(change.shift)).toBeLessThan(1e-12);
  });

  it('show sunk ground at the edge as well, each region with its sign', () => {
    const both = raised(0.05, 4, [2, 15]);
    const sunk = {
      ...both,
      at: (x: number, y: number, jet: Float64Array): void => {
        both.at(x, y, jet);
        if (y < 4) jet[H] -= 0.02;
      },
    };
    const { regions } = surfaceChange(flat, sunk, 100);
    expect(regions.map((r) => Math.sign(r.meanChange)).sort()).toEqual([-1, 1]);
    const low = regions.find((r) => r.meanChange < 0)!;
    // A segment of a circle of 14 m, 4 m high.
    const half = Math.acos(10 / 14);
    expect(low.area).toBeCloseTo(14 * 14 * (half - Math.sin(half) * Math.cos(half)), -0.3);
    expect(low.meanChange).toBeCloseTo(-0.02, 3);
  });

  it('take another benchmark off when asked, and not otherwise', () => {
    const lifted = plane(green, 0.01, -0.015, 0.03);
    const change = surfaceChange(flat, lifted, 100);
    expect(change.shift).toBeCloseTo(0.03, 12);
    expect(change.regions.length).toBe(1);
    expect(change.regions[0].area).toBeCloseTo(Math.abs(signedArea(green)), 6);
    expect(surfaceChange(flat, lifted, 100, { level: true }).regions).toEqual([]);
  });

  it('tell how well the green itself is known, whatever lies round it', () => {
    /** One centimetre; four beyond x = 7 and all round the green. */
    const heightSd = (x: number, y: number): number =>
      x > 7 || Math.hypot(x, y - 14) > 14 ? 0.04 : 0.01;
    const wavy = {
      ...flat,
      at: (x: number, y: number, jet: Float64Array): void => {
        flat.at(x, y, jet);
        jet[H] += 0.01 * Math.sin(2 * x);
      },
    };
    const known = { ...flat, trust: { heightSd } as unknown as Surface['trust'] };
    const change = surfaceChange(known, wavy, 400);
    expect(change.regions).toEqual([]);
    expect(change.medianSd).toBeCloseTo(0.01, 6);
    // A segment of a circle of 14 m, 7 m high: a sixth of the circle's angle to either side.
    const half = Math.acos(7 / 14);
    const segment = 14 * 14 * (half - Math.sin(half) * Math.cos(half));
    expect(Math.abs(change.unknownArea / segment - 1)).toBeLessThan(0.03);
    // Of the wave's square a half, over one or four centimetres.
    const share = segment / (Math.PI * 14 * 14);
    const ratio = Math.sqrt(0.5 * (1 - share + share / 16));
    expect(Math.abs(change.restRatio / ratio - 1)).toBeLessThan(0.03);
  });

  it('know whether any of the ground is known well enough for a change to be told', () => {
    const knownTo = (sd: number) =>
      ({ ...flat, trust: { heightSd: () => sd } as unknown as Surface['trust'] }) as Surface;
    expect(surfaceChange(flat, flat, 100).isKnown).toBe(true);
    expect(surfaceChange(knownTo(0.02), flat, 100).isKnown).toBe(true);
    expect(surfaceChange(knownTo(0.05), flat, 100).isKnown).toBe(false);
    expect(surfaceChange(knownTo(Number.NaN), flat, 100).isKnown).toBe(false);
  });

  it('must share an outline', () => {
    const other = quadric(circleRing(9), 0.01, 0.01);
    expect(() => surfaceChange(flat, other, 10)).toThrow(RangeError);
  });
});

describe('ground in waves', () => {
  /** tests/live/event-scipy.test.ts made the record. */
  it('moved in the regions that scipy.ndimage.label finds', () => {
    const { regions: labelled } = JSON.parse(
      readFileSync(new URL('./recorded/moved-regions.json', import.meta.url), 'utf8'),
    ) as { regions: { area: number; mean: number; greatest: number }[] };
    const { regions } = surfaceChange(calm, wavy, PLACES);
    expect(labelled.length).toBeGreaterThan(8);
    expect(regions.length).toBe(labelled.length);
    for (const theirs of labelled) {
      const ours = regions.find((one) => Math.abs(one.greatestChange - theirs.greatest) < 1e-9);
      expect(ours).toBeDefined();
      // Ours is cut along the level and the outline, theirs is a count of cells.
      const rim = 2 * Math.sqrt(Math.PI * theirs.area) * GRID_STEP;
      expect(Math.abs(ours!.area - theirs.area)).toBeLessThan(0.5 * rim);
      // A node or two on the rim may fall either way.
      expect(Math.abs(ours!.meanChange - theirs.mean)).toBeLessThan(1e-4);
    }
  });
});

/** Mean of a field over a polygon, by a grid of points. */
const meanOver = (polygon: Polygon, field: (x: number, y: number) => number): number => {
  const box = boxOf(polygon[0]);
  const values: number[] = [];
  for (let y = box.minY; y < box.maxY; y += 0.2) {
    for (let x = box.minX; x < box.maxX; x += 0.2) {
      if (insideRing(polygon[0], x, y)) values.push(field(x, y));
    }
  }
  return values.reduce((sum, v) => sum + v, 0) / values.length;
};

// In the quick run change-by-rule and disc-scan hold the same, without fits.
describe.skipIf(atDepth(true, false))('two surveys with noise', { tags: 'deep' }, () => {
  const HOLES = ['5', '12'];
  const compared = (older: Resurveyed, newer: Resurveyed) =>
    surfaceChange(
      older.surface,
      newer.surface,
      older.points.x.length,
      {},
      {
        older: older.points,
        newer: newer.points,
      },
    );

  it('of ground that did not move raise no alarm', () => {
    HOLES.forEach((id, i) => {
      const older = resurveyed(trueGreen(id), 100 + i);
      const newer = resurveyed(trueGreen(id), 200 + i);
      const change = compared(older, newer);
      expect(change.regions, `green ${id}`).toEqual([]);
      expect(change.restRatio).toBeLessThan(1.3);
      expect(Math.abs(change.shift)).toBeLessThan(0.003);
    });
  });

  it('find ground that was raised by 5 cm, where it was and nothing else', () => {
    HOLES.forEach((id, i) => {
      const green = trueGreen(id);
      const lift = bump(green, 0.05, 4);
      const older = resurveyed(green, 300 + i);
      const newer = resurveyed(green, 400 + i, lift.height);
      const change = compared(older, newer);
      expect(change.regions.length, `green ${id}`).toBe(1);
      const [region] = change.regions;
      const off = Math.hypot(
        region.greatestAt[0] - lift.middle[0],
        region.greatestAt[1] - lift.middle[1],
      );
      expect(off).toBeLessThan(1.5);
      // What rose by over a standard deviation or two of the difference is found, no more than that.
      expect(region.area).toBeGreaterThan(0.3 * Math.PI * 16);
      expect(region.area).toBeLessThan(1.3 * Math.PI * 16);
      expect(areaOfPolygon(region.polygon)).toBe(region.area);
      expect(region.greatestChange).toBeGreaterThan(0.03);
      expect(region.greatestChange).toBeLessThan(0.06);
      // The mean over the region, by the points: the cap's own, to three standard errors.
      const truth = meanOver(region.polygon, lift.height);
      expect(Math.abs(region.meanChange - truth)).toBeLessThan(3 * region.meanSd + 0.001);
      // A raised part does not pass for another benchmark.
      expect(Math.abs(change.shift)).toBeLessThan(0.004);
    });
  });
});

describe('the ground that two surveys have in common', () => {
  const corners = (x0: number, y0: number, x1: number, y1: number) => ({
    x: Float64Array.of(x0, x1, x1, x0, (x0 + x1) / 2),
    y: Float64Array.of(y0, y0, y1, y1, (y0 + y1) / 2),
  });

  it('is where their hulls meet', () => {
    const common = commonGround(corners(0, 0, 10, 10), corners(4, -3, 20, 6));
    expect(signedArea(common)).toBeCloseTo(6 * 6, 9);
    expect(commonGround(corners(0, 0, 1, 1), corners(2, 2, 3, 3))).toEqual([]);
  });
});
