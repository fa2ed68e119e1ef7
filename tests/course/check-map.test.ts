import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { checkMap } from '../../src/course/check-map.js';
import { loadCourse } from '../../src/course/load-course.js';
import { readMap } from '../../src/course/read-map.js';
import { selfCrossing } from '../../src/course/self-crossing.js';
import { soundMap } from '../../src/course/sound-map.js';
import type { Point } from '../../src/geometry.js';

const demo = new URL('../../course-data/vellamoor', import.meta.url).pathname;
const geoJson = readFileSync(`${demo}/map.geojson`, 'utf8');

interface Feature {
  type: 'Feature';
  id: string;
  properties: Record<string, string>;
  geometry: { type: string; coordinates: unknown };
}

const mapWith = (change: (features: Feature[]) => Feature[]): string => {
  const map = JSON.parse(geoJson) as { type: string; features: Feature[] };
  return JSON.stringify({ ...map, features: change(map.features) });
};

const edit = (id: string, change: (feature: Feature) => Feature): string =>
  mapWith((features) => features.map((one) => (one.id === id ? change(one) : one)));

const deep = (value: unknown, move: (at: number[]) => number[]): unknown =>
  Array.isArray(value) && typeof value[0] === 'number'
    ? move(value as number[])
    : (value as unknown[]).map((one) => deep(one, move));

const moved = (feature: Feature, move: (at: number[]) => number[]): Feature => ({
  ...feature,
  geometry: { ...feature.geometry, coordinates: deep(feature.geometry.coordinates, move) },
});

const linesOf = (text: string): string[] =>
  checkMap(readMap(text, 'm')).map(
    ({ severity, feature, problem, cure }) => `${severity}: ${feature}: ${problem}; ${cure}`,
  );

test('the demo map is sound', () => {
  expect(linesOf(geoJson)).toEqual([]);
});

describe('bad maps are named, with the feature and the likely cure', () => {
  test('an outline that crosses itself', () => {
    const text = edit('green/7/1', (feature) => {
      const [ring] = feature.geometry.coordinates as number[][][];
      const tangled = [...ring];
      [tangled[10], tangled[60]] = [tangled[60], tangled[10]];
      return { ...feature, geometry: { type: 'Polygon', coordinates: [tangled] } };
    });
    expect(linesOf(text)).toHaveLength(1);
    expect(linesOf(text)[0]).toMatch(
      /^fault: green\/7\/1: its outline crosses itself near -34\.\d+, 32\.\d+; put its points in order/,
    );
    expect(() => soundMap(readMap(text, 'm'))).toThrow(/^m, green\/7\/1: its outline crosses/);
  });

  test('a hole without tees', () => {
    const text = mapWith((features) =>
      features.filter((one) => !(one.properties.golf === 'tee' && one.properties.ref === '4')),
    );
    expect(linesOf(text)).toEqual([
      'warning: hole/4/1: hole 4 has no tees and is measured from the start of its line; draw golf=tee at its start, or give its tees the tag ref=4',
    ]);
  });

  test('a green that no hole reaches, and the hole that misses it', () => {
    const text = edit('green/9/1', (feature) =>
      moved({ ...feature, properties: { golf: 'green' } }, ([lon, lat]) => [
        lon + 0.004,
        lat + 0.004,
      ]),
    );
    const lines = linesOf(text);
    expect(lines[0]).toMatch(/^warning: hole\/9\/1: hole 9 does not reach a green; end its line/);
    expect(lines[1]).toMatch(
      /^warning: green\/9\/1: a green that no hole reaches; end a line of play/,
    );
  });

  test('one feature with latitude and longitude exchanged', () => {
    const text = edit('bunker/3/1', (feature) => moved(feature, ([lon, lat]) => [lat, lon]));
    expect(linesOf(text)[0]).toMatch(
      /^fault: bunker\/3\/1: lies \d+ km from the rest of the course; its latitude and longitude are exchanged/,
    );
  });

  test('a whole map exchanged is found by its survey', () => {
    const folder = mkdtempSync(join(tmpdir(), 'map-'));
    try {
      cpSync(demo, folder, { recursive: true });
      writeFileSync(
        join(folder, 'map.geojson'),
        mapWith((features) => features.map((one) => moved(one, ([lon, lat]) => [lat, lon]))),
      );
      expect(() => loadCourse(folder)).toThrow(
        /holes\[0\]\.survey: green green\/1\/1 of the map lies outside EPSG:32625.*; with latitude and longitude exchanged it lies inside/,
      );
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  });

  test('coordinates of another course', () => {
    const text = edit('water/5/1', (feature) => moved(feature, ([lon, lat]) => [lon + 3, lat - 1]));
    expect(linesOf(text)[0]).toMatch(
      /^fault: water\/5\/1: lies \d+ km from the rest of the course; it belongs to another course/,
    );
  });

  test('two holes with one number', () => {
    const text = edit('hole/8/1', (feature) => ({
      ...feature,
      properties: { ...feature.properties, ref: '7' },
    }));
    expect(linesOf(text)[0]).toMatch(
      /^fault: hole\/8\/1: a second line of play for hole 7 \(the first is hole\/7\/1\); keep the holes/,
    );
  });

  test('a hole drawn as an area, a map without holes, an empty map', () => {
    const area = edit('hole/2/1', (feature) => ({
      ...feature,
      geometry: {
        type: 'Polygon',
        coordinates: [
          [
            [-34.2, 32.6],
            [-34.201, 32.6],
            [-34.201, 32.601],
            [-34.2, 32.6],
          ],
        ],
      },
    }));
    expect(linesOf(area)[0]).toMatch(
      /^fault: hole\/2\/1: a hole that is not a line; draw golf=hole/,
    );
    const none = mapWith((features) => features.filter((one) => one.properties.golf !== 'hole'));
    expect(linesOf(none).join('\n')).toMatch(/fault: m: no line of play \(golf=hole\)/);
    expect(linesOf('{"type":"FeatureCollection","features":[]}')[0]).toMatch(
      /^fault: m: no feature of a golf course/,
    );
  });

  test('the antimeridian: features cut there are named, features over it are read through', () => {
    const over = mapWith((features) =>
      features.map((one) =>
        moved(one, ([lon, lat]) => {
          const shifted = lon + 34.195 + 180;
          return [shifted > 180 ? shifted - 360 : shifted, lat];
        }),
      ),
    );
    expect(linesOf(over)).toEqual([]);
    const cut = mapWith((features) => [
      ...features.map((one) => moved(one, ([lon, lat]) => [lon + 34.195 + 180 - 360, lat])),
      {
        type: 'Feature',
        id: 'half',
        properties: { golf: 'rough' },
        geometry: {
          type: 'Polygon',
          coordinates: [
            [
              [-180, 32.6],
              [-179.999, 32.6],
              [-179.999, 32.601],
              [-180, 32.6],
            ],
          ],
        },
      },
    ]);
    expect(linesOf(cut).join('\n')).toMatch(/warning: half: it ends at the antimeridian; if it is/);
  });

  test('high latitude', () => {
    const text = mapWith((features) =>
      features.map((one) => moved(one, ([lon, lat]) => [lon, lat + 53])),
    );
    expect(linesOf(text).join('\n')).toMatch(
      /fault: hole\/1\/1: lies at latitude 85\.\d+, where no course is played; latitude and longitude may be/,
    );
  });

  test('coordinates rounded to nothing', () => {
    const text = mapWith((features) =>
      features.map((one) =>
        moved(one, ([lon, lat]) => [-34 + (lon + 34) / 1e5, 32 + (lat - 32) / 1e5]),
      ),
    );
    expect(linesOf(text).join('\n')).toMatch(
      /the whole map lies within 20 m; the coordinates look scaled/,
    );
  });
});

describe('a ring that crosses itself', () => {
  const circle = (n: number): Point[] =>
    Array.from({ length: n }, (_, i) => [
      Math.cos((2 * Math.PI * i) / n),
      Math.sin((2 * Math.PI * i) / n),
    ]);

  test('a bow tie does, a circle and a star without crossings do not', () => {
    expect(
      selfCrossing([
        [0, 0],
        [1, 1],
        [1, 0],
        [0, 1],
      ]),
    ).not.toBeNull();
    expect(selfCrossing(circle(400))).toBeNull();
    const star = circle(40).map(([x, y], i): Point => (i % 2 === 0 ? [x, y] : [0.3 * x, 0.3 * y]));
    expect(selfCrossing(star)).toBeNull();
  });

  test('any two far points exchanged on a circle cross', () => {
    for (let i = 0; i < 60; i++) {
      const ring = circle(60);
      const j = (i + 20) % 60;
      [ring[i], ring[j]] = [ring[j], ring[i]];
      expect(selfCrossing(ring)).not.toBeNull();
    }
  });
});
