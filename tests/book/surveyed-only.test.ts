import { describe, expect, it } from 'vitest';
import { doubtfulShare } from '../../src/book/doubtful-share.js';
import {
  crossesBare,
  crossingBare,
  holdsBare,
  puttOverBare,
  surveyedArea,
  surveyedReading,
  surveyedRegions,
  surveyedStation,
  surveyedTable,
} from '../../src/book/surveyed-only.js';
import type { Point } from '../../src/geometry.js';
import type { LocationContent } from '../../src/page/book-content.js';
import { drainageMarks } from '../../src/page/green/drainage-line.js';
import { type BreakMap, breakMap } from '../../src/putt/break-map.js';
import { type PuttRegions, puttRegions } from '../../src/putt/lanes.js';
import type { BreakTable } from '../../src/putt/putt.js';
import { solvePutt } from '../../src/putt/solve.js';
import { practiceStation } from '../../src/putt/station.js';
import type { Reading, Stream } from '../../src/terrain/reading.js';
import { atDepth } from '../depth.js';
import { circleRing, plane } from '../surface/analytic.js';

/** What is taken away with one square metre of ground that has no points. */

const BARE: readonly Point[] = [
  [5, 0],
  [5, 0.5],
];
const along = Array.from({ length: 11 }, (_, i) => [i, 0, 1 - i / 10] as const);

const stream: Stream = {
  order: 1,
  main: true,
  points: along,
  area: along.map((_, i) => i),
  mouth: 'edge',
  valley: 0.1,
  outlet: null,
};

const reading = (more: Partial<Reading>): Reading =>
  ({
    critical: [],
    outlets: [],
    hollows: [],
    arrows: [],
    divides: [],
    valleys: [],
    contours: [],
    streams: [],
    ...more,
  }) as unknown as Reading;

describe('a stream over ground without points', () => {
  it('is broken there; its last part alone has the mouth', () => {
    const { streams } = surveyedReading(reading({ streams: [stream] }), BARE);
    expect(streams.map(({ mouth }) => mouth)).toEqual(['stream', 'edge']);
    expect(streams.map(({ points }) => points.map(([x]) => x))).toEqual([
      [0, 1, 2, 3, 4],
      [6, 7, 8, 9, 10],
    ]);
    expect(streams.map(({ area }) => area)).toEqual([
      [0, 1, 2, 3, 4],
      [6, 7, 8, 9, 10],
    ]);
    expect(streams.map(({ piece }) => piece)).toEqual([
      [0, 0.4],
      [0.6, 1],
    ]);
    expect(surveyedReading(reading({ streams: [stream] }), []).streams[0].piece).toBeUndefined();
  });

  it('goes on behind it as wide as the whole line is there', () => {
    const frame = { scale: 1000, origin: [0, 0] as Point };
    /** Width of a drawn line at its head, across the way it runs. */
    const headOf = (one: Stream): number => {
      const [, line] = drainageMarks(frame, [one]).map((mark) =>
        mark.kind === 'path' ? mark.steps : [],
      );
      const points = line.flatMap((step) => (step[0] === 'M' || step[0] === 'L' ? [step[2]] : []));
      return Math.abs(points[0] - points[points.length - 1]);
    };
    const { streams } = surveyedReading(reading({ streams: [stream] }), BARE);
    const head = headOf(stream);
    // A main line is 1.5 mm wide at its mouth; the second piece begins at six tenths of the way.
    expect(headOf(streams[0])).toBeCloseTo(head, 6);
    expect(headOf(streams[1])).toBeCloseTo(head + 0.6 * (1.5 - head), 6);
    expect(headOf(streams[1])).toBeGreaterThan(2 * headOf(streams[0]));
  });
});

describe('lines, arrows and points over such ground', () => {
  it('end before it', () => {
    const line = along.map(([x, y]): Point => [x, y]);
    const arrow = (x: number) => ({
      at: [x, 0] as Point,
      toward: [1, 0] as Point,
      grade: 0.02,
      path: [
        [x - 0.9, 0],
        [x + 0.9, 0],
      ] as Point[],
    });
    const { divides, arrows, hollows } = surveyedReading(
      reading({
        divides: [line],
        arrows: [arrow(2), arrow(4.2), arrow(8)],
        hollows: [{ at: [5, 0] }, { at: [7, 0] }] as unknown as Reading['hollows'],
      }),
      BARE,
    );
    expect(divides.map((part) => part.length)).toEqual([5, 5]);
    expect(arrows.map(({ at }) => at[0])).toEqual([2, 8]);
    expect(hollows.map(({ at }) => at[0])).toEqual([7]);
  });
});

describe('a putt over such ground', () => {
  const cell = (ball: Point, path: readonly Point[] | null) => ({
    quadrant: 'below',
    length: 3,
    ball,
    outcome: path === null ? 'no-pace' : 'solved',
    putt: path === null ? null : { path },
    aimSd: 0.01,
  });
  const table = (cells: readonly unknown[]): BreakTable =>
    ({ hole: [8, 0], cells }) as unknown as BreakTable;

  it('is told as unsurveyed where its own way crosses it, straight or not', () => {
    const over: Point[] = [
      [2, 0],
      [8, 0],
    ];
    const round: Point[] = [
      [2, 0],
      [5, 3],
      [8, 0],
    ];
    const { cells } = surveyedTable(
      table([cell([2, 0], over), cell([2, 0], round), cell([2, 0], null), cell([8, 3], null)]),
      BARE,
    );
    expect(cells.map(({ outcome }) => outcome)).toEqual([
      'unsurveyed',
      'solved',
      // Without a way of its own, the straight one counts.
      'unsurveyed',
      'no-pace',
    ]);
    expect(cells[0]).toMatchObject({ putt: null, aimSd: null });
  });
});

describe('lanes and a leave on such ground', () => {
  const lane = (side: string, axis: readonly Point[]) => ({ side, length: 3, axis });
  const regions = (best: Point): PuttRegions =>
    ({
      lanes: [
        lane('below', [
          [8, 0],
          [2, 0],
        ]),
        lane('above', [
          [8, 0],
          [12, 0],
        ]),
      ],
      leave: { best },
    }) as unknown as PuttRegions;

  it('are not told where they cross it or lie on it', () => {
    expect(surveyedRegions(regions([5, 0.2]), BARE).lanes.map(({ side }) => side)).toEqual([
      'above',
    ]);
    expect(surveyedRegions(regions([5, 0.2]), BARE).leave).toBeNull();
    expect(surveyedRegions(regions([9, 0]), BARE).leave).toEqual({ best: [9, 0] });
    expect(surveyedRegions(regions([5, 0.2]), [])).toEqual(regions([5, 0.2]));
  });
});

describe('the map of aims over such ground', () => {
  // A plane falling to the front, the hole in its middle, and two squares to its right.
  const green = plane(circleRing(8, 0, 8, 64), 0, 0.02);
  const hole: Point = [0, 8];
  const bare: readonly Point[] = [
    [3.25, 8.25],
    [3.25, 7.75],
  ];
  const settings = { stimp: 3, past: 0.3 };
  const crossesUnknown = crossingBare(bare);
  const whole = breakMap(green, hole, settings);
  const map = breakMap(green, hole, settings, crossesUnknown);
  const placeOf = (n: number): Point => [
    map.originX + (n % map.columns) * map.step,
    map.originY + Math.floor(n / map.columns) * map.step,
  ];

  it('has no value where the putt crosses it, and the same values elsewhere', {
    tags: 'deep',
  }, () => {
    let lost = 0;
    for (let n = 0; n < map.aim.length; n += atDepth(7, 1)) {
      if (Number.isNaN(whole.aim[n])) continue;
      const at = placeOf(n);
      if (Math.hypot(at[0], at[1] - 8) > 7) continue;
      const { path } = solvePutt(green, at, hole, settings);
      expect(Number.isNaN(map.aim[n]), `${at}`).toBe(crossesBare(bare, path));
      if (Number.isNaN(map.aim[n])) lost += 1;
      else expect(map.aim[n]).toBe(whole.aim[n]);
    }
    expect(lost).toBeGreaterThan(2);
  });

  const bendsOf = (one: BreakMap) => {
    const { bends } = puttRegions(green, one);
    if (bends === null) throw new Error('bends are told of a whole map');
    return bends;
  };

  it('gives no bend, no leave and no lane there, and calls none of it ground without a pace', () => {
    const regions = puttRegions(green, map);
    const bends = bendsOf(map);
    const at: Point = [5, 8.4];
    expect(holdsBare(bendsOf(whole).left, [at])).toBe(true);
    expect(holdsBare(bends.left, [at, ...bare])).toBe(false);
    expect(holdsBare(bends.left, [[-5, 8.4]])).toBe(false);
    expect(holdsBare(bends.right, [[-5, 8.4]])).toBe(true);
    expect(bends.noPace).toEqual([]);
    expect(regions.lanes.map(({ side }) => side)).toEqual(['above', 'below']);
  });
});

describe('a practice station beside such ground', () => {
  const green = plane(circleRing(8, 0, 8, 64), 0, 0.02);
  const station = practiceStation(green, [0, 8], { stimp: 3, past: 0.3 });

  it('loses the tees whose putts cross it, and the point that they share', () => {
    const right = surveyedStation(station, [[0.9, 8]]);
    expect(right?.tees.map(({ outcome }) => outcome)).toEqual([
      'solved',
      'solved',
      'solved',
      'unsurveyed',
    ]);
    expect(right?.tees[3]).toMatchObject({ putt: null, pictured: null });
    expect(right?.above).toBeNull();
    const below = surveyedStation(station, [[0, 7.1]]);
    expect(below?.tees[0].outcome).toBe('unsurveyed');
    expect(below?.above).toEqual(station.above);
    expect(surveyedStation(station, [[0.1, 8]])).toBeNull();
    expect(surveyedStation(station, [])).toBe(station);
  });

  it('loses the one marker with any of the four, and where the marker itself lies on it', () => {
    expect(station.marker?.verdict).toBe('serves');
    expect(surveyedStation(station, [[0.9, 8]])?.marker).toBeNull();
    expect(surveyedStation(station, [[0, 7.1]])?.marker).toBeNull();
    expect(surveyedStation(station, [[4, 8]])?.marker).toBe(station.marker);
  });

  it('does not tell the roll past a hole beyond which it lies', () => {
    const putt = solvePutt(green, [0, 5], [0, 8], { stimp: 3, past: 0.3 });
    const past = putt.wouldRollPast ?? 0;
    expect(puttOverBare([[0, 8.4]], putt)).toEqual({ way: false, past: past > 0.15 });
    expect(puttOverBare([[0, 6]], putt).way).toBe(true);
    expect(puttOverBare([[0, 12]], putt)).toEqual({ way: false, past: false });
  });
});

describe('areas that reach over such ground', () => {
  const square = (x: number, y: number, side: number): Point[] => [
    [x, y],
    [x + side, y],
    [x + side, y + side],
    [x, y + side],
  ];

  it('lose its squares, but not those of their holes', () => {
    const holed = [square(0, 0, 4), square(1, 1, 1).reverse()];
    const bare: Point[] = [
      [3.25, 3.25],
      [1.5, 1.5],
      [9, 9],
    ];
    expect(surveyedArea([holed], [])).toBe(15);
    expect(surveyedArea([holed], bare)).toBe(14.75);
    expect(holdsBare([holed], bare.slice(1))).toBe(false);
  });
});

describe('the share of doubtful aims', () => {
  const location = (sds: readonly (number | null)[]): LocationContent =>
    ({
      table: {
        cells: sds.map((aimSd) => ({ outcome: aimSd === null ? 'no-pace' : 'solved', aimSd })),
      },
    }) as unknown as LocationContent;

  it('is of the solved cells of all locations', () => {
    // Half a hole is 5.4 cm; at 95 % a standard deviation of 2.76 cm.
    expect(doubtfulShare([location([0.03, 0.01, null, 0.02]), location([0.05])])).toBe(0.5);
    expect(doubtfulShare([location([null])])).toBeNull();
    expect(doubtfulShare([{ ...location([]), table: null }])).toBeNull();
  });
});
