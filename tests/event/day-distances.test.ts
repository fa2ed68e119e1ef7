import { describe, expect, it } from 'vitest';
import type { LonLat } from '../../src/course/course-map.js';
import type { HoleFigures } from '../../src/course/hole-figures.js';
import { dayDistances } from '../../src/event/day-distances.js';

/** A degree of latitude about 45 degrees north, metres (WGS 84; the textbook's 111.132 km, from memory). */
const DEGREE = 111_132;
const LAT = 45;
const up = (metres: number): number => LAT + metres / DEGREE;

const square = (south: number, north: number): LonLat[] => [
  [-0.0002, up(south)],
  [0.0002, up(south)],
  [0.0002, up(north)],
  [-0.0002, up(north)],
];

/** A hole that runs due north: a tee at 0 m and one at 40 m, a corner at 250 m, a green from 385 to 415 m. */
const hole: HoleFigures = {
  id: '1',
  name: 'North',
  par: 4,
  strokeIndex: null,
  line: [0, 250, 400].map((metres): LonLat => [0, up(metres)]),
  green: square(385, 415),
  greenMiddle: [0, up(400)],
  tees: [
    { name: 'Back', at: [0, up(0)], length: 400, rise: null },
    { name: 'Front', at: [0, up(40)], length: 360, rise: null },
  ],
  hazards: [],
  landmarks: [],
  landing: null,
  runOut: null,
  gaps: [],
  heights: [],
  features: [
    {
      kind: 'bunker',
      id: 'b',
      name: null,
      ref: null,
      tags: {},
      shape: { kind: 'area', rings: [square(365, 375)] },
    } as unknown as HoleFigures['features'][number],
  ],
};
const at: LonLat = [0, up(393)];
const ground = { heightAt: ([, lat]: LonLat) => 10 + 0.02 * (lat - LAT) * DEGREE };

describe('the distances of a day', () => {
  it('run along the line of play, the last leg through the hole', () => {
    const found = dayDistances(hole, at, { name: null, behind: 0 }, ground as never);
    expect(found.tees).toBe('Back');
    expect(found.hole).toBeCloseTo(393, 1);
    expect(found.front).toBeCloseTo(385, 1);
    expect(found.back).toBeCloseTo(415, 1);
    expect(found.rise).toBeCloseTo(0.02 * 393, 2);
    expect(found.past?.kind).toBe('bunker');
    expect(found.past?.length).toBeCloseTo(393 - 375, 1);
  });

  it('start at the tees named, moved by as much as they stand off the card', () => {
    const found = dayDistances(hole, at, { name: 'front', behind: -9 }, null);
    expect(found.tees).toBe('Front');
    expect(found.hole).toBeCloseTo(353 - 9, 1);
    expect(found.front).toBeCloseTo(345 - 9, 1);
    expect(found.rise).toBeNull();
  });

  it('tell no hazard that lies behind the hole, or too far before it to be carried', () => {
    const near = {
      ...hole,
      features: [{ ...hole.features[0], shape: { kind: 'area', rings: [square(300, 310)] } }],
    } as HoleFigures;
    expect(dayDistances(near, at, { name: null, behind: 0 }, null).past).toBeNull();
    const behind = {
      ...hole,
      features: [{ ...hole.features[0], shape: { kind: 'area', rings: [square(420, 430)] } }],
    } as HoleFigures;
    expect(dayDistances(behind, at, { name: null, behind: 0 }, null).past).toBeNull();
  });
});
