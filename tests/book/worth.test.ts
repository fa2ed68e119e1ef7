import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { BARE_STEP } from '../../src/appraisal/spacing.js';
import { contentOf } from '../../src/book/course-book.js';
import { openCourseCache } from '../../src/book/course-cache.js';
import { type GreenOfBook, greensOfBook, prepareGreens } from '../../src/book/prepare-green.js';
import { loadCourse } from '../../src/course/load-course.js';
import type { Point } from '../../src/geometry.js';
import { loadLayout } from '../../src/layout/layout-file.js';
import { composeBook } from '../../src/page/book-pages.js';
import type { Mark, Page } from '../../src/page/marks/marks.js';
import { measureWith, openFonts } from '../../src/print/fonts.js';
import { METRES_PER_FOOT } from '../../src/units.js';
import { runCaptured } from '../cli/run-captured.js';
import { type SmallCourse, smallCourse } from '../cli/small-course.js';
import { normals } from '../event/grounds.js';
import { shareFits } from '../fitted-demo.js';

const layout = loadLayout('pocket');
const measure = measureWith(openFonts());

let course: SmallCourse;
afterEach(() => course.remove());

/** The course's first green, judged, and the pages of its book. */
const bookOf = async (): Promise<{ green: GreenOfBook; pages: Page[] }> => {
  const loaded = loadCourse(course.folder);
  const cache = openCourseCache(course.out, 'links');
  const greens = await prepareGreens(loaded, greensOfBook(loaded), layout, cache);
  const pages = composeBook(contentOf(loaded, layout, 'imperial', greens), layout, measure);
  return { green: greens[0], pages };
};

const everyMark = (marks: readonly Mark[]): Mark[] =>
  marks.flatMap((mark) =>
    mark.kind === 'group' || mark.kind === 'clip' ? [mark, ...everyMark(mark.marks)] : [mark],
  );

const printed = (pages: readonly Page[]) => {
  const marks = pages.flatMap((page) => everyMark(page.marks));
  return {
    putts: marks.filter((mark) => mark.kind === 'group' && mark.shows === 'putts').length,
    words: marks.flatMap((mark) => (mark.kind === 'text' ? [mark.text] : [])).join(' '),
  };
};

/** The survey of green 12, a line a point: easting, northing, height. */
const surveyed = (): number[][] =>
  readFileSync(join(course.folder, 'surveys/green-12.csv'), 'utf8')
    .split('\n')
    .slice(1)
    .filter((line) => line !== '')
    .map((line) => line.split(',').slice(1, 4).map(Number));

const writeSurvey = (points: readonly (readonly number[])[]): void =>
  writeFileSync(
    join(course.folder, 'surveys/green-12.csv'),
    ['easting,northing,height', ...points.map((p) => p.map((v) => v.toFixed(4)).join(','))].join(
      '\n',
    ),
  );

describe('a green whose survey is not worth tables', () => {
  it('in international feet, declared US survey feet, prints no table and names the unit that fits', async () => {
    course = smallCourse([12]);
    // The same ground in a system whose northings are 3 400 km larger: 2 parts in a million are 14 m.
    const moved = 3_400_000;
    writeSurvey(
      surveyed().map(([e, n, h]) => [e, n + moved, h].map((value) => value / METRES_PER_FOOT)),
    );
    course.write(
      course
        .read()
        .replace(
          'crs: EPSG:32625',
          `crs: +proj=tmerc +lat_0=0 +lon_0=-33 +k=0.9996 +x_0=500000 +y_0=${moved} +datum=WGS84`,
        )
        .replace('unit: m', 'unit: us-ft'),
    );
    const { green, pages } = await bookOf();
    const { worth } = green.content;
    expect(worth.covered).toBeLessThan(0.6);
    expect(worth.worth).toBe('outline');
    expect(worth.notes.join(' ')).toMatch(/read in international feet it has them on \d+ %/);
    const { putts, words } = printed(pages);
    expect(putts).toBe(0);
    expect(words).toContain('No putts of this green');
    expect(words).toContain('international feet');
  });

  it('a lidar grid that its maker smoothed prints no table and says why', {
    tags: 'long',
  }, async () => {
    course = smallCourse([12]);
    const ground = surveyed();
    const west = Math.min(...ground.map(([e]) => e)) - 2;
    const south = Math.min(...ground.map(([, n]) => n)) - 2;
    const side = 66;
    const cell = 0.5;
    // Heights of 4 cm noise at the cells, smoothed over 0.8 m, over a fall of 2 %.
    const normal = normals(901);
    const noise = Array.from({ length: side * side }, () => 0.04 * normal());
    const reach = 4;
    const smooth = (row: number, column: number): number => {
      let sum = 0;
      let mass = 0;
      for (let r = row - reach; r <= row + reach; r++) {
        for (let c = column - reach; c <= column + reach; c++) {
          if (r < 0 || c < 0 || r >= side || c >= side) continue;
          const w = Math.exp(-((r - row) ** 2 + (c - column) ** 2) * cell ** 2 * (0.5 / 0.8 ** 2));
          sum += w * noise[r * side + c];
          mass += w;
        }
      }
      return sum / mass;
    };
    const rows = Array.from({ length: side }, (_, r) =>
      Array.from({ length: side }, (__, c) =>
        (8 + 0.02 * cell * (side - r) + smooth(r, c)).toFixed(4),
      ).join(' '),
    );
    writeFileSync(
      join(course.folder, 'surveys/lidar.asc'),
      [
        `ncols ${side}`,
        `nrows ${side}`,
        `xllcorner ${west}`,
        `yllcorner ${south}`,
        `cellsize ${cell}`,
        ...rows,
        '',
      ].join('\n'),
    );
    course.write(course.read().replace('surveys/green-12.csv', 'surveys/lidar.asc'));
    const { green, pages } = await bookOf();
    expect(green.content.worth.covered).toBe(1);
    expect(green.content.worth.worth).not.toBe('tables');
    expect(green.content.locations.some(({ table }) => table !== null)).toBe(false);
    const { putts, words } = printed(pages);
    expect(putts).toBe(0);
    expect(words).toContain('No putts of this green');
  });

  it('with a part left out is blank there: no arrow, aim or line rests on it', {
    tags: 'long',
  }, async () => {
    course = smallCourse([12]);
    const ground = surveyed();
    const middle = ground
      .reduce(([e, n], p) => [e + p[0], n + p[1]], [0, 0])
      .map((sum) => sum / ground.length);
    writeSurvey(ground.filter(([e, n]) => Math.hypot(e - middle[0] - 5, n - middle[1]) > 3.4));
    const { green, pages } = await bookOf();
    const { worth, reading, locations } = green.content;
    expect(worth.worth).toBe('tables');
    expect(worth.bare.length).toBeGreaterThan(4);
    const isBare = ([x, y]: Point): boolean =>
      worth.bare.some(
        (at) => Math.max(Math.abs(at[0] - x), Math.abs(at[1] - y)) < BARE_STEP / 2 - 1e-6,
      );
    expect(reading.arrows.some(({ path }) => path.some(isBare))).toBe(false);
    expect(reading.streams.some(({ points }) => points.some(([x, y]) => isBare([x, y])))).toBe(
      false,
    );
    const cells = locations.flatMap(({ table }) => table!.cells);
    expect(cells.some(({ outcome }) => outcome === 'unsurveyed')).toBe(true);
    expect(cells.some(({ putt }) => putt?.path.some(isBare) === true)).toBe(false);
    const { words } = printed(pages);
    expect(words).toContain('ground that was not surveyed');
    expect(words).toContain('blank on the green: the way was not surveyed');
  });

  it('obeys the course file against its survey, says so, and passes its own check', {
    tags: 'long',
  }, async () => {
    course = smallCourse([2, 7]);
    shareFits(course.out);
    course.write(
      course
        .read()
        .replace('hole: 2\n', 'hole: 2\n    trust: { printAs: arrows, because: turf was relaid }\n')
        .replace('hole: 7\n', 'hole: 7\n    trust: { printAs: outline, because: under repair }\n'),
    );
    const made = await runCaptured(['--json', 'book', course.folder, '--out', course.out]);
    expect(made.code, made.stderr).toBe(0);
    const { greens } = JSON.parse(made.stdout);
    expect(greens.map((one: { worth: string }) => one.worth)).toEqual(['arrows', 'outline']);
    expect(greens.map((one: { judged: string }) => one.judged)).toEqual(['tables', 'tables']);
    const { green, pages } = await bookOf();
    const [here] = green.content.locations;
    expect(here.ground!.grade).toBeGreaterThan(0);
    expect([here.table, here.regions, here.breakMap]).toEqual([null, null, null]);
    const { putts, words } = printed(pages);
    expect(putts).toBe(0);
    expect(words).toContain('turf was relaid');
    const file = join(course.out, 'links', 'pocket.pdf');
    const checked = await runCaptured(['check', file]);
    expect(checked.code, checked.stdout + checked.stderr).toBe(0);
    const judged = await runCaptured(['locate', course.folder, '7', '--out', course.out]);
    expect(judged.code, judged.stderr).toBe(0);
    expect(judged.stdout + judged.stderr).toContain('under repair');
  });
});
