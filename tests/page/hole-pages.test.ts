import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { type ApproachFigures, approachTo } from '../../src/course/approach-figures.js';
import type { Course, Hole } from '../../src/course/course.js';
import { courseFigures } from '../../src/course/course-figures.js';
import { readGround } from '../../src/course/ground.js';
import { linesOfCourse } from '../../src/course/hole-features.js';
import { loadCourse } from '../../src/course/load-course.js';
import { loadLayout } from '../../src/layout/layout-file.js';
import type { BookContent } from '../../src/page/book-content.js';
import { composeConversionsPage } from '../../src/page/front/card-conversions.js';
import { cardParts, composeCardPage } from '../../src/page/front/card-page.js';
import { cardOf } from '../../src/page/front/card-rows.js';
import { approachModule } from '../../src/page/green/hole-approach.js';
import { composeHolePage } from '../../src/page/hole/hole-page.js';
import type { GreenPageContext } from '../../src/page/kit/page-modules.js';
import type { Mark, Page } from '../../src/page/marks/marks.js';
import { measureWith, openFonts } from '../../src/print/fonts.js';
import { writePdf } from '../../src/print/pdf.js';
import { rasterise } from '../../src/print/raster.js';
import { metresToYards } from '../../src/units.js';
import { asOsmXml, asOverpass } from '../course/osm-writer.js';
import { compareGolden, forgottenGoldens } from '../print/golden.js';
import { ownLayoutNames } from '../print/sample-pages.js';

const demo = new URL('../../course-data/vellamoor', import.meta.url).pathname;
const layout = loadLayout('pocket');
const fonts = openFonts();
const measure = measureWith(fonts);
/** Golden pictures that no other test of the folder holds pages against. */
const OWN = new RegExp(`^(?!full-|(${ownLayoutNames().join('|')})-)`);
const folders: string[] = [];
afterAll(() => {
  for (const folder of folders) rmSync(folder, { recursive: true, force: true });
});

const bookOf = (course: Course): BookContent => ({
  title: course.title,
  setting: course.setting,
  use: 'play',
  units: 'imperial',
  stimp: course.stimp,
  past: layout.tables.past,
  greens: [],
});

/** The hole pages, the card and the conversions of a course. */
const pagesOf = async (course: Course): Promise<Page[]> => {
  const holes = courseFigures(course, await readGround(course));
  const context = { layout, measure, book: bookOf(course), side: 'left' as const };
  return [
    ...holes.map((hole) => composeHolePage({ ...context, label: hole.id, hole })),
    ...cardParts({ ...context, label: 'c' }, holes).map((shown, part) =>
      composeCardPage({ ...context, label: 'c', holes, ...shown, part }),
    ),
    composeConversionsPage({ ...context, label: 'v' }),
  ];
};

const textsOf = (marks: readonly Mark[]): string[] =>
  marks.flatMap((mark) =>
    mark.kind === 'text'
      ? [mark.text]
      : mark.kind === 'group' || mark.kind === 'clip'
        ? textsOf(mark.marks)
        : [],
  );

const course = loadCourse(demo);
const pages = await pagesOf(course);
const geoJson = readFileSync(join(demo, 'map.geojson'), 'utf8');

describe('the same map in another format gives the same book', { tags: 'long' }, () => {
  test.each([
    ['OpenStreetMap XML', 'map.osm', asOsmXml(geoJson)],
    ['Overpass JSON, nodes apart', 'map.json', asOverpass(geoJson, false)],
    ['Overpass JSON, geometry inline', 'map.json', asOverpass(geoJson, true)],
  ])('%s', async (_name, file, text) => {
    const folder = mkdtempSync(join(tmpdir(), 'same-'));
    folders.push(folder);
    cpSync(demo, folder, { recursive: true });
    rmSync(join(folder, 'map.geojson'));
    writeFileSync(join(folder, file), text);
    const yaml = readFileSync(join(folder, 'course.yaml'), 'utf8');
    writeFileSync(join(folder, 'course.yaml'), yaml.replace('map.geojson', file));
    const other = loadCourse(folder);
    const otherPages = await pagesOf(other);
    expect(otherPages.length).toBe(pages.length);
    // Byte for byte: no difference in any mark.
    pages.forEach((page, i) => {
      expect(JSON.stringify(otherPages[i]) === JSON.stringify(page), page.id).toBe(true);
    });
    course.holes.forEach((hole, i) => {
      const green = other.holes[i].green!;
      const { outline, frame, locations, drains } = hole.green!;
      expect({
        outline: green.outline,
        frame: green.frame,
        locations: green.locations,
        drains: green.drains,
      }).toEqual({ outline, frame, locations, drains });
    });
  });
});

describe('the heights along the line of play beside notes', async () => {
  const ground = await readGround(course);
  const [hole] = courseFigures({ ...course, holes: course.holes.slice(0, 1) }, ground);
  /** A page of a hole whose note has so many words, with as many tees as told. */
  const pageWith = (words: number, tees: number): Page => {
    const rows = Array.from({ length: tees }, (_, i) => hole.tees[i % hole.tees.length]);
    const text = Array.from({ length: words }, () => 'steady').join(' ');
    const note = { holeId: '1', text, marks: [], putts: [], measured: [] };
    const book = { ...bookOf(course), notes: { by: null, holes: [note] } };
    const context = { layout, measure, book, side: 'left' as const, label: '1' };
    return composeHolePage({ ...context, hole: { ...hole, tees: rows } });
  };
  const where = (page: Page): string => {
    const said = page.marks.flatMap(function flat(mark): Mark[] {
      return mark.kind === 'group' ? mark.marks.flatMap(flat) : [mark];
    });
    const drawn = said.find((mark) => mark.kind === 'text' && /^rise .*along/.test(mark.text));
    if (drawn?.kind !== 'text') return 'nowhere';
    if (/no room/.test(drawn.text)) return 'told';
    return drawn.at[0] < page.width / 3 ? 'under the tees' : 'over the notes';
  };

  test.each([
    [0, 3, 'over the notes'],
    [17, 3, 'over the notes'],
    [24, 3, 'under the tees'],
    [24, 8, 'told'],
  ])('%i words and %i tees: %s', (words, tees, place) => {
    expect(where(pageWith(words, tees))).toBe(place);
  });

  test('stand on each page or are told to be left out, and lie on nothing', () => {
    for (let words = 0; words < 27; words += 4) {
      const page = pageWith(words, 3);
      expect(where(page), `${words}`).not.toBe('nowhere');
      const figure = page.marks.find(
        (mark) =>
          mark.kind === 'group' && mark.alt?.startsWith('Heights along the line of play') === true,
      );
      const ys = (marks: readonly Mark[]): number[] =>
        marks.flatMap((mark) =>
          mark.kind === 'text'
            ? [mark.at[1]]
            : mark.kind === 'group'
              ? ys(mark.marks)
              : mark.kind === 'path'
                ? mark.steps.flatMap((step) => (step.length > 2 ? [Number(step.at(-1))] : []))
                : [],
        );
      const drawn = ys([figure!]);
      const [top, foot] = [Math.min(...drawn), Math.max(...drawn)];
      const below = page.marks.filter(
        (mark) =>
          mark.kind === 'group' &&
          mark.alt === (where(page) === 'under the tees' ? 'Tees of hole 1' : 'Notes'),
      );
      const other = ys(below);
      if (where(page) === 'under the tees') expect(Math.max(...other)).toBeLessThan(top - 2);
      else if (other.length > 0) expect(Math.min(...other)).toBeGreaterThan(foot + 2);
    }
  });
});

describe('the card', () => {
  const holes = courseFigures(course, null);

  test('adds up: each nine, and the whole', () => {
    for (const units of ['imperial', 'metric'] as const) {
      const { tees, rows } = cardOf(holes, { units });
      expect(tees).toEqual(['Cliff', 'Moor', 'Shore']);
      const sum = (from: number, to: number, tee: number): number =>
        holes.slice(from, to).reduce((all, hole) => {
          const { length } = hole.tees.find((one) => one.name === tees[tee])!;
          return all + Math.round(units === 'metric' ? length : metresToYards(length));
        }, 0);
      const sums = rows.filter((row) => row.kind === 'sum');
      expect(sums.map((row) => row.name)).toEqual(['out', 'in', 'total']);
      expect(sums.map((row) => row.par)).toEqual([36, 36, 72]);
      tees.forEach((_, tee) => {
        expect(sums.map((row) => row.lengths[tee])).toEqual([
          sum(0, 9, tee),
          sum(9, 18, tee),
          sum(0, 18, tee),
        ]);
      });
    }
  });

  test('a hole without a tee or par leaves its sums open, not wrong', () => {
    const short = holes.map((hole, i) =>
      i === 4 ? { ...hole, par: null, tees: hole.tees.slice(0, 2) } : hole,
    );
    const sums = cardOf(short, { units: 'imperial' }).rows.filter((row) => row.kind === 'sum');
    expect(sums[0].par).toBeNull();
    expect(sums[0].lengths[2]).toBeNull();
    expect(sums[1].par).toBe(36);
    expect(sums[2].lengths[0]).not.toBeNull();
  });

  test('more tees than fit go to a second page', () => {
    const many = holes.map((hole) => ({
      ...hole,
      tees: Array.from({ length: 7 }, (_, i) => ({ ...hole.tees[0], name: `Tee ${i + 1}` })),
    }));
    const context = { layout, measure, book: bookOf(course), side: 'left' as const, label: '3' };
    const parts = cardParts(context, many);
    expect(parts.flatMap((part) => part.tees)).toEqual([0, 1, 2, 3, 4, 5, 6]);
    expect(parts.length).toBeGreaterThan(1);
  });
});

describe('the approach to each hole location', () => {
  const lines = linesOfCourse(course.map);
  const rowsOf = (hole: Hole): ApproachFigures[] =>
    (hole.green?.locations ?? []).map(approachTo(course, hole, lines)!);

  test('front, sides and back add up to the green, and the nearer side is the location’s own', () => {
    for (const hole of course.holes) {
      const rows = rowsOf(hole);
      expect(rows.map((row) => row.name)).toEqual(hole.green!.locations.map((one) => one.name));
      rows.forEach((row, i) => {
        const location = hole.green!.locations[i];
        expect(row.front).toBeCloseTo(location.on * 0.9144, 6);
        const side = location.side === 'left' ? row.left : row.right;
        expect(side).toBeCloseTo(location.in * 0.9144, 6);
        expect(row.back).toBeGreaterThan(2);
      });
    }
  });

  test('the burn of 18 and the bunker in front of 5 must be carried, nothing on 1', () => {
    const of = (id: string) => rowsOf(course.holes.find((hole) => hole.id === id)!);
    for (const row of of('18')) {
      expect(row.hazard?.kind).toBe('water');
      // The far edge of the burn lies 34 yards from the middle of the green.
      expect(metresToYards(row.hazard!.beyond - row.front)).toBeGreaterThan(10);
      expect(metresToYards(row.hazard!.beyond - row.front)).toBeLessThan(22);
    }
    expect(of('5').every((row) => row.hazard?.kind === 'bunker')).toBe(true);
    expect(of('1').every((row) => row.hazard === null)).toBe(true);
    expect(of('practice').every((row) => row.hazard === null)).toBe(true);
  });

  test('its table prints the figures', () => {
    const rows = rowsOf(course.holes[17]);
    const cell = { x: 0, y: 0, width: 53, height: 24 };
    const context = {
      layout,
      book: bookOf(course),
      measure: (words: string) => words.length,
      green: { locations: rows.map((approach) => ({ approach })) },
    } as unknown as GreenPageContext;
    const words = textsOf(approachModule(context, cell));
    for (const row of rows) {
      expect(words).toContain(row.name);
      expect(words).toContain(`water ${Math.round(metresToYards(row.hazard!.beyond))}`);
    }
  });
});

describe('pages as they look', async () => {
  const names: readonly (readonly [string, string])[] = [
    ['hole-3', 'hole-par-3'],
    ['hole-1', 'hole-par-4'],
    ['hole-9', 'hole-par-5'],
    ['hole-5', 'hole-dog-leg'],
    ['card', 'card'],
    ['conversions', 'conversions'],
  ];
  const chosen = names.map(([id]) => pages.find((page) => page.id === id)!);
  const pdf = await writePdf(chosen, layout, {
    fonts,
    title: 'Pages',
    language: 'en',
    edition: 'screen',
  });
  const images = await rasterise(pdf, 150);
  test.each(names.map(([, name], i) => [name, i] as const))('%s', (name, i) => {
    expect(compareGolden(import.meta.url, name, images[i])).toBeNull();
  });

  test('has no golden picture that no page is held against', () => {
    expect(forgottenGoldens(import.meta.url, OWN)).toEqual([]);
  });

  test('no type under 6 points, no line under a quarter point', () => {
    const walk = (marks: readonly Mark[]): void => {
      for (const mark of marks) {
        if (mark.kind === 'text') expect(mark.size).toBeGreaterThanOrEqual(6);
        if ((mark.kind === 'path' || mark.kind === 'hatch') && mark.stroke !== undefined) {
          expect(mark.stroke.width).toBeGreaterThanOrEqual(0.25 * (25.4 / 72));
        }
        if (mark.kind === 'group' || mark.kind === 'clip') walk(mark.marks);
      }
    };
    for (const page of pages) walk(page.marks);
  });
});
