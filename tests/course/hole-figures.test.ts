import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { groundHeight } from '../../course-data/vellamoor/routing.js';
import { cornersOf } from '../../src/course/corners.js';
import type { Hole } from '../../src/course/course.js';
import { courseFigures } from '../../src/course/course-figures.js';
import type { LonLat } from '../../src/course/course-map.js';
import { geodesicBearing, geodesicDistance, geodesicTarget } from '../../src/course/geodesy.js';
import { readGround } from '../../src/course/ground.js';
import { linesOfCourse } from '../../src/course/hole-features.js';
import { type HoleFigures, holeFigures } from '../../src/course/hole-figures.js';
import { siteOfHole } from '../../src/course/hole-site.js';
import { loadCourse } from '../../src/course/load-course.js';
import { readMap } from '../../src/course/read-map.js';
import { settleMap } from '../../src/course/settle-map.js';
import { coordinateSystem } from '../../src/survey/crs/plane.js';

/** Carries and lengths must hold to 2 cm. */
const TWO_CM = 0.02;

/** A place `along` a line of bearing `bearing` from `start` and `off` metres to its right. */
const placer =
  (start: LonLat, bearing: number) =>
  (along: number, off: number): LonLat => {
    const at = geodesicTarget(start, bearing, along);
    const ahead = geodesicTarget(at, bearing, 0.001);
    return geodesicTarget(at, geodesicBearing(at, ahead) + 90, off);
  };

const polygon = (properties: object, points: readonly LonLat[]): object => ({
  type: 'Feature',
  properties,
  geometry: { type: 'Polygon', coordinates: [[...points, points[0]]] },
});
const line = (properties: object, points: readonly LonLat[]): object => ({
  type: 'Feature',
  properties,
  geometry: { type: 'LineString', coordinates: points },
});
const point = (properties: object, at: LonLat): object => ({
  type: 'Feature',
  properties,
  geometry: { type: 'Point', coordinates: at },
});

const circle = (at: LonLat, radius: number): LonLat[] =>
  Array.from({ length: 360 }, (_, i) => geodesicTarget(at, i, radius));

const figuresOf = (features: object[], par: number): HoleFigures => {
  const { map } = settleMap(readMap(JSON.stringify({ type: 'FeatureCollection', features }), 'm'));
  const hole: Hole = {
    id: '1',
    name: 'A',
    par,
    strokeIndex: 1,
    site: siteOfHole(map, '1', null),
    green: null,
  };
  return holeFigures({ map }, hole, linesOfCourse(map), null)!;
};

describe.each([
  [[-34.2, 32.6], 17],
  [[179.9995, -41.3], 92],
  [[25.3, 69.5], 233],
] as readonly (readonly [LonLat, number])[])(
  'a straight hole laid out by geodesics from %j at %i degrees',
  (start, bearing) => {
    const place = placer(start, bearing);
    const rectangle = (s0: number, s1: number, o0: number, o1: number): LonLat[] => [
      place(s0, o0),
      place(s1, o0),
      place(s1, o1),
      place(s0, o1),
    ];
    const figures = figuresOf(
      [
        line({ golf: 'hole', ref: '1' }, [place(0, 0), place(400, 0)]),
        polygon({ golf: 'tee', ref: '1', name: 'Back' }, rectangle(-5, 5, -4, 4)),
        polygon({ golf: 'tee', ref: '1', name: 'Front' }, rectangle(55, 65, -4, 4)),
        polygon({ golf: 'green', ref: '1' }, circle(place(400, 0), 12)),
        polygon({ golf: 'fairway', ref: '1' }, rectangle(120, 270, -16, 18)),
        polygon({ golf: 'bunker', ref: '1' }, rectangle(200, 212, 15, 25)),
        polygon({ golf: 'water_hazard', ref: '1' }, rectangle(300, 310, -60, 60)),
        polygon({ golf: 'bunker', ref: '1' }, rectangle(200, 212, 50, 60)),
        point({ landmark: 'sprinkler', name: 'head', ref: '1' }, place(250, 0)),
        point({ landmark: 'post', name: 'post', ref: '1' }, place(330, 40)),
      ],
      4,
    );

    test('lengths from the tees', () => {
      expect(figures.tees.map((tee) => tee.name)).toEqual(['Back', 'Front']);
      expect(Math.abs(figures.tees[0].length - 400)).toBeLessThan(TWO_CM);
      expect(Math.abs(figures.tees[1].length - 340)).toBeLessThan(TWO_CM);
    });

    test('a bunker beside the line: nearest and farthest point', () => {
      const bunker = figures.hazards.find((one) => one.kind === 'bunker')!;
      expect(figures.hazards.filter((one) => one.kind === 'bunker')).toHaveLength(1);
      expect(bunker.crosses).toBe(false);
      expect(Math.abs(bunker.carries[0]!.reach - Math.hypot(200, 15))).toBeLessThan(TWO_CM);
      expect(Math.abs(bunker.carries[0]!.carry - Math.hypot(212, 25))).toBeLessThan(TWO_CM);
      expect(Math.abs(bunker.carries[1]!.reach - Math.hypot(140, 15))).toBeLessThan(TWO_CM);
      expect(Math.abs(bunker.carries[1]!.carry - Math.hypot(152, 25))).toBeLessThan(TWO_CM);
      expect(bunker.toMiddle).toBeNull();
    });

    test('water across the line: where the line enters and leaves it', () => {
      const water = figures.hazards.find((one) => one.kind === 'water')!;
      expect(water.crosses).toBe(true);
      // 310 m is past a tee shot from the back; from the front it is 240 to 250 m.
      expect(water.carries[0]).toBeNull();
      expect(Math.abs(water.carries[1]!.reach - 240)).toBeLessThan(TWO_CM);
      expect(Math.abs(water.carries[1]!.carry - 250)).toBeLessThan(TWO_CM);
      expect(Math.abs(water.toMiddle![0] - 100)).toBeLessThan(TWO_CM);
      expect(Math.abs(water.toMiddle![1] - 90)).toBeLessThan(TWO_CM);
    });

    test('landing area, width of the fairway, run-out, gap', () => {
      const { landing, runOut, gaps } = figures;
      expect(Math.abs(landing!.fromTees[0] - 228.6)).toBeLessThan(TWO_CM);
      expect(Math.abs(landing!.toMiddle - 171.4)).toBeLessThan(TWO_CM);
      expect(Math.abs(landing!.width! - 34)).toBeLessThan(TWO_CM);
      expect(runOut!.fromTees.map((one) => one!.toFixed(1))).toEqual(['270.0', '210.0']);
      // From 15 m past the landing area to 5 m short of the water.
      expect(gaps[0].toMiddle.map((one) => one.toFixed(1))).toEqual(['156.4', '105.0']);
    });

    test('landmarks: front, middle and back of the green on the straight line', () => {
      const [head, post] = ['head', 'post'].map(
        (name) => figures.landmarks.find((one) => one.name === name)!,
      );
      expect(Math.abs(head.front! - 138)).toBeLessThan(TWO_CM);
      expect(Math.abs(head.middle - 150)).toBeLessThan(TWO_CM);
      expect(Math.abs(head.back! - 162)).toBeLessThan(TWO_CM);
      const middle = Math.hypot(70, 40);
      expect(Math.abs(post.front! - (middle - 12))).toBeLessThan(TWO_CM);
      expect(Math.abs(post.middle - middle)).toBeLessThan(TWO_CM);
      expect(Math.abs(post.back! - (middle + 12))).toBeLessThan(TWO_CM);
    });
  },
);

describe('associations by place, when nothing carries a number but the line', () => {
  const place = placer([5, 50], 40);
  const square = (s: number, o: number, half: number): LonLat[] => [
    place(s - half, o - half),
    place(s + half, o - half),
    place(s + half, o + half),
    place(s - half, o + half),
  ];
  const features = [
    line({ golf: 'hole', ref: '1' }, [place(0, 0), place(350, 0)]),
    line({ golf: 'hole', ref: '2' }, [place(350, 120), place(0, 120)]),
    polygon({ golf: 'tee' }, square(2, 3, 4)),
    polygon({ golf: 'tee' }, square(30, -2, 4)),
    polygon({ golf: 'tee' }, square(349, 118, 4)),
    polygon({ golf: 'green' }, circle(place(350, 0), 12)),
    polygon({ golf: 'green' }, circle(place(0, 120), 12)),
    polygon({ golf: 'bunker' }, square(200, 20, 4)),
    polygon({ golf: 'bunker' }, square(180, 95, 4)),
  ];

  test('tees, green and bunkers go to the nearest line', () => {
    const figures = figuresOf(features, 4);
    expect(figures.tees).toHaveLength(2);
    expect(figures.hazards).toHaveLength(1);
    expect(Math.abs(figures.tees[0].length - 348)).toBeLessThan(0.05);
  });

  test('a forward tee beside the line is found, one beside the next hole is not', () => {
    const forward = [
      ...features,
      polygon({ golf: 'tee' }, square(120, 12, 4)),
      polygon({ golf: 'tee' }, square(230, 108, 4)),
      polygon({ golf: 'tee' }, square(300, 10, 4)),
    ];
    expect(figuresOf(forward, 4).tees.map((tee) => Math.round(tee.length))).toEqual([
      348, 320, 230,
    ]);
  });

  test('a line drawn from green to tee is turned', () => {
    const turned = [
      line({ golf: 'hole', ref: '1' }, [place(350, 0), place(0, 0)]),
      ...features.slice(1),
    ];
    const figures = figuresOf(turned, 4);
    expect(geodesicDistance(figures.greenMiddle, place(350, 0))).toBeLessThan(0.01);
  });

  test('a stream drawn as a line is water of its width', () => {
    const stream = line({ waterway: 'stream', width: '4' }, [place(190, -60), place(190, 60)]);
    const water = figuresOf([...features, stream], 4).hazards.find((one) => one.kind === 'water')!;
    expect(water.carries[0]!.reach).toBeCloseTo(186, 1);
    expect(water.carries[0]!.carry).toBeCloseTo(190, 1);
  });
});

describe('a dog-leg', () => {
  const start: LonLat = [-8, 53];
  const corner = geodesicTarget(start, 10, 235);
  const end = geodesicTarget(corner, 70, 160);
  const figures = figuresOf(
    [
      line({ golf: 'hole', ref: '1' }, [start, corner, end]),
      polygon({ golf: 'tee', ref: '1' }, circle(start, 4)),
      polygon({ golf: 'green', ref: '1' }, circle(end, 11)),
    ],
    4,
  );

  test('is as long as its legs, lands at its corner, and is measured round it', () => {
    expect(Math.abs(figures.tees[0].length - 395)).toBeLessThan(TWO_CM);
    expect(Math.abs(figures.landing!.fromTees[0] - 235)).toBeLessThan(TWO_CM);
    expect(Math.abs(figures.landing!.toMiddle - 160)).toBeLessThan(TWO_CM);
  });

  test('the corners of a line are those that stand out (Douglas and Peucker)', () => {
    expect(
      cornersOf(
        [
          [0, 0],
          [1, 50],
          [0, 100],
          [60, 180],
        ],
        6,
      ),
    ).toEqual([
      [0, 0],
      [0, 100],
      [60, 180],
    ]);
  });
});

describe('the demo course', async () => {
  const folder = new URL('../../course-data/vellamoor', import.meta.url).pathname;
  const course = loadCourse(folder);
  const holes = courseFigures(course, await readGround(course));

  test('each length is the sum of geodesics from the tee by the corners to the green', () => {
    const raw = JSON.parse(readFileSync(`${folder}/map.geojson`, 'utf8')) as {
      features: {
        properties: Record<string, string>;
        geometry: { coordinates: LonLat[] & LonLat[][] };
      }[];
    };
    for (const hole of holes) {
      const own = raw.features.filter((one) => one.properties.ref === hole.id);
      const corners = own.find((one) => one.properties.golf === 'hole')!.geometry
        .coordinates as LonLat[];
      for (const tee of hole.tees) {
        const block = own.find((one) => one.properties.name === tee.name)!;
        const ring = (block.geometry.coordinates as LonLat[][])[0].slice(0, 4);
        const at: LonLat = [
          ring.reduce((s, p) => s + p[0], 0) / 4,
          ring.reduce((s, p) => s + p[1], 0) / 4,
        ];
        let sum = 0;
        let from = at;
        for (const corner of corners.slice(1)) {
          sum += geodesicDistance(from, corner);
          from = corner;
        }
        expect(Math.abs(sum - tee.length)).toBeLessThan(TWO_CM);
      }
    }
  });

  test('the change of elevation is that of the true ground', () => {
    const system = coordinateSystem('EPSG:32625');
    for (const hole of holes) {
      const green = system.project(hole.greenMiddle[0], hole.greenMiddle[1]);
      for (const tee of hole.tees) {
        const at = system.project(tee.at[0], tee.at[1]);
        expect(Math.abs(tee.rise! - (groundHeight(green) - groundHeight(at)))).toBeLessThan(0.25);
      }
    }
  });
});
