import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import type { Worth } from '../../src/appraisal/worth.js';
import { contentOf } from '../../src/book/course-book.js';
import { courseFigures } from '../../src/course/course-figures.js';
import { greenSize } from '../../src/course/green-size.js';
import type { HoleFigures } from '../../src/course/hole-figures.js';
import { loadCourse } from '../../src/course/load-course.js';
import { outlineGreens } from '../../src/course/outline-green.js';
import { boxOf, type Point, type Ring } from '../../src/geometry.js';
import { loadLayout } from '../../src/layout/layout-file.js';
import {
  bareLocation,
  type GreenContent,
  type OutlinedGreen,
} from '../../src/page/book-content.js';
import { composeBook, planBook } from '../../src/page/book-pages.js';
import type { GroupMark, Mark, Page } from '../../src/page/marks/marks.js';
import { measureWith, openFonts } from '../../src/print/fonts.js';
import type { Reading } from '../../src/terrain/reading.js';
import { metresToPaces, pointsToMm } from '../../src/units.js';
import { tidyCourse } from '../course/untidy-course.js';
import { writtenAs } from '../course/untidy-writers.js';
import { FIT_FOR_TABLES } from '../fit-for-tables.js';
import { blankGreen } from './blank-greens.js';

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
      expect(words).toContain('fall?');
      expect(words).toMatch(/front 0, middle \d+, back \d+/);
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
    const of = (layout: string): string[] =>
      wordsOf(pagesOf(layout).find((one) => one.id === 'green-1')!);
    expect(of('fold-up').join(' ')).toContain('A 9 on, 9 from left');
    // The table of the approach: on from the front, to the back and to either side.
    const words = of('pocket');
    const heads = words.slice(words.indexOf('front'), words.indexOf('front') + 4);
    expect(heads).toEqual(['front', 'back', 'left', 'right']);
    const [green] = outlineGreens(course);
    const [front, back, left, right] = words.slice(words.lastIndexOf('A') + 1).map(Number);
    expect([front, left]).toEqual([9, 9]);
    const { depth, width } = greenSize(green.outline);
    expect(Math.abs(front + back - metresToPaces(depth))).toBeLessThan(3);
    expect(left + right).toBeLessThanOrEqual(Math.round(metresToPaces(width)) + 1);
  });

  test('leaves lines to write on over and under it, which end before a hazard', () => {
    const layout = loadLayout('pocket');
    const holes = courseFigures(course, null);
    const book = contentOf(course, layout, 'imperial', [], { holes });
    const [green] = book.outlines!;
    const { maxY } = boxOf(green.outline);
    const linesWith = (hazards: typeof green.hazards): Map<number, [number, number][]> => {
      const plan = planBook({ ...book, outlines: [{ ...green, hazards }] }, layout, measure);
      const page = plan.find(({ kind }) => kind === 'green')!.compose();
      const parts = new Map<number, [number, number][]>();
      for (const mark of flat(page.marks)) {
        if (mark.kind !== 'path' || mark.stroke?.width !== 0.12 || mark.steps.length !== 2)
          continue;
        const [[, x0, y0], [, x1, y1]] = mark.steps as [string, number, number][];
        if (y0 === y1 && x1 - x0 > 10) parts.set(y0, [...(parts.get(y0) ?? []), [x0, x1]]);
      }
      return parts;
    };
    const free = linesWith([]);
    expect(free.size).toBeGreaterThan(2);
    for (const parts of free.values()) expect(parts).toHaveLength(1);
    // A pit over the green, twelve metres wide: 25 mm at 1:480.
    const pit = [
      [-6, maxY + 4],
      [6, maxY + 4],
      [6, maxY + 14],
      [-6, maxY + 14],
    ] as const;
    const beside = [...linesWith([{ kind: 'bunker', ring: pit }]).values()];
    const cut = beside.filter((parts) => parts.length === 2);
    expect(cut.length).toBeGreaterThan(0);
    for (const [[, end], [begin]] of cut) expect(begin - end).toBeGreaterThan(25);
  });
});

test('no line to write on runs close over a count of paces that a hazard has moved over the green', () => {
  const layout = loadLayout('a6');
  const book = contentOf(course, layout, 'imperial', [], { holes: courseFigures(course, null) });
  const [green] = book.outlines!;
  let counted = 0;
  // Greens of many depths: their upper edges stand at every height between two lines.
  for (let step = 0; step < 14; step += 1) {
    const outline = green.outline.map(([x, y]) => [x, y * (0.7 + 0.02 * step)] as const);
    const { minX, maxX } = boxOf(outline);
    // A pit along the front, where the counts from both sides stand else.
    const ring = [
      [minX, -1],
      [maxX, -1],
      [maxX, -6],
      [minX, -6],
    ] as const;
    const hazards = [{ kind: 'bunker' as const, ring }];
    const outlines = [{ ...green, outline, locations: [], approaches: [], hazards }];
    const plan = planBook({ ...book, outlines }, layout, measure);
    const page = plan.find(({ kind }) => kind === 'green')!.compose();
    const marks = flat(page.marks);
    const lines = marks.flatMap((mark) => {
      if (mark.kind !== 'path' || mark.stroke?.width !== 0.12 || mark.steps.length !== 2) return [];
      const [[, x0, y], [, x1, y1]] = mark.steps as [string, number, number][];
      return y === y1 && x1 - x0 > 10 ? [{ x0, x1, y }] : [];
    });
    for (const mark of marks) {
      if (mark.kind !== 'text' || mark.align !== 'centre' || !/^(5|10|15)$/.test(mark.text))
        continue;
      counted += 1;
      const [x, base] = mark.at;
      const top = base - 0.7 * pointsToMm(mark.size);
      const close = lines.filter(({ x0, x1, y }) => x0 < x && x1 > x && y > top - 0.8 && y < base);
      expect(close, `step ${step}: ${mark.text}`).toEqual([]);
    }
  }
  expect(counted).toBeGreaterThan(20);
});

test('four hole locations stand below each other on the fold-up', () => {
  const layout = loadLayout('fold-up');
  const book = contentOf(course, layout, 'imperial', [], { holes: courseFigures(course, null) });
  const [green] = book.outlines!;
  const locations = ['A', 'B', 'C', 'D'].map((name) => ({ ...green.locations[0], name }));
  const outlines = [{ ...green, locations }];
  const plan = planBook({ ...book, outlines }, layout, measure);
  const page = plan.find(({ kind }) => kind === 'green')!.compose();
  const rows = flat(page.marks).flatMap((mark) =>
    mark.kind === 'text' && /^\d+ on, \d+ from/.test(mark.text) ? [mark.at] : [],
  );
  expect(rows).toHaveLength(4);
  expect(new Set(rows.map(([x]) => x)).size).toBe(1);
  expect(Math.max(...rows.map(([, y]) => y))).toBeLessThan(
    layout.page.height - layout.page.margins.bottom,
  );
});

/** A reading that no page may look at. */
const UNREAD = new Proxy({} as Reading, {
  get: () => {
    throw new Error('a reading was looked at that may not be shown');
  },
});

/** One of which nothing is known yet. */
const UNKNOWN = { streams: [], outlets: [] } as unknown as Reading;

const greenOf = (holeId: string, worth: Worth): GreenContent => ({
  holeId,
  name: `Hole ${holeId}`,
  par: 4,
  outline: outlineGreens(course)[0].outline,
  reading: worth === 'outline' ? UNREAD : UNKNOWN,
  worth: {
    ...FIT_FOR_TABLES,
    worth,
    judged: worth,
    reasons: ['asked: points close by; found: few'],
    mend: ['more points'],
  },
  drains: [],
  locations: [],
  stimp: 3,
  past: 0.3,
});

describe('a book of several kinds of green', () => {
  const layout = loadLayout('pocket');
  const bare = contentOf(course, layout, 'imperial', [], { holes: courseFigures(course, null) });

  /** What cover, how-to-read and page of surveys say of a book with surveys of such worths; the rest has none. */
  const wordsWith = (worths: readonly Worth[]): Record<string, string> => {
    const greens = worths.map((worth, i) => greenOf(`${i + 1}`, worth));
    const outlines = bare.outlines!.filter(({ holeId }) => Number(holeId) > worths.length);
    const book = { ...bare, greens, ...(outlines.length > 0 ? { outlines } : { outlines: [] }) };
    const told = planBook(book, layout, measure).filter(({ kind }) =>
      ['cover', 'how-to-read', 'surveys'].includes(kind),
    );
    return Object.fromEntries(
      told.map(({ kind, compose }) => [kind, wordsOf(compose()).join(' ').replace(/\s+/g, ' ')]),
    );
  };

  const SIGNS = {
    putts: /Quadrants|Aim:|putts along them|no pace/,
    falls: /Grade of the ground|drainage line|Contours|Not modelled/,
    outlines: /outline alone|Front, middle, back/,
  };
  test.each<[readonly Worth[], readonly string[], RegExp[]]>([
    [[], ['outlines'], [/^((?!putts|slope|speed).)*3 greens from the map/]],
    [
      ['tables', 'tables', 'tables'],
      ['putts', 'falls'],
      [/3 greens: slope, fall, drainage and putts/, /speed 1/],
    ],
    [['arrows', 'arrows', 'arrows'], ['falls'], [/3 greens: slope, fall and drainage/]],
    [['outline', 'outline', 'outline'], ['outlines'], [/3 greens from the map/]],
    [['arrows'], ['falls', 'outlines'], [/1 green: slope/, /2 greens from the map/]],
    [
      ['tables', 'arrows'],
      ['putts', 'falls', 'outlines'],
      [/1 green: slope, fall, drainage and putts/, /1 green: slope, fall and d/, /1 green from/],
    ],
  ])('with surveys worth %j it tells how to read %j and no more', (worths, kinds, onCover) => {
    const words = wordsWith(worths);
    for (const [kind, signs] of Object.entries(SIGNS)) {
      expect(signs.test(words['how-to-read']), `${kind} of ${words['how-to-read']}`).toBe(
        kinds.includes(kind),
      );
    }
    for (const line of onCover) expect(words.cover).toMatch(line);
    expect(words.cover).not.toMatch(/\b0 greens/);
    expect(/speed/.test(words.cover)).toBe(kinds.includes('putts'));
    expect(words.surveys === undefined).toBe(worths.length === 0);
    if (worths.length === 2) expect(words.surveys).toMatch(/3: no survey/);
  });

  test('has a key of no sign that is not in it', () => {
    const wordsOfKind = (book: typeof bare, kind: string): string =>
      planBook(book, layout, measure)
        .filter((one) => one.kind === kind)
        .map(({ compose }) => wordsOf(compose()).join(' '))
        .join(' ');
    const [first, ...rest] = bare.outlines!;
    const [bunker] = first.hazards;
    const pond = { ...bunker, kind: 'water' as const };
    const beside = (hazards: (typeof first)['hazards']) => ({
      ...bare,
      outlines: [first, ...rest].map((one) => ({ ...one, hazards })),
    });
    const read = (book: typeof bare): string => wordsOfKind(book, 'how-to-read');
    expect(read(beside([bunker, pond]))).toMatch(/Bunker and water round/);
    expect(read(beside([pond]))).toMatch(/Water beside/);
    expect(read(beside([bunker]))).toMatch(/Bunker beside/);
    expect(read(beside([]))).not.toMatch(/Bunker|Water/);
    expect(read(bare)).toMatch(/Hole location/);
    const unplaced = bare.outlines!.map((one) => ({ ...one, locations: [], approaches: [] }));
    expect(read({ ...bare, outlines: unplaced })).not.toMatch(/Hole location/);

    const main = (kept: number) => ({ main: true, outlet: { kept } });
    const ground = (streams: readonly object[], outlets: readonly object[]): string => {
      const green = greenOf('1', 'arrows');
      const reading = { ...green.reading, streams, outlets } as typeof green.reading;
      return read({ ...bare, greens: [{ ...green, reading }], outlines: [] });
    };
    expect(ground([main(0.9)], [{ share: 1 }])).not.toMatch(/In tint|Mouths with/);
    expect(ground([main(0.4)], [{ share: 1 }])).toMatch(/hardly curve. In tint: one of many/);
    // What no survey has told yet may be any of them.
    expect(ground([], [])).toMatch(/In tint: one of many alike. Mouths with shares take turns/);

    const empty = { features: [], gaps: [], landmarks: [], landing: null, runOut: null };
    const none = bare.holes!.map((hole): HoleFigures => ({ ...hole, ...empty }));
    const withOne = (change: Partial<HoleFigures>): string =>
      wordsOfKind({ ...bare, holes: [{ ...none[0], ...change }, ...none.slice(1)] }, 'conversions');
    const { landing, runOut, gaps, features, tees } = bare.holes!.find(
      (one) => one.landing !== null && one.runOut !== null && one.gaps.length > 0,
    )!;
    const post = { name: 'gate', sign: 'post', along: 1, off: 1, front: 1, middle: 2, back: 3 };
    const signs: readonly [RegExp, Partial<HoleFigures>][] = [
      [/Bunker\. Carry/, { features: features.filter(({ kind }) => kind === 'bunker') }],
      [/Water\. Past/, { features: [{ ...features[0], kind: 'water' }] }],
      [/Landing area/, { landing }],
      [/runs out/, { runOut }],
      [/lay up/, { gaps }],
      [/Sprinkler/, { landmarks: [{ ...post, at: bare.holes![0].greenMiddle }] }],
      [/the length plus the rise/, { tees: [{ ...tees[0], rise: 2 }] }],
    ];
    for (const [sign, change] of signs) {
      for (const [other] of signs) expect(other.test(withOne(change))).toBe(other === sign);
    }
  });

  test('an outline is told in words with the hazards round it and its hole locations', () => {
    const altOf = (hazards: OutlinedGreen['hazards']): string => {
      const [first] = bare.outlines!;
      const outlines = [{ ...first, hazards }];
      const plan = planBook({ ...bare, greens: [], outlines }, loadLayout('pocket'), measure);
      const page = plan.find(({ kind }) => kind === 'green')!.compose();
      return flat(page.marks)
        .flatMap((mark) => (mark.kind === 'group' && mark.role === 'green-image' ? mark.alt : []))
        .join('');
    };
    const box = boxOf(bare.outlines![0].outline);
    const [x, y] = [(box.minX + box.maxX) / 2, (box.minY + box.maxY) / 2];
    const square = (at: readonly [number, number]): Ring =>
      [
        [-3, -3],
        [3, -3],
        [3, 3],
        [-3, 3],
      ].map(([dx, dy]): Point => [at[0] + dx, at[1] + dy]);
    const told = altOf([
      { kind: 'bunker', ring: square([box.minX - 4, y]) },
      { kind: 'water', ring: square([x, box.minY - 5]) },
    ]);
    expect(told).toMatch(/Its outline, from the map\. Bunker at the left\. Water at the front\./);
    expect(told).toMatch(/Hole location A, 9 on, 9 from left\.$/);
    expect(altOf([])).not.toMatch(/Bunker|Water/);
  });

  test('a fold-up names hole locations alike on all greens, and leaves lines for more', () => {
    const foldUp = loadLayout('fold-up');
    const [outline] = bare.outlines!;
    const places = 'ABCDEFG'.split('').map((name, i) => ({
      ...{ name, on: 5 + i, in: 6, side: 'left' as const, at: [0, 4 + i] as const },
    }));
    const listed = (count: number, worth: Worth): { words: string[]; lines: number } => {
      const locations = places.slice(0, count);
      const blank = blankGreen({ id: '1', name: 'Hole 1', locations: 0 }, foldUp);
      const own = { ...blank, worth: { ...blank.worth, worth } };
      const green = { ...own, locations: locations.map(bareLocation) };
      const surveyed = worth !== 'outline';
      const book = {
        ...bare,
        greens: surveyed ? [green] : [],
        outlines: surveyed ? [] : [{ ...outline, locations }],
      };
      const plan = planBook(book, foldUp, measure);
      const marks = flat(plan.find(({ kind }) => kind === 'green')!.compose().marks);
      const texts = marks.flatMap((mark) => (mark.kind === 'text' ? [mark] : []));
      const head = texts.findIndex(({ text }) => text.startsWith('hole locations'));
      const below = texts.slice(head).filter(({ at }) => at[1] > texts[head].at[1]);
      const rules = marks.filter(
        (mark) =>
          mark.kind === 'path' &&
          mark.steps.length === 2 &&
          mark.steps.every((step) => step[0] !== 'Z' && step[2] > texts[head].at[1]),
      );
      return { words: below.map(({ text }) => text), lines: rules.length };
    };
    for (const count of [0, 2, 7]) {
      const [surveyed, drawn] = [listed(count, 'arrows'), listed(count, 'outline')];
      expect(surveyed).toEqual(drawn);
      expect(surveyed.words.filter((word) => /^[A-G]$/.test(word))).toHaveLength(count);
      expect(surveyed.lines).toBe(Math.max(0, 4 - count));
    }
  });

  test('a survey that is worth the outline only gets the same page, which says why', () => {
    const greens = [greenOf('1', 'outline')];
    const plan = planBook({ ...bare, greens }, layout, measure);
    const kinds = plan.filter(({ holeId }) => holeId === '1').map(({ kind }) => kind);
    expect(kinds).toEqual(['hole', 'green']);
    // Not in the list of outlines either: its reading stays unlooked at.
    const alone = planBook({ ...bare, outlines: [], greens }, layout, measure);
    const page = alone.find(({ kind, holeId }) => kind === 'green' && holeId === '1')!.compose();
    const words = wordsOf(page).join(' ');
    expect(words).toMatch(/fall\?/);
    expect(words).toMatch(/fit for the outline only/);
    expect(words).toMatch(/Asked: points close by; found: few\..*more points/);
  });

  test('has a page for a practice green that is on the map alone', () => {
    const { outlines = [] } = bare;
    const practice = { ...outlines[0], holeId: 'practice', name: 'Practice green', par: null };
    const plan = planBook({ ...bare, outlines: [...outlines, practice] }, layout, measure);
    expect(plan.filter(({ holeId }) => holeId === 'practice').map(({ kind }) => kind)).toEqual([
      'green',
    ]);
  });
});
