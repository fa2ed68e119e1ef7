import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { readGreenGround } from '../../src/course/green-ground.js';
import { loadCourse } from '../../src/course/load-course.js';
import { InputFault } from '../../src/fault.js';

const demo = new URL('../../course-data/vellamoor', import.meta.url).pathname;
const folders: string[] = [];
const copyOfDemo = (): string => {
  const folder = mkdtempSync(join(tmpdir(), 'course-'));
  folders.push(folder);
  cpSync(demo, folder, { recursive: true });
  return folder;
};
afterAll(() => {
  for (const folder of folders) rmSync(folder, { recursive: true, force: true });
});

const edited = (folder: string, file: string, from: string | RegExp, to: string): void => {
  const path = join(folder, file);
  const text = readFileSync(path, 'utf8');
  expect(text).toMatch(from);
  writeFileSync(path, text.replace(from, to));
};

const faultOf = (run: () => unknown): InputFault => {
  try {
    run();
  } catch (error) {
    expect(error).toBeInstanceOf(InputFault);
    return error as InputFault;
  }
  throw new Error('no fault was found');
};

describe('the demo course', () => {
  const course = loadCourse(demo);

  test('has 18 holes of par 72 and a practice green, each with its tees, line and locations', () => {
    expect(course.holes.map((hole) => hole.id)).toEqual([
      ...Array.from({ length: 18 }, (_, i) => String(i + 1)),
      'practice',
    ]);
    const holes = course.holes.slice(0, 18);
    expect(holes.reduce((sum, hole) => sum + hole.par!, 0)).toBe(72);
    expect(new Set(holes.map((hole) => hole.strokeIndex)).size).toBe(18);
    for (const hole of holes) {
      expect(hole.site.tees.map((tee) => tee.name)).toEqual(['Cliff', 'Moor', 'Shore']);
      expect(hole.green!.locations.length).toBeGreaterThanOrEqual(3);
    }
  });

  test('is the same by its folder and by its file', () => {
    expect(loadCourse(join(demo, 'course.yaml')).holes.length).toBe(19);
  });
});

describe('one clear line with file and key', () => {
  const cases: readonly [string, string, string | RegExp, string, RegExp][] = [
    [
      'an unknown key',
      'course.yaml',
      'par: 4',
      'pra: 4',
      /course\.yaml, line 31, holes\[0\]\.pra: unknown key "pra"; did you mean "par"\?$/,
    ],
    [
      'an unknown key at the top',
      'course.yaml',
      'greenSpeed:',
      'greenspeed:',
      /course\.yaml, line 22, greenspeed: unknown key "greenspeed"; did you mean "greenSpeed"\?$/,
    ],
    [
      'a missing survey',
      'course.yaml',
      'surveys/green-02.csv',
      'surveys/green-2.csv',
      /course\.yaml, line \d+, holes\[1\]\.survey: there is no file "surveys\/green-2\.csv"/,
    ],
    [
      'a folder in place of a survey',
      'course.yaml',
      'surveys/green-02.csv',
      'surveys',
      /holes\[1\]\.survey: "surveys" is a folder, not a file/,
    ],
    [
      'a missing map',
      'course.yaml',
      'map: map.geojson',
      'map: maps.geojson',
      /course\.yaml, line 18, map: there is no file "maps\.geojson"/,
    ],
    [
      'a location beyond the green',
      'course.yaml',
      '{ on: 4, right: 9 }',
      '{ on: 44, right: 9 }',
      /line \d+, holes\[0\]\.locations\.A: hole location A \(44 on, 9 from the right\) is off its green; the green reaches from 0 to 31\.6 paces on$/,
    ],
    [
      'a location beside the green',
      'course.yaml',
      '{ on: 4, right: 9 }',
      '{ on: 4, right: 40 }',
      /locations\.A: hole location A \(4 on, 40 from the right\) is off its green/,
    ],
    [
      'a location counted from the wrong side',
      'course.yaml',
      '{ on: 11, right: 5 }',
      '{ on: 11, left: 21 }',
      /hole location C \(11 on, 21 from the left\) is nearer to the right side; .*write right: \d/,
    ],
    [
      'a location with both sides',
      'course.yaml',
      '{ on: 4, right: 9 }',
      '{ on: 4, right: 9, left: 3 }',
      /holes\[0\]\.locations\.A: not in a form that is known; a hole location is \{ on: 12, left: 5 \}/,
    ],
    [
      'a par that is text',
      'course.yaml',
      'par: 4',
      'par: four',
      /line 31, holes\[0\]\.par: "four" is not a whole number; Par, 3 to 6/,
    ],
    ['a par of 9', 'course.yaml', 'par: 4', 'par: 9', /holes\[0\]\.par: 9 is more than 6/],
    [
      'an unknown condition of use',
      'course.yaml',
      'use: practice',
      'use: practise',
      /line 20, use: "practise" is not one of .*; did you mean "practice"\?$/,
    ],
    [
      'a hole that stands twice',
      'course.yaml',
      'hole: 2',
      'hole: 1',
      /holes\[1\]\.hole: hole 1 stands twice/,
    ],
    [
      'a green speed in the wrong unit',
      'course.yaml',
      'greenSpeed: 10.5',
      'greenSpeed: 105',
      /line 22, greenSpeed: 105 is no green speed/,
    ],
    [
      'broken YAML',
      'course.yaml',
      'title: Vellamoor',
      'title: "Vellamoor',
      /course\.yaml, line \d+: not valid YAML: /,
    ],
    [
      'a drain off its green',
      'course.yaml',
      /- \[38\d+\.\d\d,/,
      '- [387000.00,',
      /holes\[2\]\.drains\[0\]: the drain .* is off its green/,
    ],
    [
      'a hole that the map does not have',
      'course.yaml',
      '- hole: 18',
      '- hole: 19',
      /holes\[17\]\.hole: the map has neither a line of play nor a green for hole 19; give golf=hole/,
    ],
    [
      'an unknown coordinate system',
      'course.yaml',
      'EPSG:32625',
      'EPSG:99999',
      /crs: the coordinate system "EPSG:99999" is not known/,
    ],
  ];
  test.each(cases)('%s', (_name, file, from, to, expected) => {
    const folder = copyOfDemo();
    edited(folder, file, from, to);
    const { message } = faultOf(() => loadCourse(folder));
    expect(message).toMatch(expected);
    expect(message).not.toContain('\n');
  });

  test('no course, no course file', () => {
    expect(faultOf(() => loadCourse(join(demo, 'nowhere'))).message).toMatch(/no such course/);
    expect(faultOf(() => loadCourse(join(demo, 'surveys'))).message).toMatch(/no course\.yaml/);
  });

  test('a survey of another place', async () => {
    const folder = copyOfDemo();
    edited(folder, 'course.yaml', 'surveys/green-02.csv', 'surveys/green-05.csv');
    const course = loadCourse(folder);
    await expect(readGreenGround(course, course.holes[1])).rejects.toThrow(
      /^surveys\/green-05\.csv: the points land /,
    );
  });
});
