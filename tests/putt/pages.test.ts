import { describe, expect, it } from 'vitest';
import { crossingBare, surveyedStation } from '../../src/book/surveyed-only.js';
import type { PlacedHoleLocation } from '../../src/course/course.js';
import { insideRing, type Point } from '../../src/geometry.js';
import type { Layout } from '../../src/layout/layout.js';
import { loadLayout } from '../../src/layout/layout-file.js';
import type { BookContent, GreenContent } from '../../src/page/book-content.js';
import type { Mark, Page } from '../../src/page/marks/marks.js';
import { composeBreakMapPage } from '../../src/page/putts/break-map-page.js';
import { composePuttFigure } from '../../src/page/putts/putt-figure.js';
import { composeStationPage } from '../../src/page/putts/station-page.js';
import { measureWith, openFonts } from '../../src/print/fonts.js';
import { breakMap } from '../../src/putt/break-map.js';
import { solvePutt } from '../../src/putt/solve.js';
import { practiceStation } from '../../src/putt/station.js';
import type { Surface } from '../../src/surface/surface.js';
import { readGreen } from '../../src/terrain/read-green.js';
import type { Reading } from '../../src/terrain/reading.js';
import { feetToMetres, inchesToMetres, pointsToMm } from '../../src/units.js';
import { FIT_FOR_TABLES } from '../fit-for-tables.js';
import { circleRing, plane } from '../surface/analytic.js';
import { type WavyGround, wavySurface } from './grounds.js';

const measure = measureWith(openFonts());
const pocket = loadLayout('pocket');
const layout: Layout = {
  ...pocket,
  pages: {
    ...pocket.pages,
    station: [
      { module: 'heading', columns: [1, 12], rows: [1, 4] },
      { module: 'station-title', columns: [1, 12], rows: [5, 6] },
      { module: 'station-figure', columns: [1, 12], rows: [7, 25] },
      { module: 'station-words', columns: [1, 12], rows: [26, 34] },
      { module: 'foot', columns: [1, 12], rows: [36, 36] },
    ],
    'break-map': [
      { module: 'heading', columns: [1, 12], rows: [1, 4] },
      { module: 'break-map-title', columns: [1, 12], rows: [5, 6] },
      { module: 'break-map-image', columns: [1, 12], rows: [7, 32] },
      { module: 'break-map-key', columns: [1, 12], rows: [33, 35] },
      { module: 'foot', columns: [1, 12], rows: [36, 36] },
    ],
  },
};
const outline = circleRing(12);
const surface = plane(outline, 0, 0.02);
const settings = { stimp: feetToMetres(10), past: inchesToMetres(12) };
const hole: Point = [1, 2];
const location: PlacedHoleLocation = { name: 'A', at: hole, on: 9, in: 6, side: 'left' };
const green = {
  holeId: '4',
  name: 'A green',
  par: 4,
  outline,
  drains: [],
  locations: [location],
  reading: readGreen(surface),
  worth: FIT_FOR_TABLES,
  ...settings,
} as unknown as GreenContent;
const book = { units: 'imperial', use: 'practice', ...settings } as unknown as BookContent;
const context = { layout, measure, book, side: 'right', label: '9', green, location } as const;

interface Said {
  readonly words: string;
  readonly size: number;
  readonly box: readonly [number, number, number, number];
}

const textsOf = (marks: readonly Mark[]): Said[] =>
  marks.flatMap((mark): Said[] => {
    if (mark.kind === 'group' || mark.kind === 'clip') return textsOf(mark.marks);
    if (mark.kind !== 'text') return [];
    const width = measure(mark.text, mark.face, mark.size);
    const left = mark.at[0] - { left: 0, centre: width / 2, right: width }[mark.align];
    const height = mark.size * 0.3528;
    return [
      {
        words: mark.text,
        size: mark.size,
        box: [left, mark.at[1] - 0.7 * height, left + width, mark.at[1] + 0.2 * height],
      },
    ];
  });

const expectInTrim = (page: Page): Said[] => {
  const texts = textsOf(page.marks);
  for (const { box, size, words } of texts) {
    expect(size, words).toBeGreaterThanOrEqual(6);
    expect(box[0], words).toBeGreaterThan(3);
    expect(box[2], words).toBeLessThan(page.width - 3);
    expect(box[1], words).toBeGreaterThan(3);
    expect(box[3], words).toBeLessThan(page.height - 3);
  }
  return texts;
};

const UNEVEN: WavyGround = {
  tiltX: 0.01,
  tiltY: 0.015,
  waves: [
    { amplitude: 0.12, kx: 0.5, ky: 0.35, phase: 0.4 },
    { amplitude: 0.04, kx: -0.4, ky: 0.9, phase: 1.1 },
  ],
};

/** The labels of a break map, and whether each lies whole on the green. */
const labelsOn = (ground: Surface, hole: Point): { words: string; isWhole: boolean }[] => {
  const map = breakMap(ground, hole, settings);
  const page = composeBreakMapPage({ ...context, map });
  const image = page.marks.find((mark) => mark.kind === 'group' && mark.role === 'green-image');
  if (image?.kind !== 'group') throw new Error('no image');
  const edge = image.ground!.outline.flatMap((step): Point[] =>
    step.length === 3 ? [[step[1], step[2]]] : [],
  );
  return image.marks.flatMap((mark) => {
    if (mark.kind !== 'text' || !/ [LR]$/.test(mark.text)) return [];
    const half = measure(mark.text, mark.face, mark.size) / 2;
    const high = pointsToMm(mark.size) * 0.7;
    const corners = [-half, half].flatMap((dx) => [0, -high].map((dy) => [dx, dy]));
    const isWhole = corners.every(([dx, dy]) => insideRing(edge, mark.at[0] + dx, mark.at[1] + dy));
    return [{ words: mark.text, isWhole }];
  });
};

describe('pages of putts', () => {
  it('shows the station: four tees, their figures, what to picture, for practice only', () => {
    const station = practiceStation(surface, hole, settings);
    const texts = expectInTrim(composeStationPage({ ...context, station }));
    const words = texts.map((one) => one.words);
    for (const quadrant of ['below', 'above', 'left', 'right']) expect(words).toContain(quadrant);
    expect(words.filter((one) => one === 'straight').length).toBe(2);
    expect(words).toContain('2 in left');
    expect(words).toContain('2 in right');
    expect(words).toContain('practice only');
    // What is printed at the foot does not contradict it.
    expect(words.join(' ')).not.toMatch(/for play/);
    const all = words.join(' ');
    expect(all).toMatch(/run past/);
    expect(all).toMatch(/stop short/);
    expect(all).toMatch(/both aim over the point 2 in above/);
    // No two texts lie on each other.
    texts.forEach((a, i) => {
      for (const b of texts.slice(i + 1)) {
        const apart =
          a.box[2] <= b.box[0] ||
          b.box[2] <= a.box[0] ||
          a.box[3] <= b.box[1] ||
          b.box[3] <= a.box[1];
        expect(apart, `${a.words} / ${b.words}`).toBe(true);
      }
    });
  });

  it('shows the break map: labelled lines, solid and dashed, at the scale of the layout', () => {
    const map = breakMap(surface, hole, settings);
    const page = composeBreakMapPage({ ...context, map });
    const words = expectInTrim(page).map((one) => one.words);
    expect(words).toContain('12″ L');
    expect(words).toContain('12″ R');
    const image = page.marks.find((mark) => mark.kind === 'group' && mark.role === 'green-image');
    expect(image).toBeDefined();
    if (image?.kind !== 'group') return;
    // 24 m of green at 1:480 are 50 mm.
    const xs = image.ground!.outline.flatMap((step) => (step.length === 3 ? [step[1]] : []));
    expect(Math.max(...xs) - Math.min(...xs)).toBeCloseTo(50, 0);
    expect(image.ground!.width).toBeCloseTo(24, 1);
  });

  it('leaves ground without points blank, and says what has no line or figure for it', () => {
    const bare: Point[] = [[hole[0] + 3.25, hole[1] + 0.25]];
    const green = { ...context.green, worth: { ...context.green.worth, bare } };
    const map = breakMap(surface, hole, settings, crossingBare(bare));
    const mapWords = expectInTrim(composeBreakMapPage({ ...context, green, map }));
    const told = mapWords.map((one) => one.words).join(' ');
    expect(told).toContain('no line where a putt crosses ground that was not surveyed');
    const near: Point[] = [[hole[0], hole[1] - 0.9]];
    const station = surveyedStation(practiceStation(surface, hole, settings), near);
    if (station === null) throw new Error('the hole itself is surveyed');
    const words = expectInTrim(composeStationPage({ ...context, green, station }))
      .map((one) => one.words)
      .join(' ');
    expect(words).toContain('not surveyed');
    expect(words).toContain('its way was not surveyed');
  });

  it('keeps every label of the break map whole on the green, also where a line only cuts a corner', () => {
    const uneven = wavySurface(UNEVEN, outline);
    const labels = (
      [
        [8, 6],
        [-7, -7],
        [0, 9],
      ] as const
    ).flatMap((at) => labelsOn(uneven, at));
    expect(labels.length).toBeGreaterThan(20);
    expect(labels.filter(({ isWhole }) => !isWhole)).toEqual([]);
  });

  it('keeps labels of the break map off one another and off the hole’s letter', () => {
    const uneven = wavySurface(UNEVEN, outline);
    for (const at of [
      [8, 6],
      [-7, -7],
      [0, 2],
    ] as const) {
      // A long name, so that lines with labels pass below it.
      const named = { ...context, location: { ...location, name: 'West shelf' } };
      const page = composeBreakMapPage({ ...named, map: breakMap(uneven, at, settings) });
      const image = page.marks.find((mark) => mark.kind === 'group' && mark.role === 'green-image');
      const texts = image === undefined ? [] : textsOf([image]);
      expect(texts.map(({ words }) => words)).toContain('West shelf');
      expect(texts.length).toBeGreaterThan(5);
      texts.forEach((a, i) => {
        for (const b of texts.slice(i + 1)) {
          const isApart =
            a.box[2] <= b.box[0] ||
            b.box[2] <= a.box[0] ||
            a.box[3] <= b.box[1] ||
            b.box[3] <= a.box[1];
          expect(isApart, `${a.words} / ${b.words}`).toBe(true);
        }
      });
    }
  });

  it('draws the lines of aim over the ground that makes them: grades, paces, contours, fall and stream', () => {
    const points = [
      [0, 8, 0.2],
      [1, 0, 0.1],
      [0, -11, 0],
    ] as const;
    const stream = { main: false, order: 1, points, area: [1, 2, 3], mouth: 'edge' };
    const reading = { ...green.reading, streams: [stream] } as unknown as Reading;
    const own = { ...context, green: { ...green, reading } };
    const page = composeBreakMapPage({ ...own, map: breakMap(surface, hole, settings) });
    const image = page.marks.find((mark) => mark.kind === 'group' && mark.role === 'green-image');
    const clip = image?.kind === 'group' ? image.marks.find(({ kind }) => kind === 'clip') : null;
    if (clip?.kind !== 'clip') throw new Error('no ground');
    const isLine = (mark: Mark): boolean =>
      mark.kind === 'path' && mark.stroke?.paint.ink === 'dark' && mark.fill === undefined;
    const first = clip.marks.findIndex(isLine);
    const below = clip.marks.slice(0, first);
    const paths = below.flatMap((mark) => (mark.kind === 'path' ? [mark] : []));
    const filled = paths.filter(({ fill }) => fill?.ink === 'tint');
    // Tones of the grades, each contour, each arrow that keeps clear of what stands on the ground, each stream.
    expect(filled.length).toBeGreaterThan(reading.streams.length + reading.arrows.length / 2);
    expect(paths.length - filled.length).toBeGreaterThanOrEqual(reading.contours.length);
    // Nothing of the ground is as dark as the lines, and nothing of it lies over them.
    expect(paths.some(({ fill }) => fill?.ink === 'dark')).toBe(false);
    expect(clip.marks.slice(first).every(isLine)).toBe(true);
  });

  it('draws one putt with its figures', () => {
    const putt = solvePutt(surface, [-3, 0], hole, settings);
    const figure = { putt, ...settings, aimSd: 0.02, falls: [], units: 'imperial' } as const;
    const page = composePuttFigure(figure, measure);
    const words = expectInTrim(page).map((one) => one.words);
    expect(words[0]).toMatch(/ft putt/);
    expect(words.join(' ')).toMatch(/aim \d+ in left, 2 in either way by the survey/);
    expect(words.join(' ')).toMatch(/practice only/);
  });
});
