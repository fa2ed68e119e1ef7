import { beforeAll, describe, expect, it } from 'vitest';
import { doGreenJob, type GreenJob, type GreenResult } from '../../src/book/green-job.js';
import type { PlacedHoleLocation } from '../../src/course/course.js';
import type { Point } from '../../src/geometry.js';
import type { Survey } from '../../src/survey/survey.js';

/** A small green that falls to the front and to the right, measured without noise. */
const SIDE = 11;
const x = Float64Array.from({ length: SIDE * SIDE }, (_, k) => -3 + (6 * (k % SIDE)) / (SIDE - 1));
const y = x.map((_, k) => -1 + (6 * Math.floor(k / SIDE)) / (SIDE - 1));
const z = x.map((v, k) => 0.02 * y[k] - 0.01 * v);
const outline = Array.from({ length: 16 }, (_, i): Point => {
  const turn = (2 * Math.PI * i) / 16;
  return [2 * Math.cos(turn), 2 + 2 * Math.sin(turn)];
});
const SURVEY: Survey = {
  source: 'survey.csv',
  kind: 'points',
  x,
  y,
  z,
  statedSigma: null,
  breaklines: [],
  cellSize: null,
};
const at = (name: string, point: Point): PlacedHoleLocation => ({
  name,
  on: 1,
  in: 1,
  side: 'left',
  at: point,
});
const LOCATIONS = [at('A', [0, 2]), at('B', [0.4, 1.5])];
const REQUEST: NonNullable<GreenJob['request']> = {
  locations: LOCATIONS,
  lengths: [0.4, 0.8],
  past: 0.3,
  stimps: [3, 2.5, 3.5],
  regions: 'none',
  breakMaps: true,
  stations: true,
};

describe('the job of one green', () => {
  const job = {
    source: 'survey.csv',
    place: 'hole 1',
    measured: { survey: SURVEY, outline },
    fit: null,
    worth: null,
    units: 'metric' as const,
    surveyed: null,
    trust: { printAs: 'tables' as const, because: 'made up for a test' },
    reading: null,
    readOptions: {},
    request: REQUEST,
  };
  let made: GreenResult;
  beforeAll(() => {
    made = doGreenJob(job);
  });

  it('tells of each hole location what is its own', () => {
    expect(made.locations.map((one) => one.name)).toEqual(['A', 'B']);
    made.locations.forEach((one, i) => {
      const hole = LOCATIONS[i].at;
      expect(one.table!.hole).toEqual(hole);
      expect(one.breakMap!.hole).toEqual(hole);
      expect(one.station!.hole).toEqual(hole);
      expect(one.atSpeeds.map((table) => table.hole)).toEqual([hole, hole]);
      expect(one.regions).toBeNull();
      expect(one.ground!.grade).toBeCloseTo(Math.hypot(0.01, 0.02), 4);
    });
  });

  it('makes the tables at each green speed in the order asked, all else at the first', () => {
    for (const one of made.locations) {
      expect(one.table!.settings).toEqual({ stimp: 3, past: 0.3 });
      expect(one.atSpeeds.map((table) => table.settings.stimp)).toEqual([2.5, 3.5]);
      expect(one.station!.settings).toEqual({ stimp: 3, past: 0.3 });
      expect(one.breakMap!.settings).toEqual({ stimp: 3, past: 0.3 });
      expect(one.table!.lengths).toEqual([0.4, 0.8]);
    }
  });

  it('makes only what is wanted, and the same again from the fit that is known', () => {
    const bare = { ...REQUEST, breakMaps: false, stations: false };
    const again = doGreenJob({
      ...job,
      measured: null,
      fit: made.fit,
      worth: made.worth,
      reading: made.reading,
      request: bare,
    });
    again.locations.forEach((one, i) => {
      expect([one.breakMap, one.station]).toEqual([null, null]);
      expect(one.table).toEqual(made.locations[i].table);
    });
    expect(again.reading).toBe(made.reading);
    expect(doGreenJob({ ...job, request: null }).locations).toEqual([]);
  });
});
