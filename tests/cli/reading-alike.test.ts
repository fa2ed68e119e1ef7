import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { atDepth } from '../depth.js';
import { feature, inSystem, landxml, surface } from '../survey/foreign-binaries.js';
import { writeLas } from '../survey/las-writer.js';
import { runCaptured } from './run-captured.js';
import { writeTinyCourse } from './tiny-course.js';

/** A survey reads alike in every command, and by the lines that `runnel survey` ends with. */

const root = mkdtempSync(join(tmpdir(), 'runnel-alike-'));
const folder = join(root, 'links');
const FEET = 0.3048;
let spots: { e: number; n: number; z: number }[] = [];
let given = '';

beforeAll(() => {
  writeTinyCourse(folder, '10ft');
  spots = readFileSync(join(folder, 'surveys/green-12.csv'), 'utf8')
    .trim()
    .split('\n')
    .slice(1)
    .map((line) => {
      const [, e, n, z] = line.split(',').map(Number);
      return { e, n, z };
    });
  given = readFileSync(join(folder, 'course.yaml'), 'utf8');
});
afterAll(() => rmSync(root, { recursive: true, force: true }));

/** How each was read: the first point depends on the window, and the asker may say what the file states. */
const readAs = (words: string): string =>
  words
    .replace(/; first point [^;]*/, '')
    .replace(/\((?:as asked|the file states it)\)/g, '(told)');

/** The course with the lines for its survey; null: as the course file had it. */
const courseWith = (lines: readonly string[]): void => {
  const text = given
    .replace(/^surveys: .*\n/m, '')
    .replace(/ {4}survey: .*\n/, `${lines.join('\n')}\n`);
  writeFileSync(join(folder, 'course.yaml'), text);
};

const json = async (...args: string[]): Promise<Record<string, unknown>> => {
  const { code, stdout, stderr } = await runCaptured([...args, '--json']);
  expect(code, stderr).toBe(0);
  return JSON.parse(stdout);
};

const FILES: Readonly<
  Record<string, () => { body: string | Uint8Array; name: string; asked?: string[] }>
> = {
  'points in feet, named by the asker': () => ({
    name: 'feet.txt',
    body: spots
      .map(({ e, n, z }, k) =>
        [k + 1, n / FEET, e / FEET, z / FEET].map((v) => v.toFixed(3)).join(' '),
      )
      .join('\n'),
    asked: [
      '--columns',
      'id north east height',
      '--crs',
      'EPSG:32625',
      '--unit',
      'ft',
      '--format',
      'points',
    ],
  }),
  'points whose accuracy is stated': () => ({
    name: 'sigma.csv',
    body: `x,y,z\n${spots.map(({ e, n, z }) => `${e},${n},${z}`).join('\n')}\n`,
    asked: ['--crs', 'EPSG:32625', '--sigma', '10mm'],
  }),
  'a GeoJSON of another system': () => ({
    name: 'points.geojson',
    body: inSystem(
      spots.map(({ e, n, z }) => feature({ type: 'Point', coordinates: [e, n, z] })),
    ).replace(/EPSG::\d+/, 'EPSG::32625'),
  }),
  'one surface of a LandXML': () => ({
    name: 'two.xml',
    body: landxml(
      surface(
        'old',
        spots.map((p) => ({ ...p, z: p.z - 5 })),
      ) + surface('new', spots),
    ),
    asked: ['--surface', 'new', '--crs', 'EPSG:32625'],
  }),
  'a class of a cloud': () => ({
    name: 'cloud.las',
    body: writeLas(
      spots.map(({ e, n, z }) => ({ x: e, y: n, z, group: 8 })),
      32625,
    ),
    asked: ['--classes', '8'],
  }),
};

describe('a survey', { tags: 'long' }, () => {
  // Each is fitted twice; the quick run looks at two.
  const kinds = Object.keys(FILES).filter((_, k) => k % 3 === atDepth(0, k % 3));
  it.each(kinds)('%s reads by the pasted lines as it read alone', async (kind) => {
    const { name, body, asked = [] } = FILES[kind]();
    const file = join(folder, name);
    writeFileSync(file, body);
    const alone = await json('survey', file, ...asked);
    courseWith(alone.course_file as string[]);
    const onCourse = await json('survey', '--course', folder, '--hole', '12');
    expect(readAs(String(onCourse.read_as))).toBe(readAs(String(alone.read_as)));
    expect(onCourse.stated_sigma_m ?? null).toBe(alone.stated_sigma_m ?? null);
  });

  it('reads in green, putt and compare as in survey', async () => {
    writeFileSync(join(folder, 'cloud.las'), FILES['a class of a cloud']().body);
    courseWith(['    survey: { file: cloud.las, classes: [8] }']);
    const on = ['--hole', '12'];
    const told = String((await json('survey', '--course', folder, ...on)).read_as);
    const green = await json('green', folder, '12');
    const file = join(folder, 'cloud.las');
    const { e, n } = spots[Math.floor(spots.length / 2)];
    const [ball, hole] = [`${e},${n - 2}`, `${e},${n}`];
    const at = ['--from', ball, '--hole', hole, '--stimp', '10'];
    const putt = await json('putt', '--survey', file, '--classes', '8', ...at);
    const same = await json('compare', 'course', file, '--course', folder, ...on);
    const found = JSON.stringify([green, putt, same]);
    const words = [...found.matchAll(/"read_as":"([^"]*)"/g)].map(([, text]) => readAs(text));
    expect(words.length).toBeGreaterThanOrEqual(4);
    expect(new Set(words)).toEqual(new Set([readAs(told)]));
  });

  it('by hand is what the course file says it is', async () => {
    const file = join(folder, 'hand.csv');
    const rows = [2, 4, 6, 8].flatMap((on) => [2, 4].map((inn) => `${on},${inn},left,2,6`));
    writeFileSync(file, `on,in,side,grade,clock\n${rows.join('\n')}\n`);
    courseWith(['    survey: { file: hand.csv, format: by-hand }']);
    const made = await json('survey', '--course', folder, '--hole', '12');
    expect(String(made.read_as)).toMatch(/by hand/);
    courseWith(['    survey: { file: surveys/green-12.csv, format: by-hand }']);
    const wrong = await runCaptured(['survey', '--course', folder, '--hole', '12']);
    expect([wrong.code, wrong.stderr]).toEqual([
      2,
      'runnel: surveys/green-12.csv, line 1: no survey by hand; its first line is on,in,side,grade,clock or on,in,side,height cm\n',
    ]);
    const alone = await runCaptured(['survey', file, '--format', 'by-hand']);
    expect(alone.code).toBe(2);
    expect(alone.stderr).toContain('a survey by hand, whose paces start from the edge of a green');
  });

  it('tells what was passed over in the ground model, where its heights are used', async () => {
    const places = spots.map(({ e, n, z }, k) =>
      feature({ type: 'Point', coordinates: k === 0 ? [e, n] : [e, n, z] }),
    );
    writeFileSync(join(folder, 'ground.geojson'), inSystem(places));
    writeFileSync(
      join(folder, 'course.yaml'),
      `${given}ground: { file: ground.geojson, crs: EPSG:32625 }\n`,
    );
    const { stderr, code } = await runCaptured(['distances', folder, '12']);
    expect(code, stderr).toBe(0);
    expect(stderr).toContain('ground.geojson: passed over: 1 position without a height');
  });
});
