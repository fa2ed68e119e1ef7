import type { Hole } from '../../src/course/course.js';
import type { LonLat } from '../../src/course/course-map.js';
import { geodesicTarget } from '../../src/course/geodesy.js';
import { linesOfCourse } from '../../src/course/hole-features.js';
import { type HoleFigures, holeFigures } from '../../src/course/hole-figures.js';
import { siteOfHole } from '../../src/course/hole-site.js';
import { readMap } from '../../src/course/read-map.js';

/** A seeded source of numbers (mulberry32). */
const seeded = (seed: number): (() => number) => {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
};

const NAMES = [
  'head 1',
  'the old stone wall by the burn',
  'Æblegård',
  'x',
  'Knockmanymountaintopsprinklerhead',
  'plate 150',
  '',
];

/**
 * The figures of a random hole anywhere on the Earth: 80 to 620 m, up to three corners, any bearing, up
 * to 7 tees, up to 30 hazards strewn over it (some large, some on the line), up to 14 landmarks, woods,
 * trees and paths. Worse than any real hole.
 */
export const randomHole = (seed: number): HoleFigures => {
  const random = seeded(seed);
  const between = (low: number, high: number): number => low + (high - low) * random();
  const whole = (low: number, high: number): number => Math.floor(between(low, high + 1));
  const start: LonLat = [between(-180, 180), between(-70, 70)];
  const line: LonLat[] = [start];
  let bearing = between(0, 360);
  const length = between(80, 620);
  const legs = length < 250 ? 1 : whole(1, 4);
  for (let i = 0; i < legs; i++) {
    line.push(geodesicTarget(line[line.length - 1], bearing, length / legs));
    bearing += between(-55, 55);
  }
  const along = (d: number, off: number): LonLat => {
    const leg = Math.min(legs - 1, Math.max(0, Math.floor((d * legs) / length)));
    const [a, b] = [line[leg], line[leg + 1]];
    const t = (d * legs) / length - leg;
    const at: LonLat = [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];
    return geodesicTarget(at, bearing + 90, off);
  };
  const blob = (at: LonLat, radius: number): LonLat[] => {
    const ring = Array.from({ length: 14 }, (_, i) =>
      geodesicTarget(at, (i * 360) / 14, radius * between(0.75, 1.2)),
    );
    return [...ring, ring[0]];
  };
  const features: object[] = [];
  const add = (properties: object, type: string, coordinates: unknown): void => {
    features.push({ type: 'Feature', properties, geometry: { type, coordinates } });
  };
  add(
    { golf: 'hole', ref: '7', par: String(length < 230 ? 3 : length < 440 ? 4 : 5), handicap: '3' },
    'LineString',
    line,
  );
  add({ golf: 'green', ref: '7' }, 'Polygon', [blob(line[line.length - 1], between(8, 18))]);
  const tees = whole(0, 7);
  for (let i = 0; i < tees; i++) {
    add(
      { golf: 'tee', ref: '7', name: ['Long', 'Middle', 'Forward tee of the seniors'][i % 3] + i },
      'Polygon',
      [blob(along(i * between(4, 30), between(-9, 9)), 5)],
    );
  }
  if (random() < 0.8) {
    const ring = [
      along(length * 0.35, -between(8, 25)),
      along(length * 0.6, -between(8, 25)),
      along(length * 0.9, -between(8, 25)),
      along(length * 0.9, between(8, 25)),
      along(length * 0.6, between(8, 25)),
      along(length * 0.35, between(8, 25)),
    ];
    add({ golf: 'fairway', ref: '7' }, 'Polygon', [[...ring, ring[0]]]);
  }
  for (let i = whole(0, 30); i > 0; i--) {
    const water = random() < 0.25;
    add(water ? { golf: 'water_hazard', ref: '7' } : { golf: 'bunker', ref: '7' }, 'Polygon', [
      blob(along(between(0, length), between(-45, 45)), between(2, water ? 45 : 9)),
    ]);
  }
  for (let i = whole(0, 14); i > 0; i--) {
    add(
      { landmark: 'sprinkler', name: NAMES[whole(0, NAMES.length - 1)], ref: '7' },
      'Point',
      along(between(0, length), between(-30, 30)),
    );
  }
  for (let i = whole(0, 20); i > 0; i--) {
    add({ natural: 'tree', ref: '7' }, 'Point', along(between(0, length), between(-45, 45)));
  }
  if (random() < 0.5) {
    add({ natural: 'wood', ref: '7' }, 'Polygon', [blob(along(length / 2, 55), between(8, 40))]);
  }
  const map = readMap(JSON.stringify({ type: 'FeatureCollection', features }), 'random');
  const hole: Hole = {
    id: '7',
    name: 'Random',
    par: length < 230 ? 3 : length < 440 ? 4 : 5,
    strokeIndex: 3,
    site: siteOfHole(map, '7', null),
    green: null,
  };
  return holeFigures({ map }, hole, linesOfCourse(map), null)!;
};
