import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { rememberIn } from '../../src/book/kept-course.js';
import type { Course } from '../../src/course/course.js';
import { loadCourse } from '../../src/course/load-course.js';
import type { Remember } from '../../src/course/settled-course.js';
import { writeTinyCourse } from '../cli/tiny-course.js';

const root = mkdtempSync(join(tmpdir(), 'runnel-kept-course-'));
const [links, copy] = [join(root, 'links'), join(root, 'copy')];

/** Loads a course; whether its map was settled anew. */
const load = (folder: string): { readonly course: Course; readonly anew: boolean } => {
  let anew = false;
  const inCache = rememberIn({ folder: join(root, 'cache') });
  const remember: Remember = (words, make) =>
    inCache(words, () => {
      anew = true;
      return make();
    });
  return { course: loadCourse(folder, { remember }), anew };
};

const change = (file: string, from: RegExp, to: string): void => {
  const text = readFileSync(file, 'utf8');
  expect(text).toMatch(from);
  writeFileSync(file, text.replace(from, to));
};

describe("how a course's map is settled", () => {
  beforeAll(() => {
    writeTinyCourse(links, '10ft');
    cpSync(links, copy, { recursive: true });
  });
  afterAll(() => rmSync(root, { recursive: true, force: true }));

  it('is taken over from an earlier run, and is the same', () => {
    expect(load(links).anew).toBe(true);
    const { course, anew } = load(links);
    expect(anew).toBe(false);
    expect(JSON.stringify(course)).toBe(JSON.stringify(loadCourse(links)));
  });

  it('is taken over by a copy of the course, which has its own map, and for another green speed', () => {
    change(join(copy, 'course.yaml'), /greenSpeed: .*/, 'greenSpeed: 11');
    const { course, anew } = load(copy);
    expect(anew).toBe(false);
    expect(JSON.stringify(course)).toBe(JSON.stringify(loadCourse(copy)));
    expect(course.map.file).toBe(join(copy, 'map.geojson'));
  });

  it('is made anew where the map or what the course file names in it is another', () => {
    const hole = join(copy, 'map.geojson');
    change(hole, /"par": ?"\d"/, '"par":"6"');
    const { course, anew } = load(copy);
    expect(anew).toBe(true);
    expect(JSON.stringify(course)).toBe(JSON.stringify(loadCourse(copy)));
    change(join(copy, 'course.yaml'), /(\n +)- hole: 12/, '$1- hole: 12$1  line: nowhere');
    expect(() => load(copy)).toThrow(/nowhere/);
  });
});
