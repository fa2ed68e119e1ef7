import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { readMap } from '../../src/course/read-map.js';
import { INPUT_LIMITS } from '../../src/input-limits.js';
import { runCaptured } from '../cli/run-captured.js';
import { writeTinyCourse } from '../cli/tiny-course.js';
import { tidyCourse } from '../course/untidy-course.js';
import { writtenAs } from '../course/untidy-writers.js';
import { below, randomOfCase } from './chance.js';
import { extremeKinds } from './extreme-kinds.js';
import { uncleanIn } from './judge.js';

/** Sound files whose points, rings and numbers are none that a green has, each found by a fuzzer. */

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'runnel-extremes-'));
});
afterEach(() => rmSync(folder, { recursive: true }));

interface Feature {
  readonly properties: Record<string, string>;
  readonly geometry: { coordinates: unknown };
}

/** The tiny course with its map changed. */
const changedMap = (change: (features: Feature[]) => void): string => {
  writeTinyCourse(folder, '10 ft');
  const file = join(folder, 'map.geojson');
  const map = JSON.parse(readFileSync(file, 'utf8')) as { features: Feature[] };
  change(map.features);
  writeFileSync(file, JSON.stringify(map));
  return file;
};

const refused = async (argv: readonly string[]): Promise<string> => {
  const { code, stderr } = await runCaptured(argv);
  expect([code, uncleanIn(stderr.trim())]).toEqual([2, null]);
  return stderr;
};

const survey = async (rows: readonly string[]): Promise<ReturnType<typeof runCaptured>> => {
  const file = join(folder, 'points.csv');
  writeFileSync(file, `x,y,z\n${rows.join('\n')}\n`);
  return await runCaptured(['survey', file, '--unit', 'm']);
};

describe('extremes', () => {
  it.each([
    ['nothing', [0, 1e-4, 2e-4, 1e-4, 0].map((by) => [by, 0]), 'less than a square metre'],
    // Squares of half a metre are looked at one by one: without end in a country.
    [
      'a village',
      [
        [0, 0],
        [0.01, 0],
        [0.01, 0.005],
        [0, 0.005],
        [0, 0],
      ],
      'more than ten hectares',
    ],
  ])(
    'refuses a green whose outline encloses %s, with a course and without',
    async (_, by, told) => {
      const file = changedMap((features) => {
        const green = features.find(({ properties }) => properties.golf === 'green')!;
        const [[first]] = green.geometry.coordinates as number[][][];
        green.geometry.coordinates = [by.map(([lon, lat]) => [first[0] - lon, first[1] - lat])];
      });
      const points = join(folder, 'surveys/green-12.csv');
      for (const argv of [
        ['holes', folder],
        ['survey', points, '--unit', 'm', '--crs', 'EPSG:32625', '--outline', file],
      ]) {
        expect(await refused(argv)).toContain(`encloses ${told}`);
      }
    },
  );

  it('tells distances from a tee whose outline encloses nothing', async () => {
    for (const by of [1e-4, 0]) {
      changedMap((features) => {
        const tee = features.find(({ properties }) => properties.golf === 'tee')!;
        const [[[lon, lat]]] = tee.geometry.coordinates as number[][][];
        const row = [0, by, 2 * by, by, 0].map((east) => [lon + east, lat]);
        tee.geometry.coordinates = [row];
      });
      const { code, stdout, stderr } = await runCaptured([
        'distances',
        folder,
        '12',
        '--from',
        '100',
      ]);
      expect([code, stderr.includes('internal')]).toEqual([0, false]);
      expect(stdout).not.toMatch(/NaN/);
    }
  });

  it('refuses a ring of more positions than any map has', () => {
    const ring = Array.from({ length: INPUT_LIMITS.mapShape + 1 }, (_, k) => [1e-7 * k, 50]);
    const feature = {
      ...{ type: 'Feature', id: 'wood', properties: { natural: 'wood' } },
      geometry: { type: 'Polygon', coordinates: [ring] },
    };
    const text = JSON.stringify({ type: 'FeatureCollection', features: [feature] });
    expect(() => readMap(text, 'x.json')).toThrow(/x\.json, wood: a ring has 50001 positions/);
  });

  it('takes a hole number of sixteen figures for a name', async () => {
    const file = changedMap((features) => {
      for (const { properties } of features) properties.ref = '9007199254740992';
      const line = features.find(({ properties }) => properties.golf === 'hole')!;
      features.push({ ...line, properties: { golf: 'hole' } });
    });
    const made = await runCaptured(['new', join(folder, 'made'), '--map', file]);
    expect([made.code, made.stderr]).not.toEqual([1, expect.anything()]);
    expect(made.code).not.toBe(1);
  });

  it('misses no hole before a number that no course has', async () => {
    const sound = writtenAs('geojson', tidyCourse({ seed: 9, holes: 3 }));
    writeFileSync(join(folder, 'map.geojson'), sound.replaceAll('"ref":"3"', '"ref":"4294967296"'));
    writeFileSync(
      join(folder, 'course.yaml'),
      'title: Three\nmap: map.geojson\nholes: [{ hole: 1 }, { hole: 2 }]\n',
    );
    const { code, stderr } = await runCaptured(['distances', folder, '1']);
    expect([code, stderr]).toEqual([0, expect.not.stringMatching(/no holes?/)]);
  });

  it('knows the noise of a cloud whose heights are all alike', async () => {
    const rows = Array.from({ length: 121 }, (_, k) => {
      const [i, j] = [k % 11, Math.floor(k / 11)];
      return `${1.6 * i + 0.2 * Math.sin(7 * k)} ${1.6 * j + 0.2 * Math.cos(5 * k)} 0`;
    });
    const head = ['ply', 'format ascii 1.0', 'element vertex 121'];
    const axes = ['x', 'y', 'z'].map((axis) => `property double ${axis}`);
    const file = join(folder, 'level.ply');
    writeFileSync(file, [...head, ...axes, 'end_header', ...rows, ''].join('\n'));
    const { code, stdout } = await runCaptured(['survey', file, '--unit', 'm']);
    expect([code, stdout.includes('NaN')]).toEqual([0, false]);
    expect(stdout).toMatch(/noise +0\.00 in/);
  });

  it('refuses a zone of no number', async () => {
    changedMap(() => {});
    const file = join(folder, 'surveys/green-12.csv');
    const green = ['--course', folder, '--hole', '12'];
    const words = await refused(['survey', file, '--unit', 'm', '--crs', '+proj=utm', ...green]);
    expect(words).toContain('coordinate system');
  });

  it('refuses points that hold no surface', async () => {
    const spots = ['2.631,28.927,1.764', '2.017,14.577,1.751', '26.636,21.087,1.81'];
    const more = ['23.275,0.406,1.777', '5.314,21.376,1.375', '17.734,25.092,1.998'];
    const heap = Array.from({ length: 3_000 }, () => '5.705,15.793,1.904');
    const { code, stderr } = await survey([...spots, ...more, '25.229,22.942,1.419', ...heap]);
    expect([code, uncleanIn(stderr.trim())]).toEqual([2, null]);
    expect(stderr).toContain('the points do not hold a surface');
  });

  it('ends a way down a ravine in time', { tags: 'long' }, async () => {
    const file = decodeURIComponent(new URL('found/long-way.tif', import.meta.url).pathname);
    const start = process.cpuUsage();
    const { code } = await runCaptured(['survey', file, '--unit', 'm']);
    const { user, system } = process.cpuUsage(start);
    expect(code).toBe(0);
    // Some 3 s; its lines took 35 s before they had an end.
    expect((user + system) / 1e6).toBeLessThan(12);
  });
});

describe('heights beside which nothing can be told', () => {
  it('are refused in a line: points on a face of a hundred metres, one of them kilometres away', async () => {
    const [points] = extremeKinds(folder);
    const random = randomOfCase(points.name, 13_000_166);
    below(random, 1);
    const file = join(folder, 'face.csv');
    writeFileSync(file, points.damage(Buffer.from('x'), random, [Buffer.from('x')]));
    const { code, stderr } = await runCaptured(['survey', file, '--unit', 'm']);
    expect(code).toBe(2);
    expect(stderr).toContain('face.csv: its heights are no ground');
    expect(uncleanIn(stderr.trim())).toBeNull();
  });
});
