import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { normals } from '../event/grounds.js';
import { runCaptured } from './run-captured.js';
import { writeTinyCourse } from './tiny-course.js';

const root = mkdtempSync(join(tmpdir(), 'runnel-compare-'));
const folder = join(root, 'links');
writeTinyCourse(folder, '10ft');
const survey = join(folder, 'surveys/green-12.csv');
const MIDDLE = [388955.7, 3607780.9] as const;
const RADIUS = 3;

/** Keeps the points of the small green and a little round it. */
const cutOut = (file: string): void => {
  const [head, ...lines] = readFileSync(file, 'utf8').trim().split('\n');
  const near = lines.filter((line) => {
    const [, e, n] = line.split(',').map(Number);
    return Math.hypot(e - MIDDLE[0], n - MIDDLE[1]) < 7;
  });
  writeFileSync(file, [head, ...near, ''].join('\n'));
};
cutOut(survey);

/** The demo's survey measured again, to the millimetre, after its ground was changed. */
const measuredAgain = (name: string, lift: (r: number) => number, noise = 0.004): string => {
  const normal = normals(9);
  const [head, ...lines] = readFileSync(survey, 'utf8').trim().split('\n');
  const file = join(root, name);
  writeFileSync(
    file,
    [
      head,
      ...lines.map((line) => {
        const [point, e, n, h, code] = line.split(',');
        const r = Math.hypot(Number(e) - MIDDLE[0], Number(n) - MIDDLE[1]) / RADIUS;
        return [point, e, n, (Number(h) + lift(r) + noise * normal()).toFixed(3), code].join(',');
      }),
      '',
    ].join('\n'),
  );
  return file;
};

const compare = (...args: string[]) => runCaptured(['compare', ...args]);
const onHole = ['--course', folder, '--hole', '12'];

describe('runnel compare', () => {
  let rebuilt: string;
  beforeAll(() => {
    rebuilt = measuredAgain('rebuilt.csv', (r) => (r < 1 ? 0.06 * (1 - r * r) ** 2 : 0));
  });
  afterAll(() => rmSync(root, { recursive: true, force: true }));

  it('finds what a rebuild moved, where, and the tables to print again', async () => {
    const svg = join(root, 'moved.svg');
    const { code, stdout, stderr } = await compare(
      ...[survey, rebuilt, ...onHole, '--svg', svg, '--json'],
    );
    expect(code).toBe(0);
    const result = JSON.parse(stdout);
    expect(result.regions.length).toBe(1);
    const [region] = result.regions;
    expect(region.area_m2).toBeGreaterThan(10);
    expect(region.area_m2).toBeLessThan(Math.PI * RADIUS * RADIUS);
    expect(region.greatest_change_m).toBeGreaterThan(0.04);
    expect(region.greatest_change_m).toBeLessThan(0.07);
    expect(region.words).toMatch(/^[45]½? on, 4½? from right$/);
    expect(result.shift_m).toBeCloseTo(0, 2);
    const changed = result.tables.flatMap((table: { changed: unknown[] }) => table.changed);
    expect(changed.length).toBeGreaterThan(3);
    for (const cell of changed) {
      if (cell.aim_change_m !== null) expect(Math.abs(cell.aim_change_m)).toBeGreaterThan(0.054);
    }
    const drawn = readFileSync(svg, 'utf8');
    expect(drawn).toMatch(/^<svg [^>]*>\n<title>Hole 12, Thimble: what moved/);
    expect(drawn).toMatch(/strokes upright/);
    expect(drawn).not.toMatch(/strokes level/);
    expect(stderr).not.toContain('the same points');
  });

  it('takes "course" for the survey of the course, and says all in words', async () => {
    const { stdout } = await compare('course', rebuilt, ...onHole);
    expect(stdout).toMatch(/sq ft round [45]½? on, 4½? from right rose by \d\.\d+ in on average/);
    expect(stdout).toMatch(
      /Tables to print again, since an aim changes by over half a hole \(2\.1 in\):/,
    );
  });

  it('says that nothing moved when nothing did', async () => {
    const svg = join(root, 'same.svg');
    const same = await compare(survey, survey, ...onHole, '--units', 'metric', '--svg', svg);
    expect(same.stderr).toContain('the same points as ');
    // A key of signs that are not there would be read as a finding.
    expect(readFileSync(svg, 'utf8')).not.toMatch(/strokes (upright|level)/);
    expect(same.stdout).toMatch(/Nothing moved beyond the uncertainty of both surveys/);
    expect(same.stdout).not.toMatch(/another benchmark/);
    expect(same.stdout).toMatch(/No aim in the tables changes by over half a hole \(54 mm\)/);
  });

  it('says of a survey that covers the green in part how it would cover more', async () => {
    const [head, ...lines] = readFileSync(survey, 'utf8').trim().split('\n');
    const inFeet = join(root, 'feet.csv');
    // Numbers of international feet said to be US survey feet: 7 m off at these northings.
    const feet = (text: string): string => (Number(text) / 0.3048).toFixed(3);
    const rows = lines.map((line) => {
      const [point, e, n, h, code] = line.split(',');
      return [point, feet(e), feet(n), feet(h), code].join(',');
    });
    writeFileSync(inFeet, [head, ...rows, ''].join('\n'));
    const { stderr } = await compare('course', inFeet, ...onHole, '--unit', 'us-ft');
    expect(stderr).toMatch(
      /feet\.csv: the survey has points on \d+ % of the green; read in international feet it has them on/,
    );
  });

  it('sees another benchmark for what it is', { tags: 'long' }, async () => {
    const lifted = measuredAgain('lifted.csv', () => 0.03, 0);
    const plain = await compare(survey, lifted, ...onHole, '--units', 'metric');
    expect(plain.stdout).toMatch(/lies 30 mm higher as a whole: another benchmark\? --level/);
    const small = measuredAgain('small.csv', () => 0.006, 0.003);
    const found = JSON.parse((await compare(survey, small, ...onHole, '--json')).stdout);
    expect(found.another_benchmark).toBe(true);
    // Less than what one place is known to, and well over what the mean of all is.
    expect(found.shift_m).toBeLessThan(2 * found.median_sd_m);
    expect(found.shift_m).toBeGreaterThan(3 * found.shift_sd_m);
    const levelled = await compare(survey, lifted, ...onHole, '--level', '--json');
    const result = JSON.parse(levelled.stdout);
    expect(result.shift_m).toBeCloseTo(0.03, 4);
    expect(result.regions).toEqual([]);
  });

  it('needs no course: it compares the ground that both surveys have', {
    tags: 'long',
  }, async () => {
    const { stdout } = await compare(survey, rebuilt, '--at', '388955.7,3607780.9', '--json');
    const result = JSON.parse(stdout);
    expect(result.regions.length).toBe(1);
    expect(result.regions[0].words).toMatch(/^38895\d\.\d, 360778\d\.\d$/);
    expect(result.tables.length).toBe(1);
  });

  it.each([
    [[survey, '/none.csv'], /none\.csv/],
    [[survey, 'REBUILT', '--course', folder], /no hole of the course is named; name it by/],
    [[survey, 'REBUILT', ...onHole, '--at', '1,2'], /--at: hole 1 lies off the green/],
    [[survey, 'AWAY'], /away\.csv: the two surveys have no ground in common/],
  ])('%j is refused in one line, and writes nothing', async (args, words) => {
    const away = join(root, 'away.csv');
    writeFileSync(
      away,
      `e,n,h\n${[0, 1, 2, 3, 4, 5].map((i) => `${i},${(i * i) % 5},1`).join('\n')}\n`,
    );
    const named = args.map((arg) => (arg === 'REBUILT' ? rebuilt : arg === 'AWAY' ? away : arg));
    const svg = join(root, 'none.svg');
    const { code, stdout, stderr } = await compare(...named, '--svg', svg);
    expect([code, stdout]).toEqual([2, '']);
    expect(stderr).toMatch(words);
    expect(stderr.trim().split('\n').length).toBe(1);
    expect(existsSync(svg)).toBe(false);
  });
});
