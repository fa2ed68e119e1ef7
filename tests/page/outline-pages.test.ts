import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { contentOf } from '../../src/book/course-book.js';
import { courseFigures } from '../../src/course/course-figures.js';
import { loadCourse } from '../../src/course/load-course.js';
import { outlineGreens } from '../../src/course/outline-green.js';
import { boxOf } from '../../src/geometry.js';
import { loadLayout } from '../../src/layout/layout-file.js';
import { composeBook } from '../../src/page/book-pages.js';
import type { GroupMark, Mark, Page } from '../../src/page/marks/marks.js';
import { measureWith, openFonts } from '../../src/print/fonts.js';
import { metresToPaces } from '../../src/units.js';
import { tidyCourse } from '../course/untidy-course.js';
import { writtenAs } from '../course/untidy-writers.js';

const root = mkdtempSync(join(tmpdir(), 'outline-'));
afterAll(() => rmSync(root, { recursive: true, force: true }));
writeFileSync(join(root, 'map.geojson'), writtenAs('geojson', tidyCourse({ seed: 77, holes: 3 })));
writeFileSync(
  join(root, 'course.yaml'),
  'title: Outlines\nmap: map.geojson\nholes:\n  - hole: 1\n    locations: { A: { on: 9, left: 9 } }\n  - hole: 2\n  - hole: 3\n',
);
const course = loadCourse(root);
const measure = measureWith(openFonts());

const pagesOf = (layoutName: string): Page[] => {
  const layout = loadLayout(layoutName);
  return composeBook(
    contentOf(course, layout, 'imperial', [], { holes: courseFigures(course, null) }),
    layout,
    measure,
  );
};

const flat = (marks: readonly Mark[]): Mark[] =>
  marks.flatMap((mark) =>
    mark.kind === 'group' || mark.kind === 'clip' ? [mark, ...flat(mark.marks)] : [mark],
  );
const wordsOf = (page: Page): string[] =>
  flat(page.marks).flatMap((mark) => (mark.kind === 'text' ? [mark.text] : []));

describe('a green without a survey', () => {
  test('in its own frame: front edge at 0, its depth, the bunker beside it', () => {
    const [green] = outlineGreens(course);
    const box = boxOf(green.outline);
    expect(Math.abs(box.minY)).toBeLessThan(1.5);
    expect(box.maxY).toBeGreaterThan(18);
    expect(green.hazards.map((one) => one.kind)).toEqual(['bunker']);
    const bunker = boxOf(green.hazards[0].ring);
    expect((bunker.minX + bunker.maxX) / 2).toBeCloseTo(19, 0);
  });

  test.each(['pocket', 'a6', 'fold-up', 'practice-large', 'committee'])(
    'has its page in %s, to scale, and nothing that was not measured',
    (name) => {
      const pages = pagesOf(name).filter((page) => page.id.startsWith('green-'));
      expect(pages.map((page) => page.id)).toEqual(['green-1', 'green-2', 'green-3']);
      const image = flat(pages[0].marks).find(
        (mark): mark is GroupMark => mark.kind === 'group' && mark.role === 'green-image',
      )!;
      const shown = flat(image.marks).flatMap((mark) =>
        mark.kind === 'group' && mark.shows !== undefined ? [mark.shows] : [],
      );
      expect(shown).toEqual(['paces-grid', 'hole-locations']);
      const points = image.ground!.outline.flatMap((step) =>
        step[0] === 'M' || step[0] === 'L' ? [[step[1], step[2]] as const] : [],
      );
      const onPaper = boxOf(points);
      const scale = (1000 * image.ground!.width) / (onPaper.maxX - onPaper.minX);
      expect(scale).toBeGreaterThan(loadLayout(name).green.scale - 1);
      const words = wordsOf(pages[0]).join('\n');
      expect(words.includes('fall?')).toBe(!['fold-up', 'committee'].includes(name));
      expect(words).not.toMatch(/slope|grade of/);
    },
  );

  test('tells front, middle and back in paces', () => {
    const page = pagesOf('pocket').find((one) => one.id === 'green-2')!;
    const [, green] = outlineGreens(course);
    const depth = Math.round(metresToPaces(boxOf(green.outline).maxY));
    const line = wordsOf(page).find((words) => words.startsWith('front 0'))!;
    const [, middle, back] = /middle (\d+), back (\d+)/.exec(line)!;
    expect(Math.abs(Number(back) - depth)).toBeLessThanOrEqual(1);
    expect(Math.abs(2 * Number(middle) - Number(back))).toBeLessThanOrEqual(1);
  });

  test('tells the hole locations of the course file by paces', () => {
    const page = pagesOf('pocket').find((one) => one.id === 'green-1')!;
    expect(wordsOf(page)).toContain('A: 9 on, 9 from left');
  });

  test('the cover speaks only of what the book holds', () => {
    const cover = wordsOf(pagesOf('pocket')[0]).join(' ');
    expect(cover).toMatch(/3 greens from the map/);
    expect(cover).not.toMatch(/slope|0 greens/);
    expect(pagesOf('pocket').some((page) => page.id.startsWith('how-to'))).toBe(false);
  });
});
