import { describe, expect, it } from 'vitest';
import { boxOf, insideRing } from '../../src/geometry.js';
import { fitSurface, groundOfSurvey } from '../../src/surface/fit.js';
import { TWO_SIDED_95 } from '../../src/surface/normal-distribution.js';
import { seededNormals } from '../../src/surface/seeded-normals.js';
import type { Surface } from '../../src/surface/surface.js';
import { chanceOfWrongWay, wrongWayField } from '../../src/terrain/doubt.js';
import { sampleGround } from '../../src/terrain/ground-grid.js';
import { instruments } from '../accuracy/instruments.js';
import { roughGreen } from '../accuracy/rough-greens.js';

const STEP = 1;
/** Half the distance over which a slope is taken of drawn heights, metres. */
const NEAR = 0.05;
const DRAWS = 200;

const fitted = (instrument: string, k: number): Surface => {
  const green = roughGreen(190_600, k);
  const survey = instruments.get(instrument)!(green, 190_600 + k);
  return fitSurface({ ...groundOfSurvey(survey), outline: green.outline }).surface;
};

/** Of grounds drawn from what a fit leaves open, the share whose slope along x lies within on less than 0.85 of the green. */
const shareBelow = ({ outline, trust }: Surface, reach: number): number => {
  const box = boxOf(outline);
  const places: number[] = [];
  const sds: number[] = [];
  const covariance = new Float64Array(3);
  for (let x = box.minX; x < box.maxX; x += STEP) {
    for (let y = box.minY; y < box.maxY; y += STEP) {
      if (!insideRing(outline, x, y)) continue;
      places.push(x - NEAR, y, x + NEAR, y);
      trust!.gradientCovariance(x, y, covariance);
      sds.push(Math.sqrt(covariance[0]));
    }
  }
  const draw = trust!.heightDraws(Float64Array.from(places));
  const normal = seededNormals(190_610);
  let below = 0;
  for (let n = 0; n < DRAWS; n++) {
    const heights = draw(normal);
    const within = sds.filter(
      (sd, k) => Math.abs(heights[2 * k + 1] - heights[2 * k]) <= 2 * NEAR * reach * sd,
    );
    if (within.length < 0.85 * sds.length) below++;
  }
  return below / DRAWS;
};

describe('intervals of 95 % as they are told', () => {
  it('hold most of a green where few of its places are independent', () => {
    const { trust, ...surface } = fitted('lidar 1.5', 6);
    expect(trust!.widening).toBeGreaterThan(1.2);
    const narrow = shareBelow({ ...surface, trust }, TWO_SIDED_95);
    const told = shareBelow({ ...surface, trust }, TWO_SIDED_95 * trust!.widening!);
    expect(narrow).toBeGreaterThan(0.01);
    expect(told).toBeLessThanOrEqual(0.01);
  });

  it('are a tenth wider where many are', () => {
    const surface = fitted('rover 1 m', 1);
    expect(surface.trust!.widening).toBeCloseTo(1.1, 6);
    expect(shareBelow(surface, TWO_SIDED_95)).toBeLessThanOrEqual(0.01);
  });

  it('are as wide where the direction of fall is doubted', () => {
    const { trust, ...surface } = fitted('triangles of 1.5', 6);
    const grid = sampleGround({ ...surface, trust }, 0.5);
    const field = wrongWayField(grid, trust)!;
    const covariance = new Float64Array(3);
    const at = field.findIndex((chance) => chance > 0.01 && chance < 0.2);
    expect(at).toBeGreaterThanOrEqual(0);
    const [i, j] = [at % grid.columns, Math.floor(at / grid.columns)];
    trust!.gradientCovariance(
      grid.originX + i * grid.step,
      grid.originY + j * grid.step,
      covariance,
    );
    const [xx, xy, yy] = covariance.map((one) => trust!.widening! ** 2 * one);
    // The field's covariance is interpolated between nodes.
    expect(field[at]).toBeCloseTo(chanceOfWrongWay(grid.hx[at], grid.hy[at], xx, xy, yy), 1);
    const bare = chanceOfWrongWay(grid.hx[at], grid.hy[at], ...covarianceOf(covariance));
    expect(field[at]).toBeGreaterThan(1.1 * bare);
  });
});

const covarianceOf = (c: Float64Array): [number, number, number] => [c[0], c[1], c[2]];
