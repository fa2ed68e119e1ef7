import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { runCaptured } from './run-captured.js';
import { smallCourse } from './small-course.js';

const course = smallCourse([7, 12]);
const csv = join(course.root, 'days.csv');
writeFileSync(csv, 'hole,day,on,in,side\n7,2,9,16,left\n12,2,11,10,left\n7,3,13,5,right\n');
afterAll(() => course.remove());

const holes = (...args: string[]) => runCaptured(['holes', course.folder, ...args]);

describe('runnel holes', () => {
  it('gives the points of a day in the frame, in the survey and on the map', async () => {
    const { code, stdout, stderr } = await holes('--locations', csv, '--day', '2', '--json');
    expect([code, stderr]).toEqual([0, '']);
    const { locations, definition } = JSON.parse(stdout);
    expect(definition).toMatch(/middle of the front edge/);
    expect(locations.map((one: { hole: string }) => one.hole)).toEqual(['7', '12']);
    const [seven] = locations;
    expect(seven).toMatchObject({
      day: 2,
      on: 9,
      in: 16,
      side: 'left',
      words: '9 on, 16 from left',
    });
    expect(seven.at_m[1]).toBeCloseTo(9 * 0.9144, 4);
    expect(seven.longitude).toBeCloseTo(-34.18, 2);
  });

  it('tells a surveyed point in paces: the way back', async () => {
    const there = await holes('--locations', csv, '--day', '2', '--hole', '7', '--json');
    const [{ plane_m: point }] = JSON.parse(there.stdout).locations;
    const back = await holes('--hole', '7', '--at', point.join(','), '--json');
    const [location] = JSON.parse(back.stdout).locations;
    expect(location.on).toBeCloseTo(9, 2);
    expect(location.in).toBeCloseTo(16, 2);
    expect(location.side).toBe('left');
  });

  it('lists all days, or the named locations where there are none', async () => {
    const all = await holes('--locations', csv);
    expect(all.stdout.trim().split('\n').length).toBe(3);
    const good = course.read();
    course.write(good.replace(/^days: .*$/m, ''));
    const named = await holes('--hole', '7', '--units', 'metric');
    course.write(good);
    expect(named.stdout).toMatch(/ A +9 on, 16 from left +8\.2 m on/);
  });

  it.each([
    [['--day', '9'], /there is no hole location for day 9; there are locations for day 2, 3/],
    [['--hole', '99'], /has no hole 99; its holes are 7, 12/],
    [['--at', '1,2'], /--at: a surveyed point belongs to one green; name it by --hole/],
    [['--hole', '7', '--at', '1,2'], /--at: the point lies .* off the green/],
    [['--hole', '7', '--at', 'here'], /--at: "here" is no position/],
  ])('%j is refused in one line', async (args, words) => {
    const { code, stdout, stderr } = await holes('--locations', csv, ...args);
    expect([code, stdout]).toEqual([2, '']);
    expect(stderr).toMatch(words);
    expect(stderr.trim().split('\n').length).toBe(1);
  });

  it('refuses a file with a location off its green, with the line', async () => {
    writeFileSync(csv, 'hole,day,on,in,side\n7,2,9,16,left\n12,2,111,10,left\n');
    const { code, stderr } = await holes('--locations', csv, '--day', '2');
    expect(code).toBe(2);
    expect(stderr).toMatch(/days\.csv, line 3: .*off its green/);
    const missing = await holes('--locations', join(course.root, 'none.csv'));
    expect(missing.stderr).toMatch(/none\.csv: there is no such file/);
  });
});
