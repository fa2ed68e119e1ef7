import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { getHeapStatistics, setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { expect, it, onTestFinished } from 'vitest';
import { openCache } from '../../src/book/cache.js';
import { contentOf } from '../../src/book/course-book.js';
import { greensOfBook, prepareGreens, wantedInShort } from '../../src/book/prepare-green.js';
import { startPageMemories } from '../../src/book/remembered-pages.js';
import { composerOf } from '../../src/book/shelved-pages.js';
import { courseFigures } from '../../src/course/course-figures.js';
import { loadCourse } from '../../src/course/load-course.js';
import { loadLayout } from '../../src/layout/layout-file.js';
import { measureWith, openFonts } from '../../src/print/fonts.js';
import { writeGrowingCourse } from '../bench/growing-course.js';

setFlagsFromString('--expose-gc');
const collect = runInNewContext('gc') as () => void;

/** Bytes of the heap that are held; the collector lets go at a second look what ends at the first. */
const alive = async (): Promise<number> => {
  for (let i = 0; i < 3; i++) {
    collect();
    await new Promise((resolve) => setTimeout(resolve, 10));
  }
  return getHeapStatistics().used_heap_size;
};

const IN_MEMORY = 4;
const [FEW, MANY] = [20, 60];
const [POINTS, SEED] = [40, 221_100];

/** Bytes. Measured: 19,000 and 19,700, a third of it noise; a reading that is held is far more. */
const MOST_OF_A_GREEN = 30_000;

/** What a book of some greens holds once its pages are composed. */
const heldBy = async (folder: string): Promise<number> => {
  const cache = openCache(join(folder, '..', 'cache'));
  const course = loadCourse(folder);
  const layout = loadLayout('pocket-wire');
  const measure = measureWith(openFonts());
  const wanted = wantedInShort(greensOfBook(course));
  const options = { threads: 0, inMemory: IN_MEMORY };
  const greens = await prepareGreens(course, wanted, layout, cache, options);
  const holes = courseFigures(course, null);
  const content = contentOf(course, layout, 'imperial', greens, { holes });
  const setting = { layout, measure, faces: '', greens, cache, memories: startPageMemories() };
  const pages = await composerOf({ ...setting, greensInMemory: IN_MEMORY })(content);
  const held = await alive();
  // They are held until here.
  expect(pages.length).toBeGreaterThan(greens.length);
  expect(content.greens.length).toBe(greens.length);
  return held;
};

it('a further green takes a few kB of memory, its pages among them', { tags: 'long' }, async () => {
  const root = mkdtempSync(join(tmpdir(), 'runnel-many-'));
  onTestFinished(() => rmSync(root, { recursive: true, force: true }));
  const [few, many] = [join(root, 'few'), join(root, 'many')];
  writeGrowingCourse(few, FEW, POINTS, SEED);
  writeGrowingCourse(many, MANY, POINTS, SEED);
  // Their greens are made, and their texts set, before anything is measured.
  await heldBy(many);
  const byFew = await heldBy(few);
  const byMany = await heldBy(many);
  expect((byMany - byFew) / (MANY - FEW)).toBeLessThan(MOST_OF_A_GREEN);
});
