import { appendFileSync, cpSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { type FiguresOfCourse, keptFigures } from '../../src/book/kept-figures.js';
import type { Course } from '../../src/course/course.js';
import { courseFigures } from '../../src/course/course-figures.js';
import { readGround } from '../../src/course/ground.js';
import { loadCourse } from '../../src/course/load-course.js';

const root = mkdtempSync(join(tmpdir(), 'runnel-kept-figures-'));
const folder = join(root, 'links');

/** The figures of a course; whether its ground was read anew. */
const figuresOf = async (course: Course): Promise<FiguresOfCourse & { readonly anew: boolean }> => {
  let anew = false;
  const made = await keptFigures({ folder: join(root, 'cache') }, course, () => {
    anew = true;
    return readGround(course);
  });
  return { ...made, anew };
};

describe('the figures of the holes of a course', () => {
  afterAll(() => rmSync(root, { recursive: true, force: true }));

  it('are taken over from an earlier run, and are the same', async () => {
    cpSync('course-data/vellamoor', folder, { recursive: true });
    const course = loadCourse(folder);
    const ground = await readGround(course);
    expect((await figuresOf(course)).anew).toBe(true);
    const { anew, figures, notes } = await figuresOf(course);
    expect(anew).toBe(false);
    expect(figures).toStrictEqual(courseFigures(course, ground));
    expect(notes).toEqual(ground?.notes ?? []);
    // Of the map itself, which a long course does not hold twice.
    expect(course.map.features).toContain(figures[0].features[0]);
  });

  it('are made anew for another ground, another map and another hole', async () => {
    const course = loadCourse(folder);
    expect((await figuresOf(course)).anew).toBe(false);
    const [first, ...others] = course.holes;
    const par = { ...course, holes: [{ ...first, par: 5 }, ...others] };
    expect((await figuresOf(par)).figures[0].par).toBe(5);
    const [bunker] = course.map.features.filter(({ kind }) => kind === 'bunker');
    const features = course.map.features.filter((one) => one !== bunker);
    expect((await figuresOf({ ...course, map: { ...course.map, features } })).anew).toBe(true);
    expect((await figuresOf(course)).anew).toBe(false);
    appendFileSync(join(folder, course.ground!.file), '\n');
    expect((await figuresOf(course)).anew).toBe(true);
  });
});
