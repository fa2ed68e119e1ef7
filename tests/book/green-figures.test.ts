import { describe, expect, it } from 'vitest';
import { greenFigures, greenWords } from '../../src/book/green-figures.js';
import { greenGeoJson } from '../../src/book/green-geojson.js';
import { dayChosen, earlierOn } from '../../src/cli/locate-arguments.js';
import type { GreenSite, Hole } from '../../src/course/course.js';
import type { DayLocation } from '../../src/event/day-locations.js';
import type { Point, Ring } from '../../src/geometry.js';
import type { GreenContent } from '../../src/page/book-content.js';
import type { PuttRegions } from '../../src/putt/lanes.js';
import type { FitReport } from '../../src/surface/fit.js';
import type { Reading } from '../../src/terrain/reading.js';

/** A reading made up by hand in which no two figures are alike, so that none can stand for another. */

const box = (x: number, y: number, wide: number, deep: number): Ring => [
  [x, y],
  [x + wide, y],
  [x + wide, y + deep],
  [x, y + deep],
];

const OUTLET = { at: [-1, 0], kind: 'edge', share: 0.65, kept: 0.6, draws: 120 } as const;

const reading = {
  area: 200,
  bands: [
    { from: 0, to: 0.02, polygons: [[box(-5, 0, 10, 15)]] },
    // With a hole of two square metres.
    { from: 0.02, to: Infinity, polygons: [[box(-5, 15, 10, 5), [...box(0, 16, 2, 1)].reverse()]] },
  ],
  contours: [
    { height: 1.25, index: true, lines: [box(0, 1, 2, 3)] },
    { height: 1.3, index: false, lines: [box(0, 1, 2, 3)] },
  ],
  critical: [
    { kind: 'high', at: [3, 18], height: 1.9, relief: 0.5, onEdge: true },
    { kind: 'low', at: [-2, 4], height: 1.1, relief: 0.12, onEdge: false },
    { kind: 'saddle', at: [1, 9], height: 1.4, relief: 0.2, onEdge: false },
  ],
  divides: [box(0, 0, 3, 4).slice(0, 3)],
  valleys: [box(0, 0, 6, 8).slice(0, 3)],
  outlets: [OUTLET, { at: [5, 20], kind: 'edge', share: 0.3, kept: 0.1, draws: 120 }],
  streams: [
    {
      main: true,
      order: 2,
      mouth: 'edge',
      valley: 0.05,
      outlet: OUTLET,
      points: [
        [1, 12, 1.7],
        [1, 6, 1.5],
        [-1, 0, 1.2],
      ],
      area: [10, 40, 77],
    },
    {
      main: false,
      order: 1,
      mouth: 'stream',
      valley: 0.02,
      outlet: null,
      points: [
        [4, 8, 1.6],
        [1, 6, 1.5],
      ],
      area: [3, 21],
    },
  ],
  arrows: [
    {
      at: [0, 5],
      toward: [0, -1],
      grade: 0.031,
      path: [
        [0, 5.5],
        [0, 4.5],
      ],
    },
  ],
  sections: [
    {
      kind: 'tier',
      name: 'upper tier',
      polygons: [[box(-5, 10, 10, 10)]],
      area: 90,
      meanGrade: 0.015,
    },
  ],
  doubtful: [[box(0, 0, 2, 3)]],
  hollows: [
    { at: [-2, 4], level: 1.18, depth: 0.08, spill: [-3, 5], drain: null },
    { at: [2, 3], level: 1.3, depth: 0.07, spill: null, drain: 'shown' },
    { at: [2.5, 3], level: 1.3, depth: 0.06, spill: null, drain: 'declared' },
  ],
} as unknown as Reading;

const regions = {
  lanes: [
    {
      side: 'above',
      length: 3.5,
      width: 0.4,
      axis: [
        [1, 10],
        [1.5, 13.5],
      ],
      polygon: [box(0, 10, 1, 3)],
    },
  ],
  bends: {
    left: [[box(0, 0, 2, 2)]],
    right: [[box(0, 0, 3, 2)]],
    noPace: [[box(0, 0, 1, 1)]],
  },
  leave: { polygons: [[box(0, 7, 1, 2)]], best: [0.5, 8], room: 0.9 },
} as unknown as PuttRegions;

const green = {
  holeId: '7',
  name: 'Mill',
  outline: box(-5, 0, 10, 20),
  reading,
  drains: [[2.5, 3]],
  worth: { bare: [] },
  locations: [
    { name: 'A', at: [1, 10], regions },
    { name: 'B', at: [-1, 5], regions: null },
  ],
} as unknown as GreenContent;
const report = { pointsUsed: 321, outliers: [1, 2], sigma: 0.0062 } as unknown as FitReport;

describe('the figures of a green', () => {
  it('are those of the reading, each under its own name', () => {
    expect(greenFigures({ green, report })).toMatchObject({
      hole: '7',
      name: 'Mill',
      area_m2: 200,
      survey: { points: 321, outliers: 2, noise_m: 0.0062 },
      bands: [
        { from_percent: 0, to_percent: 2, area_m2: 150 },
        { from_percent: 2, to_percent: null, area_m2: 48 },
      ],
      points: [
        { kind: 'high', at_m: [3, 18], height_m: 1.9, relief_m: 0.5, on_edge: true },
        { kind: 'low', at_m: [-2, 4], height_m: 1.1, relief_m: 0.12, on_edge: false },
        { kind: 'saddle', at_m: [1, 9] },
      ],
      drainage: [
        {
          main: true,
          order: 2,
          head_m: [1, 12],
          mouth_m: [-1, 0],
          mouth: 'edge',
          valley_depth_m: 0.05,
          length_m: 12.32,
          fall_m: 0.5,
          area_m2: 77,
        },
        { main: false, order: 1, mouth: 'stream', length_m: 3.61, fall_m: 0.1, area_m2: 21 },
      ],
      hollows: [
        { at_m: [-2, 4], depth_m: 0.08, level_m: 1.18, spill_m: [-3, 5], drain: null },
        { spill_m: null, drain: 'shown' },
        { drain: 'declared' },
      ],
      divides: [{ from_m: [0, 0], to_m: [3, 4], length_m: 7 }],
      valleys: [{ from_m: [0, 0], to_m: [6, 8], length_m: 14 }],
      sections: [{ kind: 'tier', name: 'upper tier', area_m2: 90, mean_grade_percent: 1.5 }],
      direction_in_doubt_m2: 6,
      arrows: 1,
      locations: [
        {
          name: 'A',
          at_m: [1, 10],
          straight_lanes: [{ side: 'above', length_m: 3.5, width_m: 0.4, end_m: [1.5, 13.5] }],
          bends_left_m2: 4,
          bends_right_m2: 6,
          no_pace_m2: 1,
          leave: { best_m: [0.5, 8], room_m: 0.9, area_m2: 2 },
        },
        { name: 'B', at_m: [-1, 5] },
      ],
    });
  });

  it('rest on no ground without points', () => {
    const bare: Point[] = [
      [0.25, 0.25],
      [0.25, 10.25],
    ];
    const partly = { ...green, worth: { ...green.worth, bare } };
    expect(greenFigures({ green: partly, report })).toMatchObject({
      not_surveyed_m2: 0.5,
      bands: [{ area_m2: 149.5 }, { area_m2: 48 }],
      sections: [{ mean_grade_percent: null }],
      direction_in_doubt_m2: 5.75,
    });
    expect(greenWords({ green: partly, report }, 'metric')).toContain('no figure rests on it');
  });

  it('are told in words, a line a thing', () => {
    const words = greenWords({ green, report }, 'metric')
      .split('\n')
      .map((row) => row.replace(/ {2,}/, ': '));
    expect(words[0]).toBe('green: 7, Mill');
    expect(words[1]).toMatch(/^survey: 321 points, noise 6\.2 mm/);
    const told = words.slice(2).join('\n');
    for (const line of [
      'grade: 0 to 2 %: 75 % of the green',
      'grade: over 2 %: 24 % of the green',
      'high point: 18.0 m on, 3.0 m right, on the edge; 50 cm of relief',
      'low point: 4.0 m on, 2.0 m left; 12 cm of relief',
      'saddle: 9.0 m on, 1.0 m right; 20 cm of relief',
      'main drainage: from 12.0 m on, 1.0 m right; leaves the green at 0.0 m on, 1.0 m left; takes most in 65 % of the grounds that the survey allows',
      'other outlet: 20.0 m on, 5.0 m right; takes most in 30 % of the grounds that the survey allows',
      'drainage: from 8.0 m on, 4.0 m right; joins another at 6.0 m on, 1.0 m right',
      'hollow: 4.0 m on, 2.0 m left; 8 cm deep, fills and runs over',
      'hollow: 3.0 m on, 2.0 m right; 7 cm deep, no drain is declared: the survey shows one, or an error',
      'hollow: 3.0 m on, 2.5 m right; 6 cm deep, drained',
      'section: upper tier: 45 % of the green, 1.5 % on average',
      'in doubt: the direction of fall on 3 % of the green',
      'hole A: straight above for 3.5 m, 40 cm wide',
      'hole A: best leave 8.0 m on, 0.5 m right, 0.9 m of room',
    ]) {
      expect(told).toContain(line);
    }
    expect(told).not.toContain('hole B');
    const imperial = greenWords({ green, report }, 'imperial');
    expect(imperial).toContain('59.1 ft on, 9.8 ft right, on the edge; 20 in of relief');
    expect(imperial).toContain('0.24 in');
  });

  it('stand on the map where they are on the green', () => {
    // A frame that looks east from (100, 50); the "map" is the plane itself.
    const site = {
      frame: { origin: [100, 50], forward: [1, 0] },
      plane: { toMap: (x: number, y: number) => [x, y] },
    } as unknown as GreenSite;
    const { features } = greenGeoJson(site, green);
    const of = (kind: string) => features.filter((one) => one.properties?.feature === kind);
    const at = (kind: string) =>
      of(kind).map((one) => (one.geometry as { coordinates: unknown }).coordinates);
    // Three right of the line and eighteen on: 18 east, 3 south.
    expect(at('high point')).toEqual([[118, 47]]);
    expect(at('low point')).toEqual([[104, 52]]);
    expect(at('saddle')).toEqual([[109, 49]]);
    expect(of('outlet').map(({ properties }) => properties)).toMatchObject([
      { kind: 'edge', share: 0.65, share_with_valley: 0.6, draws: 120 },
      { kind: 'edge', share: 0.3, share_with_valley: 0.1 },
    ]);
    expect(at('drain')).toEqual([[103, 47.5]]);
    expect(at('hole location')).toEqual([
      [110, 49],
      [105, 51],
    ]);
    expect(at('best leave')).toEqual([[108, 49.5]]);
    expect(at('fall arrow')).toEqual([
      [
        [105.5, 50],
        [104.5, 50],
      ],
    ]);
    expect(
      of('contour').map(({ properties }) => [properties?.height_m, properties?.index]),
    ).toEqual([
      [1.25, true],
      [1.3, false],
    ]);
    expect(of('main drainage line')[0].properties).toMatchObject({
      order: 2,
      mouth: 'edge',
      head_height_m: 1.7,
      mouth_height_m: 1.2,
      area_m2: 77,
    });
    expect(of('drainage line').length).toBe(1);
    expect(of('slope band').map(({ properties }) => properties?.to_percent)).toEqual([2, null]);
    expect(of('straight lane')[0].properties).toMatchObject({
      location: 'A',
      side: 'above',
      length_m: 3.5,
      width_m: 0.4,
    });
    for (const [kind, size] of [
      ['bends left', 1],
      ['bends right', 1],
      ['no pace', 1],
      ['leave', 1],
      ['direction of fall in doubt', 1],
      ['section', 1],
      ['divide', 1],
      ['valley', 1],
      ['hollow', 3],
    ] as const) {
      expect(of(kind).length, kind).toBe(size);
    }
  });
});

describe('the days of a hole', () => {
  const cut = (holeId: string, day: number): DayLocation =>
    ({ holeId, day, location: { at: [day, Number(holeId)] } }) as unknown as DayLocation;
  const days = [cut('1', 1), cut('2', 1), cut('1', 2), cut('1', 4)];

  it('that count are those before the day in question, on that hole alone', () => {
    const hole = { id: '1' } as Hole;
    expect(earlierOn(hole, days, 4)).toEqual([
      { at: [1, 1], name: 'the hole of day 1' },
      { at: [2, 1], name: 'the hole of day 2' },
    ]);
    expect(earlierOn(hole, days, 5).length).toBe(3);
    expect(earlierOn({ id: '3' } as Hole, days, 9)).toEqual([]);
  });

  it('go on after the last that has locations, unless one is asked for', () => {
    expect(dayChosen(undefined, days)).toBe(5);
    expect(dayChosen(undefined, [])).toBe(1);
    expect(dayChosen(2, days)).toBe(2);
    for (const none of [0, 100, 1.5]) expect(() => dayChosen(none, days)).toThrow(/is no day/);
    expect(dayChosen(99, days)).toBe(99);
  });
});
