import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { below, type Damage, oneOf, type Random } from './chance.js';
import { outlines } from './course-kinds.js';
import type { Kind } from './kinds.js';
import { runProgram } from './run-program.js';

/** Sound files that no surveyor or mapper would write: the figures of their points are the damage. */

const COUNTS = [1, 2, 3, 5, 8, 12, 20, 40, 100, 300];
const SIZES = [1e-6, 1e-3, 0.05, 1, 5, 20, 20, 30, 60, 300, 5_000, 1e6];
const GRADES = [0, 0.02, 0.02, 0.3, 2, 100];
const NOISES = [0, 1e-12, 0.003, 0.01, 0.2, 5, 500];

/** A place in a unit square, by the figure that all places make. */
const placeIn = (figure: number, k: number, count: number, random: Random): [number, number] => {
  const [u, v] = [random(), random()];
  const side = Math.ceil(Math.sqrt(count));
  const angle = (2 * Math.PI * k) / count;
  const figures: (() => [number, number])[] = [
    () => [0.5, 0.5],
    () => [u, u],
    () => [(k % side) / side, Math.floor(k / side) / side],
    () => [0, v],
    () => [0.5 + Math.cos(angle) / 2, 0.5 + Math.sin(angle) / 2],
    () => [k < count / 2 ? 0.01 * u : 1 - 0.01 * u, 0.01 * v],
    () => [Math.round(3 * u) / 3, Math.round(3 * v) / 3],
    () => [u, 1e-4 * v],
    () => [u, v],
  ];
  return figures[figure]();
};

const strangePoints: Damage = (_bytes, random) => {
  const [count, size, figure] = [oneOf(random, COUNTS), oneOf(random, SIZES), below(random, 9)];
  const [grade, noise] = [oneOf(random, GRADES), oneOf(random, NOISES)];
  const heaped = below(random, 12) === 0 ? 5_000 : 0;
  const digits = oneOf(random, [2, 3, 3, 6]);
  const rows = Array.from({ length: count }, (_, k) => {
    const [u, v] = placeIn(figure, k, count, random);
    const far = below(random, 100) === 0 ? oneOf(random, [1, 100, -9999, 1e6]) : 0;
    const height = grade * size * (0.7 * u + 0.3 * v) + noise * (random() - 0.5) + far;
    return [size * u, size * v, height].map((value) => value.toFixed(digits)).join(',');
  });
  rows.push(...Array.from({ length: heaped }, () => rows[0]));
  return Buffer.from(`x,y,z\n${rows.join('\n')}\n`);
};

const pointsKind: Kind = {
  name: 'strange-points',
  damage: strangePoints,
  seeds: () => [{ name: 'points', bytes: Buffer.from('x') }],
  read: async (bytes, _seed, { folder }) => {
    const file = join(folder, 'strange.csv');
    writeFileSync(file, bytes);
    await runProgram(['survey', file, '--unit', 'm']);
  },
};

const RADII = [1e-9, 1e-6, 0.5, 2, 5, 10, 10, 15, 40, 200, 1e5];

/** A ring about a place, longitude and latitude, its points in a figure that no green has. */
const strangeRing = ([lon, lat]: readonly number[], random: Random): number[][] => {
  const [count, radius] = [oneOf(random, [3, 4, 5, 8, 30, 200, 2_000]), oneOf(random, RADII)];
  const figure = below(random, 8);
  const ring = Array.from({ length: count }, (_, k) => {
    const angle = (2 * Math.PI * k) / count;
    const r = radius * (figure === 0 && k % 2 === 1 ? 0.1 : figure === 1 ? random() : 1);
    const [x, y] = [
      r * Math.cos(angle),
      figure === 2 ? radius * Math.sin(2 * angle) : r * Math.sin(angle),
    ];
    const shape =
      figure === 3 ? [x, 0] : figure === 4 ? [0, 0] : figure === 5 ? [x, 0.01 * y] : [x, y];
    return [lon + shape[0] / 70_000, lat + shape[1] / 111_000];
  });
  return below(random, 8) === 0 ? ring : [...ring, ring[0]];
};

interface Feature {
  readonly properties: Readonly<Record<string, string>>;
  readonly geometry: { type: string; coordinates: unknown };
}

/** Where the map is moved to; most often it stays. */
const HOMES = [null, null, null, null, [0, 0], [179.9999, 40], [10, 83.9], [0, 90], [0, -60]];

const moved = (value: unknown, by: readonly number[]): unknown =>
  !Array.isArray(value)
    ? value
    : typeof value[0] === 'number'
      ? [value[0] + by[0], value[1] + by[1]]
      : value.map((one) => moved(one, by));

const strangeMap: Damage = (bytes, random) => {
  const map = JSON.parse(bytes.toString('utf8')) as { features: Feature[] };
  const areas = map.features.filter(({ geometry }) => geometry.type === 'Polygon');
  const greens = areas.filter(({ properties }) => properties.golf === 'green');
  const { geometry } = oneOf(random, below(random, 4) === 0 ? areas : greens);
  const [[at]] = geometry.coordinates as number[][][];
  geometry.coordinates = [strangeRing(at, random)];
  const home = oneOf(random, HOMES);
  if (home !== null) {
    const by = [home[0] - at[0], home[1] - at[1]];
    for (const one of map.features) one.geometry.coordinates = moved(one.geometry.coordinates, by);
  }
  return Buffer.from(JSON.stringify(map));
};

const WAYS = ['holes', 'distances', 'green', 'locate', 'new', 'survey'];

const mapKind = (folder: string): Kind => ({
  name: 'strange-map',
  damage: strangeMap,
  seeds: () => [
    { name: 'map', bytes: readFileSync(join(outlines(folder, 'strange'), 'map.geojson')) },
  ],
  read: async (bytes, _seed, { number }) => {
    const place = outlines(folder, 'strange');
    const map = join(place, 'map.geojson');
    writeFileSync(map, bytes);
    const lines: Record<string, readonly string[]> = {
      holes: ['holes', place],
      distances: ['distances', place, '1', '--from', '100'],
      green: ['green', place, '1', '--out', join(folder, 'out')],
      locate: ['locate', place, '1', '--at', '5,4', '--out', join(folder, 'out')],
      new: ['new', join(folder, `strange-${number}`), '--map', map],
      survey: [
        'survey',
        join(folder, 'strange.csv'),
        '--unit',
        'm',
        '--outline',
        map,
        '--hole',
        '1',
      ],
    };
    writeFileSync(join(folder, 'strange.csv'), 'x,y,z\n0,0,1\n0,5,1\n5,0,1\n5,5,1.1\n');
    await runProgram(lines[WAYS[number % WAYS.length]]);
  },
});

export const extremeKinds = (folder: string): readonly Kind[] => [pointsKind, mapKind(folder)];
