import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { readGreenGround } from '../../src/course/green-ground.js';
import { loadCourse } from '../../src/course/load-course.js';
import { groundReader } from '../../src/course/shared-surveys.js';

const demo = new URL('../../course-data/vellamoor', import.meta.url).pathname;
const folder = mkdtempSync(join(tmpdir(), 'shared-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** The demo with the surveys of holes 1 to 3 in one file, whose header is given. */
const courseOfOne = (header: string, more = '') => {
  cpSync(demo, folder, { recursive: true });
  const rows = ['1', '2', '3'].flatMap((id) =>
    readFileSync(join(folder, `surveys/green-0${id}.csv`), 'utf8')
      .trim()
      .split('\n')
      .slice(1),
  );
  // Column by column as the demo has them: number, east, north, height.
  writeFileSync(join(folder, 'surveys/all.csv'), `${header}\n${rows.join('\n')}\n${more}`);
  const yaml = readFileSync(join(folder, 'course.yaml'), 'utf8');
  writeFileSync(
    join(folder, 'course.yaml'),
    yaml.replaceAll(/surveys\/green-0[123]\.csv/g, 'surveys/all.csv'),
  );
  const course = loadCourse(folder);
  return { course, holes: course.holes.slice(0, 3) };
};

const HEADER = readFileSync(join(demo, 'surveys/green-01.csv'), 'utf8').split('\n')[0];

describe('a survey that greens share', () => {
  it('is read once, and gives each green what a reading of its own gives', async () => {
    const { course, holes } = courseOfOne(HEADER);
    const alone = [];
    for (const hole of holes) alone.push(await readGreenGround(course, hole));
    const read = groundReader(course, holes);
    const together = [await read(holes[0])];
    // A file that is gone is not read again.
    rmSync(join(folder, 'surveys/all.csv'));
    for (const hole of holes.slice(1)) together.push(await read(hole));
    expect(together).toEqual(alone);
    expect(alone.map(({ survey }) => survey.x.length > 300)).toEqual([true, true, true]);
  });

  it('is read for each green alone where a green has no point in it, and tells that of this green', async () => {
    const { course, holes } = courseOfOne(HEADER);
    const bare = {
      ...holes[1],
      green: {
        ...holes[1].green!,
        outline: [
          [0, 0],
          [1, 0],
          [1, 1],
        ] as const,
      },
    };
    const read = groundReader(course, [holes[0], bare, holes[2]]);
    expect((await read(holes[0])).survey).toEqual((await readGreenGround(course, holes[0])).survey);
    await expect(read(bare)).rejects.toThrow('all.csv');
    expect((await read(holes[2])).survey).toEqual((await readGreenGround(course, holes[2])).survey);
  });

  it('tells of damage when the first green is asked for', async () => {
    const { course, holes } = courseOfOne(HEADER, '7,387186.491,36o7601.5,7.9\n');
    await expect(groundReader(course, holes)(holes[0])).rejects.toThrow(/all\.csv, line \d+/);
  });
});
