import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { FeatureCollection, Position } from 'geojson';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { shareFits } from '../fitted-demo.js';
import { runCaptured } from './run-captured.js';
import { type SmallCourse, smallCourse } from './small-course.js';

const positionsOf = (coordinates: unknown): Position[] =>
  Array.isArray(coordinates) && typeof coordinates[0] === 'number'
    ? [coordinates as Position]
    : (coordinates as unknown[]).flatMap(positionsOf);

/** Twice the signed area of a closed ring of positions. */
const turn = (ring: readonly Position[]): number => {
  let sum = 0;
  for (let k = 1; k < ring.length; k++) {
    sum +=
      (ring[k - 1][0] - ring[0][0]) * (ring[k][1] - ring[0][1]) -
      (ring[k][0] - ring[0][0]) * (ring[k - 1][1] - ring[0][1]);
  }
  return sum;
};

describe('runnel green', () => {
  let course: SmallCourse;
  beforeAll(() => {
    course = smallCourse([7]);
    shareFits(course.out);
  });
  afterAll(() => course.remove());

  it('tells what it read in words, and makes the page', async () => {
    const { code, stdout, stderr } = await runCaptured([
      'green',
      course.folder,
      '7',
      '--out',
      course.out,
    ]);
    expect(code, stderr).toBe(0);
    for (const words of ['main drainage', 'high point', 'saddle', 'crown', 'best leave']) {
      expect(stdout).toContain(words);
    }
    expect(stdout).not.toMatch(/NaN|undefined|null|-0\.0/);
    const page = join(course.out, 'links', 'pocket-green-7.pdf');
    expect(readFileSync(page).subarray(0, 5).toString()).toBe('%PDF-');
  });

  it('pours water: words, figures, a page and GeoJSON of one and the same streams', async () => {
    const places = ['--pour', '12,5,left', '--pour', '8,9,left'];
    const args = ['green', course.folder, '7', ...places, '--out', course.out];
    const words = await runCaptured(args);
    expect(words.code, words.stderr).toBe(0);
    expect(words.stdout).toMatch(
      /pour 1 +36\.0 ft on, 34\.4 ft left: runs [\d.]+ ft, falls \d+ in/,
    );
    expect(words.stdout).toMatch(/falls from the high point .*\n.*leaves over the edge .* \(A\)/);
    expect(words.stdout).not.toMatch(/NaN|undefined|null|-0\.0/);
    const page = readFileSync(join(course.out, 'links', 'pocket-water-7.pdf'));
    expect(page.subarray(0, 5).toString()).toBe('%PDF-');
    const told = await runCaptured([...args, '--json', '--geojson']);
    const { water } = JSON.parse(told.stdout);
    expect(water.pours.length).toBe(2);
    const { features } = JSON.parse(
      readFileSync(join(course.out, 'links', 'green-7.geojson'), 'utf8'),
    ) as FeatureCollection;
    const kinds = features.map((one) => one.properties?.feature);
    expect(kinds.filter((kind) => kind === 'stream').length).toBe(2);
    expect(kinds.filter((kind) => kind === 'catchment').length).toBe(water.catchments.length);
    for (const pour of water.pours) {
      expect(pour.fall_m).toBeCloseTo(pour.way_m[0][2] - pour.way_m.at(-1)[2], 3);
      expect(pour.leaves.at_m).toEqual(pour.way_m.at(-1).slice(0, 2));
    }
  });

  it('refuses to pour off the green, and what is no place', async () => {
    for (const [place, words] of [
      ['40,5,left', 'is off its green'],
      ['12,5', 'write paces on, paces in and the side: --pour 12,5,left'],
    ]) {
      const args = ['green', course.folder, '7', '--pour', place, '--out', course.out];
      const { code, stderr } = await runCaptured(args);
      expect(code).toBe(2);
      expect(stderr).toContain(words);
    }
  });

  it('gives all of it as figures, the same again, in metres and per cent', async () => {
    const args = ['green', course.folder, '7', '--json', '--out', course.out];
    const first = await runCaptured(args);
    expect(first.code, first.stderr).toBe(0);
    expect(first.stderr).toBe('');
    const figures = JSON.parse(first.stdout);
    expect(figures.hole).toBe('7');
    const areas = figures.bands.map((band: { area_m2: number }) => band.area_m2);
    expect(areas.reduce((a: number, b: number) => a + b, 0)).toBeCloseTo(figures.area_m2, 0);
    expect(figures.drainage.filter((line: { main: boolean }) => line.main).length).toBe(1);
    expect(figures.points.map((point: { kind: string }) => point.kind)).toContain('saddle');
    expect(figures.locations.length).toBeGreaterThan(0);
    for (const location of figures.locations) expect(location.straight_lanes.length).toBe(2);
    expect((await runCaptured(args)).stdout).toBe(first.stdout);
  });

  it('writes GeoJSON after RFC 7946: longitude and latitude, closed rings, right-hand turn', async () => {
    const { code } = await runCaptured([
      'green',
      course.folder,
      '7',
      '--geojson',
      '--out',
      course.out,
    ]);
    expect(code).toBe(0);
    const file = join(course.out, 'links', 'green-7.geojson');
    const collection = JSON.parse(readFileSync(file, 'utf8')) as FeatureCollection;
    expect(collection.type).toBe('FeatureCollection');
    expect(Object.keys(collection)).not.toContain('crs');
    const kinds = new Set(collection.features.map((feature) => feature.properties?.feature));
    for (const kind of [
      'green',
      'slope band',
      'contour',
      'section',
      'main drainage line',
      'divide',
      'saddle',
      'high point',
      'fall arrow',
      'straight lane',
      'best leave',
    ]) {
      expect(kinds).toContain(kind);
    }
    // The green as the map has it: every feature lies within its box.
    const map = JSON.parse(readFileSync(join(course.folder, 'map.geojson'), 'utf8'));
    const green = collection.features[0];
    const edge = positionsOf((green.geometry as { coordinates: unknown }).coordinates);
    const onMap = (map as FeatureCollection).features
      .filter((feature) => feature.properties?.golf === 'green')
      .map((feature) => positionsOf((feature.geometry as { coordinates: unknown }).coordinates))
      .find((ring) => Math.hypot(ring[0][0] - edge[0][0], ring[0][1] - edge[0][1]) < 1e-3);
    if (onMap === undefined) throw new Error('the green is not on the map');
    const nearest = (p: Position): number =>
      Math.min(...onMap.map((q) => Math.hypot(p[0] - q[0], p[1] - q[1])));
    for (const p of edge) expect(nearest(p)).toBeLessThan(2e-7);
    const [west, east] = [Math.min(...edge.map((p) => p[0])), Math.max(...edge.map((p) => p[0]))];
    const [south, north] = [Math.min(...edge.map((p) => p[1])), Math.max(...edge.map((p) => p[1]))];
    for (const { geometry } of collection.features) {
      for (const [x, y] of positionsOf((geometry as { coordinates: unknown }).coordinates)) {
        expect(x).toBeGreaterThan(west - 1e-7);
        expect(x).toBeLessThan(east + 1e-7);
        expect(y).toBeGreaterThan(south - 1e-7);
        expect(y).toBeLessThan(north + 1e-7);
      }
      if (geometry.type !== 'MultiPolygon') continue;
      for (const polygon of geometry.coordinates) {
        polygon.forEach((ring, k) => {
          expect(ring[0]).toEqual(ring[ring.length - 1]);
          // To eight decimals a sliver may lose its area.
          const twice = turn(ring);
          if (Math.abs(twice) > 1e-13) expect(twice > 0).toBe(k === 0);
        });
      }
    }
  });

  it('refuses a hole that is not there in one line, and writes nothing', async () => {
    const out = join(course.root, 'nothing');
    const { code, stdout, stderr } = await runCaptured([
      'green',
      course.folder,
      '99',
      '--out',
      out,
    ]);
    expect(code).toBe(2);
    expect(stdout).toBe('');
    expect(stderr.trim().split('\n').length).toBe(1);
    expect(stderr).toContain('99');
    expect(existsSync(out) ? readdirSync(out) : []).toEqual([]);
  });
});
