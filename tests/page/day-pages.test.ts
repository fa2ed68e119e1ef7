import { beforeAll, describe, expect, it } from 'vitest';
import { preflight } from '../../src/check/preflight.js';
import { readBook } from '../../src/check/read-book.js';
import type { Point } from '../../src/geometry.js';
import type { Layout } from '../../src/layout/layout.js';
import { loadLayout } from '../../src/layout/layout-file.js';
import { bareLocation, type GreenContent } from '../../src/page/book-content.js';
import { composeDay } from '../../src/page/day/day-pages.js';
import type { GroupMark, Mark, Page, TextMark } from '../../src/page/marks/marks.js';
import { measureWith, openFonts } from '../../src/print/fonts.js';
import { writePdf } from '../../src/print/pdf.js';
import { rasterise } from '../../src/print/raster.js';
import { nodeMap } from '../../src/putt/break-map.js';
import { lanesAndLeave } from '../../src/putt/lanes.js';
import { breakTable } from '../../src/putt/table.js';
import { fallAt } from '../../src/terrain/fall.js';
import { readGreen } from '../../src/terrain/read-green.js';
import { feetToMetres, metresToPaces } from '../../src/units.js';
import { NO_TODAY } from '../event/no-today.js';
import { FIT_FOR_TABLES } from '../fit-for-tables.js';
import { compareGolden, compareGreyGolden, forgottenGoldens } from '../print/golden.js';
import { plane, quadric, twoTier } from '../surface/analytic.js';

/** Made-up greens of six shapes, each three times over: eighteen holes. */
const outlineOf = (wide: number, deep: number): Point[] =>
  Array.from({ length: 60 }, (_, i): Point => {
    const angle = (2 * Math.PI * i) / 60;
    return [wide * Math.cos(angle) * (1 + 0.15 * Math.sin(angle)), deep * (1 + Math.sin(angle))];
  });
const SURFACES = [
  plane(outlineOf(11, 13), 0.012, 0.018),
  quadric(outlineOf(13, 11), 0.002, 0.0015, 2, 6),
  twoTier(outlineOf(9, 18), 0.6, 18, 2.5, 0.012),
  quadric(outlineOf(10, 14), -0.0014, -0.001, 0, 22),
  plane(outlineOf(14, 9), -0.02, 0.006),
  quadric(outlineOf(12, 12), 0.0016, -0.0012, -3, 10),
];
const STIMP = feetToMetres(11);
const PAST = feetToMetres(1);

const greensFor = (layout: Layout): GreenContent[] => {
  const six = SURFACES.map((surface, i): GreenContent => {
    const at: Point = [i % 2 === 0 ? 3 : -3.5, 6 + 1.5 * i];
    const side = i % 2 === 0 ? 'right' : 'left';
    const settings = { stimp: STIMP, past: PAST };
    return {
      holeId: '',
      name: 'Made up',
      par: 4,
      outline: surface.outline,
      reading: readGreen(surface, { bandThresholds: [...layout.green.bandThresholds] }),
      worth: FIT_FOR_TABLES,
      drains: [],
      locations: [
        {
          ...bareLocation({ name: '3', on: metresToPaces(at[1]), in: 5.5, side, at }),
          ground: fallAt(surface, at),
          table: breakTable(surface, at, layout.tables.lengths, settings),
          regions: lanesAndLeave(surface, nodeMap(surface, at, settings)),
        },
      ],
      stimp: STIMP,
      past: PAST,
    };
  });
  return Array.from({ length: 18 }, (_, i) => ({ ...six[i % 6], holeId: `${i + 1}` }));
};

const everyMark = (marks: readonly Mark[]): Mark[] =>
  marks.flatMap((mark) =>
    mark.kind === 'group' || mark.kind === 'clip' ? [mark, ...everyMark(mark.marks)] : [mark],
  );

const imagesOf = (page: Page): GroupMark[] =>
  everyMark(page.marks).filter(
    (mark): mark is GroupMark => mark.kind === 'group' && mark.role === 'green-image',
  );

describe('the pages of a day', () => {
  const fonts = openFonts();
  const measure = measureWith(fonts);
  const layout = loadLayout('day');
  let greens: GreenContent[];
  const compose = (of: Layout, some: readonly GreenContent[]): Page[] =>
    composeDay(
      {
        title: 'An invented course',
        setting: '',
        use: of.use,
        units: 'imperial',
        stimp: STIMP,
        past: PAST,
        greens: some,
        day: 3,
        today: NO_TODAY,
      },
      of,
      measure,
    );
  beforeAll(() => {
    greens = greensFor(layout);
  });

  it('are four for eighteen holes: one sheet, folded once', () => {
    const pages = compose(layout, greens);
    expect(pages.map(({ id }) => id)).toEqual([
      'day-sheet',
      'day-tables',
      'day-tables-2',
      'day-tables-3',
    ]);
    expect(imagesOf(pages[0])).toHaveLength(18);
  });

  it('draw all greens at one scale, smaller than 1:480, as measured from the marks', () => {
    const scales = imagesOf(compose(layout, greens)[0]).map(({ ground }) => {
      const xs = ground!.outline.flatMap((step) => (step.length === 3 ? [step[1]] : []));
      return (ground!.width * 1000) / (Math.max(...xs) - Math.min(...xs));
    });
    for (const scale of scales) {
      expect(scale).toBeCloseTo(scales[0], 3);
      expect(scale).toBeGreaterThanOrEqual(480);
    }
  });

  it('keep every text inside the margins, at any number of holes', () => {
    const { width, height } = layout.page;
    for (const count of [1, 2, 5, 9, 18]) {
      for (const page of compose(layout, greens.slice(0, count))) {
        const texts = everyMark(page.marks).filter((m): m is TextMark => m.kind === 'text');
        for (const { text, at, face, size, align } of texts) {
          const wide = measure(text, face, size);
          const left = at[0] - (align === 'left' ? 0 : align === 'right' ? wide : wide / 2);
          expect(left, `${page.id}, ${text}`).toBeGreaterThan(4);
          expect(left + wide, `${page.id}, ${text}`).toBeLessThan(width - 4);
          expect(at[1], `${page.id}, ${text}`).toBeLessThan(height - 3);
          expect(size).toBeGreaterThanOrEqual(6);
        }
      }
    }
  });

  it('say as much of why a green has no putts as its rows hold, and pass the check', async () => {
    const reason = (what: string) =>
      `asked: ${what} of four in five ten-foot putts across the fall right to 1.91 in; found: 5.76 in`;
    const worthOf = (reasons: number): GreenContent['worth'] => ({
      ...FIT_FOR_TABLES,
      ...{ worth: 'arrows', judged: 'arrows', mend: ['points no more than 6.6 ft apart'] },
      reasons: Array.from({ length: reasons }, (_, i) => reason(`the aim ${i + 1}`)),
      notes: ['a rough survey by hand: 36 places by paces, falls good to 13 mm'],
    });
    const mixed = greens.slice(0, 6).map((green, i) => {
      if (i % 2 === 0) return green;
      const [location] = green.locations;
      const bare = [{ ...location, table: null, regions: null }];
      return { ...green, worth: worthOf(i), locations: bare };
    });
    const pages = compose(layout, mixed);
    const said = pages.flatMap(({ marks }) =>
      everyMark(marks).flatMap((mark) => (mark.kind === 'text' ? [mark.text] : [])),
    );
    expect(said.filter((one) => one.startsWith('No putts of this green'))).toHaveLength(3);
    // The first has room for its reason, and for the note on it; the last not even for all reasons.
    expect(said.filter((one) => /the aim 1 /.test(one)).length).toBeGreaterThan(0);
    expect(said.filter((one) => /the aim 5 /.test(one))).toEqual([]);
    const bytes = await writePdf(pages, layout, {
      ...{ fonts, edition: 'screen', title: 'Mixed', language: 'en' },
    });
    const findings = preflight(await readBook(bytes, 'day.pdf'));
    expect(findings.filter(({ verdict }) => verdict === 'fail')).toEqual([]);
  });

  it('show no measured detail in a committee edition', () => {
    const [sheet] = compose({ ...layout, use: 'committee' }, greens);
    const marks = imagesOf(sheet).flatMap((image) => everyMark(image.marks));
    const tints = marks.filter((mark) => mark.kind === 'path' && mark.fill?.ink === 'tint');
    expect(tints).toEqual([]);
    // The edge, two measures with their ticks, and the hole's two circles.
    for (const image of imagesOf(sheet)) expect(everyMark(image.marks)).toHaveLength(7);
  });

  it('look as they were looked at', async () => {
    const pages = compose(layout, greens);
    const words = { fonts, title: 'Day', language: 'en', edition: 'screen' as const };
    const images = await rasterise(await writePdf(pages.slice(0, 2), layout, words), 110);
    expect(compareGolden(import.meta.url, 'day-sheet', images[0])).toBeNull();
    expect(compareGreyGolden(import.meta.url, 'day-sheet', images[0])).toBeNull();
    expect(compareGolden(import.meta.url, 'day-tables', images[1])).toBeNull();
    expect(forgottenGoldens(import.meta.url, /^day-/)).toEqual([]);
  });
});
