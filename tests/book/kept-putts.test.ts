import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { deserialize } from 'node:v8';
import { afterAll, describe, expect, it } from 'vitest';
import { openCache } from '../../src/book/cache.js';
import { pack } from '../../src/book/packed-value.js';
import { greensOfBook, prepareGreens } from '../../src/book/prepare-green.js';
import { loadCourse } from '../../src/course/load-course.js';
import { loadLayout } from '../../src/layout/layout-file.js';
import type { LocationContent } from '../../src/page/book-content.js';
import { writeTinyCourse } from '../cli/tiny-course.js';

const root = mkdtempSync(join(tmpdir(), 'runnel-putts-'));
afterAll(() => rmSync(root, { recursive: true, force: true }));

describe('the putts that are kept of a green', () => {
  const folder = join(root, 'links');
  const kept = openCache(join(root, 'kept'));
  const layout = loadLayout('pocket');
  /** With B so many paces on, where it has a B. */
  const locations = async (b: number | null): Promise<readonly LocationContent[]> => {
    writeTinyCourse(folder, '10ft');
    const file = join(folder, 'course.yaml');
    const more = b === null ? '' : `      B: { on: ${b}, left: 3 }\n`;
    writeFileSync(file, readFileSync(file, 'utf8') + more);
    const course = loadCourse(folder);
    const wanted = greensOfBook(course).map((green) => ({ ...green, regions: 'none' as const }));
    const [green] = await prepareGreens(course, wanted, layout, kept);
    return green.content.locations;
  };
  /** Writes other grades of the ground at all locations that are kept. */
  const mark = (grade: number): void => {
    const at = join(root, 'kept');
    const name = readdirSync(at).find((one) => one.endsWith('.putts')) ?? '';
    const bytes = readFileSync(join(at, name));
    const [, key, digest] = bytes.toString('latin1').split('\n', 3);
    const start = bytes.indexOf(digest) + digest.length + 1;
    const all = deserialize(bytes.subarray(start)) as Map<string, LocationContent>;
    const marked = [...all].map(([place, one]) => [
      place,
      { ...one, ground: one.ground === null ? null : { ...one.ground, grade } },
    ]);
    writeFileSync(join(at, name), Buffer.concat(pack(new Map(marked as never), key)));
  };
  const gradesOf = (all: readonly LocationContent[]) => all.map(({ ground }) => ground?.grade);

  it('are taken for each location that stays, and solved for the one that is new or moved', async () => {
    await locations(7);
    mark(9);
    expect(gradesOf(await locations(7))).toEqual([9, 9]);
    const moved = await locations(6);
    // Where it was is still known, and what is left alone is.
    expect(gradesOf(await locations(7))).toEqual([9, 9]);
    expect(gradesOf(await locations(null))).toEqual([9]);
    for (const name of readdirSync(join(root, 'kept'))) {
      if (name.endsWith('.putts')) rmSync(join(root, 'kept', name));
    }
    const fresh = await locations(6);
    expect(gradesOf(moved)).toEqual([9, gradesOf(fresh)[1]]);
    expect(moved[1]).toEqual(fresh[1]);
  });
});
