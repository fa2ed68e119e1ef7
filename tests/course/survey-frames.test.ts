import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { trueHeight } from '../../course-data/vellamoor/rover.js';
import { trueGreen } from '../../course-data/vellamoor/truth.js';
import { readGreenGround } from '../../src/course/green-ground.js';
import { loadCourse } from '../../src/course/load-course.js';
import { coordinateSystem } from '../../src/survey/crs/plane.js';
import { METRES_PER_FOOT, METRES_PER_US_SURVEY_FOOT } from '../../src/units.js';

/** One green's survey in other frames than the demo's: the ground in the frame of the green stays the same. */
const demo = new URL('../../course-data/vellamoor', import.meta.url).pathname;
const folders: string[] = [];
afterAll(() => {
  for (const folder of folders) rmSync(folder, { recursive: true, force: true });
});

const utm = coordinateSystem('EPSG:32625');

/** The demo with the survey of hole 2 written anew and its entry in the course file replaced. */
const courseWith = (
  write: (easting: number, northing: number, height: number) => string,
  entry: string,
  header = 'x,y,z\n',
): string => {
  const folder = mkdtempSync(join(tmpdir(), 'frame-'));
  folders.push(folder);
  cpSync(demo, folder, { recursive: true });
  const lines = readFileSync(join(folder, 'surveys/green-02.csv'), 'utf8')
    .trim()
    .split('\n')
    .slice(1);
  const rows = lines.map((line) => {
    const [, e, n, h] = line.split(',').map(Number);
    return write(e, n, h);
  });
  writeFileSync(join(folder, 'surveys/other.csv'), `${header}${rows.join('\n')}\n`);
  const yaml = readFileSync(join(folder, 'course.yaml'), 'utf8');
  writeFileSync(join(folder, 'course.yaml'), yaml.replace('surveys/green-02.csv', entry));
  return folder;
};

const medianError = async (folder: string): Promise<number> => {
  const course = loadCourse(folder);
  const ground = await readGreenGround(course, course.holes[1]);
  const green = trueGreen('2');
  const errors = Array.from(ground.survey.z, (z, i) =>
    Math.abs(z - trueHeight(green, ground.survey.x[i], ground.survey.y[i])),
  ).sort((a, b) => a - b);
  expect(errors.length).toBeGreaterThan(900);
  return errors[Math.floor(errors.length / 2)];
};

describe('the same ground from', () => {
  test('US survey feet, heights in metres', async () => {
    const foot = METRES_PER_US_SURVEY_FOOT;
    const folder = courseWith(
      (e, n, h) => `${(e / foot).toFixed(3)},${(n / foot).toFixed(3)},${h}`,
      '{ file: surveys/other.csv, unit: us-ft, verticalUnit: m }',
    );
    expect(await medianError(folder)).toBeLessThan(0.007);
  });

  test('longitude and latitude', async () => {
    const folder = courseWith((e, n, h) => {
      const [lon, lat] = utm.unproject(e, n);
      return `${lon.toFixed(9)},${lat.toFixed(9)},${h}`;
    }, '{ file: surveys/other.csv, crs: EPSG:4326, verticalUnit: m }');
    expect(await medianError(folder)).toBeLessThan(0.007);
  });

  test('a local frame in feet, turned, tied to the map by two marks', async () => {
    const [e0, n0] = trueGreen('2').frame.origin;
    const [cos, sin] = [Math.cos(0.7), Math.sin(0.7)];
    const local = (e: number, n: number): [number, number] => [
      (1000 + (e - e0) * cos + (n - n0) * sin) / METRES_PER_FOOT,
      (2000 - (e - e0) * sin + (n - n0) * cos) / METRES_PER_FOOT,
    ];
    const mark = (e: number, n: number): string => {
      const [x, y] = local(e, n);
      const [lon, lat] = utm.unproject(e, n);
      return `{ local: [${x.toFixed(4)}, ${y.toFixed(4)}], map: [${lon.toFixed(9)}, ${lat.toFixed(9)}] }`;
    };
    const tie = `tie: [${mark(e0 - 40, n0 - 30)}, ${mark(e0 + 60, n0 + 50)}]`;
    const folder = courseWith((e, n, h) => {
      const [x, y] = local(e, n);
      return `${x.toFixed(4)},${y.toFixed(4)},${(h / METRES_PER_FOOT).toFixed(4)}`;
    }, `{ file: surveys/other.csv, unit: ft, ${tie} }`);
    // The tie takes the place of the crs that all surveys have in common.
    expect(await medianError(folder)).toBeLessThan(0.007);
  });

  test('a survey cannot have both a crs and a tie', () => {
    const folder = courseWith(
      (e, n, h) => `${e},${n},${h}`,
      '{ file: surveys/other.csv, crs: EPSG:32625, tie: [{ local: [0, 0], map: [0, 0] }, { local: [9, 0], map: [1, 1] }] }',
    );
    expect(() => loadCourse(folder)).toThrow(
      /holes\[1\]\.survey\.tie: the survey has both a crs and a tie; give one of them/,
    );
  });

  test.each([
    ['names in another order', 'Point,Northing,Easting,Ortho. Height,Code\n', 2000, true],
    ['no names, far from the diagonal', '', 2000, true],
    ['no names, both readings on the green', '', 1000, false],
  ])('number, north, east, height, code in a local frame: %s', async (_, header, north, isRead) => {
    const [e0, n0] = trueGreen('2').frame.origin;
    const local = (e: number, n: number): [number, number] => [1000 + e - e0, north + n - n0];
    const mark = (e: number, n: number): string => {
      const [x, y] = local(e, n);
      const [lon, lat] = utm.unproject(e, n);
      return `{ local: [${x.toFixed(4)}, ${y.toFixed(4)}], map: [${lon.toFixed(9)}, ${lat.toFixed(9)}] }`;
    };
    let number = 0;
    const folder = courseWith(
      (e, n, h) => {
        const [x, y] = local(e, n);
        number += 1 + (number % 5);
        return `${number},${y.toFixed(4)},${x.toFixed(4)},${h},GR`;
      },
      `{ file: surveys/other.csv, tie: [${mark(e0 - 40, n0 - 30)}, ${mark(e0 + 60, n0 + 50)}] }`,
      header,
    );
    if (isRead) expect(await medianError(folder)).toBeLessThan(0.007);
    else await expect(medianError(folder)).rejects.toThrow('or the key columns in the course file');
  });
});
