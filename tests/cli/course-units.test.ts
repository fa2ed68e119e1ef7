import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { runCaptured } from './run-captured.js';
import { writeTinyCourse } from './tiny-course.js';

const root = mkdtempSync(join(tmpdir(), 'runnel-units-'));
const folder = join(root, 'links');
writeTinyCourse(folder, '10ft');
const file = join(folder, 'course.yaml');
writeFileSync(file, `units: metric\n${readFileSync(file, 'utf8')}`);
afterAll(() => rmSync(root, { recursive: true, force: true }));

const said = async (...args: string[]): Promise<string> => {
  const { code, stdout, stderr } = await runCaptured(args);
  expect(code, stderr).toBe(0);
  return stdout;
};

describe('a course that is told in metres', () => {
  it('is so by commands that make no book, too, but where the command line says otherwise', async () => {
    expect(await said('holes', folder)).toMatch(/\d\.\d m on, \d\.\d m (left|right) of the line/);
    expect(await said('holes', folder, '--units', 'imperial')).toMatch(/\d ft on, \d+ ft/);
    expect(await said('distances', folder, '12')).toMatch(/^hole 12, .*; metres\n/);
    expect(await said('distances', folder, '12', '--units', 'imperial')).toMatch(/; yards\n/);
    const svg = join(root, 'worth.svg');
    const worth = ['survey', '--course', folder, '--hole', '12'];
    expect(await said(...worth, '--svg', svg)).toMatch(/ {2}spacing +\d\.\d m on average/);
    expect(readFileSync(svg, 'utf8')).toMatch(/aria-label="5 m"|>5 m</);
  });
});
