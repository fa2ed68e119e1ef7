import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { loadCourse } from '../../src/course/load-course.js';
import { outlineGreens } from '../../src/course/outline-green.js';
import { boxOf } from '../../src/geometry.js';
import { tidyCourse } from '../course/untidy-course.js';
import { writtenAs } from '../course/untidy-writers.js';
import { runCaptured } from './run-captured.js';

const root = mkdtempSync(join(tmpdir(), 'without-survey-'));
afterAll(() => rmSync(root, { recursive: true, force: true }));
const map = join(root, 'extract.osm');
const folder = join(root, 'tarn');
const file = join(folder, 'course.yaml');
const out = join(root, 'out');
writeFileSync(map, writtenAs('osm', tidyCourse({ seed: 41001, holes: 2 })));

describe('a course without any survey', () => {
  test('from an extract to a book that our own check passes, in three commands', async () => {
    expect((await runCaptured(['new', folder, '--map', map])).code).toBe(0);
    expect((await runCaptured(['book', folder, '--out', out])).code).toBe(0);
    const checked = await runCaptured(['check', join(out, 'tarn', 'pocket.pdf')]);
    expect(checked.code, checked.stdout + checked.stderr).toBe(0);
  });

  test('places its holes by paces: holes, green and locate tell of them', async () => {
    const text = readFileSync(file, 'utf8');
    const placed = '  - hole: 1\n    locations: { A: { on: 12, left: 12 } }\n    days: { 1: A }\n';
    writeFileSync(file, text.replace('  - hole: 1\n', placed));
    const holes = await runCaptured(['holes', folder]);
    expect(holes.stdout).toMatch(/^1 .*day 1 .*12 on, 12 from left/);
    const green = await runCaptured(['green', folder, '1', '--json', '--out', out]);
    const told = JSON.parse(green.stdout);
    const box = boxOf(outlineGreens(loadCourse(folder))[0].outline);
    expect(told.surveyed).toBe(false);
    expect(Math.abs(told.depth_m - box.maxY)).toBeLessThan(2);
    expect(told.hole_locations[0]).toMatchObject({ name: 'A', on: 12, in: 12, side: 'left' });

    const at = async (place: string) =>
      (await runCaptured(['locate', folder, '1', '--day', '1', '--at', place])).stdout;
    expect(await at('12,12,left')).toMatch(/far enough[\s\S]*not surveyed/);
    expect(await at('2,2,left')).toMatch(/refused: too near/);
    const later = await runCaptured(['locate', folder, '1', '--day', '2', '--at', '12,12,left']);
    expect(later.stdout).toMatch(/refused: too near\n.*0\.0 paces from an earlier hole/);
  });

  test('a location off a green without a survey is refused', async () => {
    const text = readFileSync(file, 'utf8');
    writeFileSync(file, text.replace('on: 12, left: 12', 'on: 120, left: 12'));
    const run = await runCaptured(['holes', folder]);
    expect(run.code).toBe(2);
    expect(run.stderr).toMatch(/course\.yaml/);
    writeFileSync(file, text);
  });
});
