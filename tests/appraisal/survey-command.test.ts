import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { PNG } from 'pngjs';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { run } from '../../src/cli/run.js';
import { localPlane } from '../../src/survey/crs/plane.js';
import { madeUpSurvey } from './made-up-survey.js';

let folder: string;
const at = (name: string): string => join(folder, name);

/** A made-up green of 9 m radius at 1.5 W, 52.3 N: its outline as a map, and points in US survey feet. */
const plane = localPlane(-1.5, 52.3);
const survey = madeUpSurvey({
  ground: (x, y) => 0.02 * x + 0.01 * y,
  spacing: 1,
  noise: 0.006,
  seed: 4,
  reach: 12,
});
const FOOT = 1200 / 3937;
const CRS =
  '+proj=tmerc +lat_0=52.3 +lon_0=-1.5 +k=1 +x_0=600000 +y_0=250000 +datum=WGS84 +units=us-ft';

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'runnel-survey-'));
  const rows = Array.from(survey.x, (x, i) =>
    [600_000 + x - 388_000, 250_000 + survey.y[i] - 3_608_000, survey.z[i]].map((v) =>
      (v / FOOT).toFixed(4),
    ),
  );
  writeFileSync(at('feet.csv'), `e,n,h\n${rows.join('\n')}\n`);
  writeFileSync(at('swapped.csv'), rows.map(([e, n, h]) => `${n},${e},${h}`).join('\n'));
  const ring = Array.from({ length: 49 }, (_, k) => {
    const a = (2 * Math.PI * (k % 48)) / 48;
    return plane.toMap(9 * Math.cos(a), 9 * Math.sin(a));
  });
  writeFileSync(
    at('map.geojson'),
    JSON.stringify({
      type: 'FeatureCollection',
      features: [
        {
          type: 'Feature',
          properties: { golf: 'green', ref: '4' },
          geometry: { type: 'Polygon', coordinates: [ring] },
        },
      ],
    }),
  );
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const command = async (
  ...args: readonly string[]
): Promise<{ code: number; out: string; words: string }> => {
  let out = '';
  let words = '';
  const stdout = vi.spyOn(process.stdout, 'write').mockImplementation((text) => {
    out += text;
    return true;
  });
  const stderr = vi.spyOn(process.stderr, 'write').mockImplementation((text) => {
    words += text;
    return true;
  });
  try {
    const code = await run(['survey', ...args]);
    return { code, out, words };
  } finally {
    stdout.mockRestore();
    stderr.mockRestore();
  }
};

describe('runnel survey', () => {
  it('judges a survey in feet on the outline of a map, as JSON', async () => {
    const { code, out } = await command(
      ...[at('feet.csv'), '--outline', at('map.geojson'), '--crs', CRS, '--json'],
      ...['--svg', at('s.svg'), '--png', at('s.png')],
    );
    expect(code).toBe(0);
    const report = JSON.parse(out) as Record<string, number | string>;
    expect(report.verdict).toBe('break-tables');
    expect(report.points_on_green).toBeGreaterThan(200);
    expect(report.coverage).toBe(1);
    expect(report.area_m2).toBeGreaterThan(251);
    expect(Math.abs(Number(report.noise_m) - 0.006)).toBeLessThan(0.0015);

    const svg = readFileSync(at('s.svg'), 'utf8');
    expect(svg.startsWith('<')).toBe(true);
    expect(svg).toContain('What this survey is worth');
    expect(svg).toContain('contours every 2 in');
    // The file by its own name, wherever it lies.
    expect(svg).toContain('feet.csv');
    expect(svg).not.toContain(at('feet.csv'));
    const png = PNG.sync.read(readFileSync(at('s.png')));
    // A5 at 200 dots an inch.
    expect(Math.abs(png.width - (148 / 25.4) * 200)).toBeLessThan(3);
    let dark = 0;
    for (let i = 0; i < png.data.length; i += 4) if (png.data[i] < 100) dark += 1;
    expect(dark).toBeGreaterThan(5000);
  });

  it('gives the same bytes for the same survey', { tags: 'long' }, async () => {
    const args = [at('feet.csv'), '--outline', at('map.geojson'), '--crs', CRS];
    await command(...args, '--png', at('a.png'), '--svg', at('a.svg'));
    await command(...args, '--png', at('b.png'), '--svg', at('b.svg'));
    expect(readFileSync(at('a.png')).equals(readFileSync(at('b.png')))).toBe(true);
    expect(readFileSync(at('a.svg')).equals(readFileSync(at('b.svg')))).toBe(true);
  });

  it('shows the verdict first, in words, with what is asked and why', async () => {
    const { code, out } = await command(
      ...[at('feet.csv'), '--outline', at('map.geojson'), '--crs', CRS, '--units', 'metric'],
    );
    expect(code).toBe(0);
    const lines = out.split('\n');
    expect(lines[0]).toMatch(
      /feet\.csv: fit for break tables \(the aim of four in five ten-foot putts/,
    );
    expect(out).toMatch(/ {2}noise +[5-7] mm/);
    expect(out).toContain('asked: points no more than 2.2 m apart');
  });

  it.each<[string, () => string[], RegExp]>([
    ['no such file', () => [at('none.csv')], /none\.csv: there is no such file/],
    ['a folder', () => [folder], /this is a folder, not a file/],
    ['no file at all', () => [], /no survey file is named/],
    [
      'exchanged axes',
      () => [at('swapped.csv'), '--outline', at('map.geojson'), '--crs', CRS],
      /the points land [\d ]+ km from the outline; with x and y exchanged they fit/,
    ],
    [
      'an unknown system',
      () => [at('feet.csv'), '--outline', at('map.geojson'), '--crs', 'EPSG:1'],
      /the coordinate system "EPSG:1" is not known/,
    ],
    [
      'no such green',
      () => [at('feet.csv'), '--outline', at('map.geojson'), '--hole', '7'],
      /no outline of a green of hole 7/,
    ],
    ['a hole of nothing', () => [at('feet.csv'), '--hole', '7'], /--hole without --course/],
    ['no class', () => [at('feet.csv'), '--classes', 'ground'], /"ground" is not a class/],
    ['no length', () => [at('feet.csv'), '--sigma', 'x'], /--sigma: "x" is not a length/],
    ['no unit', () => [at('feet.csv'), '--unit', 'yd'], /unit/],
  ])('refuses %s in one line, exit 2, and writes nothing', async (_, args, message) => {
    const before = readdirSync(folder).sort();
    const { code, out, words } = await command(...args(), '--png', at('never.png'));
    expect(code).toBe(2);
    expect(out).toBe('');
    expect(words).toMatch(message);
    expect(words.trimEnd()).not.toContain('\n');
    expect(existsSync(at('never.png'))).toBe(false);
    expect(readdirSync(folder).sort()).toEqual(before);
  });
});
