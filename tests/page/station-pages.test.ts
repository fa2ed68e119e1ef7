import { describe, expect, it } from 'vitest';
import { stationText } from '../../src/book/station-figures.js';
import { stationOnGreen } from '../../src/book/station-on-green.js';
import type { Point } from '../../src/geometry.js';
import { loadLayout } from '../../src/layout/layout-file.js';
import type { BookContent, GreenContent } from '../../src/page/book-content.js';
import { lineMeetsBox } from '../../src/page/labels/box-meeting.js';
import type { Mark, Mm, Page, TextMark } from '../../src/page/marks/marks.js';
import { composeRoundPage, composeStationPage } from '../../src/page/putts/station-page.js';
import { measureWith, openFonts } from '../../src/print/fonts.js';
import { HOLE_RADIUS } from '../../src/putt/capture.js';
import type { Surface } from '../../src/surface/surface.js';
import { feetToMetres, inchesToMetres, pointsToMm } from '../../src/units.js';
import { atDepth } from '../depth.js';
import { FIT_FOR_TABLES } from '../fit-for-tables.js';
import { randomFrom, randomGround, wavySurface } from '../putt/grounds.js';
import { circleRing, plane } from '../surface/analytic.js';

const large = loadLayout('practice-large');
const measure = measureWith(openFonts());
const outline = circleRing(12, 0, 12);
const stream = [-6, 0, 6, 12, 18].map((y): readonly [number, number, number] => [3, y + 6, y]);

const greenOf = (name: string): GreenContent =>
  ({
    holeId: '14',
    name,
    par: 4,
    outline,
    drains: [],
    locations: [],
    reading: {
      streams: [
        {
          order: 1,
          main: true,
          points: stream,
          area: stream.map(() => 1),
          mouth: 'edge',
          valley: 0.1,
          outlet: null,
        },
      ],
    },
    worth: FIT_FOR_TABLES,
    stimp: 3,
    past: inchesToMetres(12),
  }) as unknown as GreenContent;

const marksOf = (marks: readonly Mark[]): Mark[] =>
  marks.flatMap((mark) =>
    mark.kind === 'group' || mark.kind === 'clip' ? marksOf(mark.marks) : [mark],
  );
const textsOf = (marks: readonly Mark[]): TextMark[] =>
  marksOf(marks).filter((mark) => mark.kind === 'text');

const boxOfText = ({ at, text, face, size, align }: TextMark) => {
  const width = measure(text, face, size);
  const high = pointsToMm(size);
  const x = at[0] - { left: 0, centre: width / 2, right: width }[align];
  return { x, y: at[1] - 0.72 * high, width, height: 0.94 * high };
};

/** Texts whose letters come within the room of one another. */
const touching = (page: Page): string[] => {
  const texts = textsOf(page.marks);
  const boxes = texts.map(boxOfText);
  return boxes.flatMap((a, i) =>
    boxes.slice(i + 1).flatMap((b, k) => {
      const apart =
        a.x + a.width <= b.x ||
        b.x + b.width <= a.x ||
        a.y + a.height <= b.y ||
        b.y + b.height <= a.y;
      return apart ? [] : [`${texts[i].text} / ${texts[i + 1 + k].text}`];
    }),
  );
};

const figureOf = (page: Page): readonly Mark[] => {
  const figure = page.marks.find((mark) => mark.kind === 'group' && mark.role === 'figure');
  if (figure?.kind !== 'group') throw new Error('no figure');
  return figure.marks;
};

/** Labels of the figure that lie over the way of a putt. */
const overWays = (page: Page): string[] => {
  const ways = marksOf(figureOf(page)).flatMap((mark): Mm[][] =>
    mark.kind === 'path' && mark.stroke?.width === 0.55
      ? [mark.steps.flatMap((step): Mm[] => (step.length === 3 ? [[step[1], step[2]]] : []))]
      : [],
  );
  expect(ways.length).toBeGreaterThan(0);
  return textsOf(figureOf(page))
    .filter((set) => ways.some((way) => lineMeetsBox(way, boxOfText(set))))
    .map(({ text }) => text);
};

const wordsOf = (page: Page): string[] => textsOf(page.marks).map(({ text }) => text);

interface Asked {
  readonly surface: Surface;
  readonly hole: Point;
  readonly stimp: number;
  readonly step: number;
  readonly round: number;
}

const pagesOf = (
  { surface, hole, stimp, step, round }: Asked,
  units: 'imperial' | 'metric',
  { name = 'A green', layout = large } = {},
) => {
  const settings = { stimp, past: inchesToMetres(12) };
  const green = { ...greenOf(name), ...settings };
  const found = stationOnGreen(surface, green, { name: 'B', hole, settings, step, round });
  if ('refused' in found) throw new Error(found.refused);
  const book = { units, use: 'practice', ...settings } as unknown as BookContent;
  const context = {
    layout,
    measure,
    book,
    green,
    side: 'right',
    label: '5',
    location: found.location,
  } as const;
  return {
    found,
    station: composeStationPage({ ...context, station: found.station }),
    round: found.round === null ? null : composeRoundPage({ ...context, round: found.round }),
  };
};

const LONG = 'Die äußerst lange Wiese hinter dem alten Mühlenwehr am Nordufer';

describe('pages of stations', () => {
  it('have every label in a place of its own, in any unit', { tags: 'deep' }, () => {
    const random = randomFrom(117100);
    for (let k = 0; k < atDepth(2, 40); k++) {
      const asked: Asked = {
        surface: wavySurface(randomGround(random, 0.04, 0.03), outline),
        hole: [4 * random() - 2, 12 + 6 * random() - 3],
        stimp: feetToMetres(8 + 5 * random()),
        step: [0.6096, 0.9144, 2.7432][k % 3],
        round: k % 2 === 0 ? 12 : 8,
      };
      for (const units of ['imperial', 'metric'] as const) {
        const { station, round } = pagesOf(asked, units, { name: LONG });
        expect(touching(station)).toEqual([]);
        expect(touching(round!)).toEqual([]);
        expect(overWays(station)).toEqual([]);
        expect(overWays(round!)).toEqual([]);
        const drawn = (page: Page) => textsOf(figureOf(page)).map(({ text }) => text);
        for (const quadrant of ['below', 'above', 'left', 'right']) {
          expect(drawn(station).filter((one) => one === quadrant).length).toBe(1);
        }
        const clocks = drawn(round!).filter((one) => one.endsWith('o’clock'));
        expect(clocks.length).toBe(asked.round);
      }
    }
  });

  it('have no two words on each other on a page of the pocket either, where labels are crowded', () => {
    const pocket = loadLayout('pocket');
    const layout = { ...pocket, pages: { ...pocket.pages, station: large.pages.station ?? [] } };
    for (const [grade, units] of [
      [0.02, 'imperial'],
      [0.03, 'metric'],
    ] as const) {
      for (const step of [0.9144, 1.8288]) {
        const { station, round } = pagesOf({ ...even(grade, 12), step }, units, {
          name: LONG,
          layout,
        });
        for (const page of [station, round!]) {
          expect(touching(page)).toEqual([]);
          expect(overWays(page)).toEqual([]);
          for (const box of textsOf(page.marks).map(boxOfText)) {
            expect(box.x).toBeGreaterThan(2);
            expect(box.x + box.width).toBeLessThan(page.width - 2);
            expect(box.y + box.height).toBeLessThan(page.height - 2);
          }
        }
      }
    }
  });

  const even = (grade: number, round = 0): Asked => ({
    surface: plane(outline, 0, grade),
    hole: [0, 12],
    stimp: feetToMetres(10.5),
    step: 0.9144,
    round,
  });

  it('lay the marker in the figure to scale, and by a ruler in true size', () => {
    const { found, station } = pagesOf(even(0.03), 'imperial');
    const { best } = found.station.marker!;
    const discs = marksOf(station.marks).flatMap((mark) =>
      mark.kind === 'path' && mark.fill?.ink === 'dark' && mark.steps.length === 6
        ? [mark.steps]
        : [],
    );
    const middles = discs.map(([first, second]): Mm => {
      const [, right, y] = first as readonly ['M', number, number];
      const r = Math.abs((second as readonly ['C', ...number[]])[6] - y);
      return [right - r, y];
    });
    const pegs = marksOf(station.marks).flatMap((mark): Mm[] =>
      mark.kind === 'path' &&
      mark.fill?.ink === 'dark' &&
      mark.steps.length === 6 &&
      mark.steps[1][0] === 'L'
        ? [[(mark.steps[0][1] as number) + 1.2, (mark.steps[0][2] as number) + 1]]
        : [],
    );
    const [below, above] = pegs;
    const mm = (below[1] - above[1]) / (2 * 0.9144);
    const hole: Mm = [below[0], (below[1] + above[1]) / 2];
    const drawn = middles.some(
      ([x, y]) => Math.abs(x - hole[0]) < 0.1 && Math.abs(hole[1] - y - best.uphill * mm) < 0.1,
    );
    expect(drawn).toBe(true);
    // From the rim, at the left end of the ruler, in true millimetres.
    const left = large.page.margins.inner;
    const laid = middles.some(
      ([x]) => Math.abs(x - left - 1000 * (best.uphill - HOLE_RADIUS)) < 0.05,
    );
    expect(laid).toBe(true);
  });

  it('say plainly when there is no marker, and draw none', () => {
    const steep = pagesOf({ ...even(0.04), stimp: feetToMetres(12) }, 'imperial').station;
    expect(wordsOf(steep).join(' ')).toMatch(
      /No one marker serves all four: pace asks for one 22 in above .* for 6 in;/,
    );
    expect(wordsOf(steep)).not.toContain('marker');
    const level = pagesOf(even(0.005), 'metric').station;
    expect(wordsOf(level).join(' ')).toMatch(/the hole itself serves all four/);
    const serving = pagesOf(even(0.02), 'metric').station;
    expect(wordsOf(serving)).toContain('marker');
    expect(wordsOf(serving).join(' ')).toMatch(/serves all four: 8 cm above .* 3 cm from the rim/);
  });

  it('give the figures that the command gives', () => {
    for (const units of ['imperial', 'metric'] as const) {
      const { found, station, round } = pagesOf(even(0.02, 8), units);
      const said = stationText(found, units);
      const page = wordsOf(station).join(' ').replaceAll(/\s+/g, ' ');
      for (const line of said
        .split('\n')
        .filter((one) => /^(marker|check) /.test(one))
        .slice(0, 2)) {
        expect(page).toContain(line.replace(/^\w+ +/, ''));
      }
      const rows = said.split('\n').filter((one) => one.includes('o’clock'));
      expect(rows.length).toBe(8);
      for (const row of rows) {
        const [clock, told] = row.split(/ {2,}|(?<=o’clock) +/);
        expect(wordsOf(round!)).toContain(clock);
        for (const figure of told.split(', ')) {
          expect(wordsOf(round!)).toContain(figure.replace(/^pace /, ''));
        }
      }
    }
  });
});
