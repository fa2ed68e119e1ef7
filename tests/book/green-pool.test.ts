import { describe, expect, it } from 'vitest';
import { doGreenJob, type GreenJob } from '../../src/book/green-job.js';
import { doGreenJobs, type QueuedJob } from '../../src/book/green-pool.js';
import { InputFault } from '../../src/fault.js';
import type { Point } from '../../src/geometry.js';
import type { Survey } from '../../src/survey/survey.js';

const surveyOf = (x: Float64Array, y: Float64Array, z: Float64Array): Survey => ({
  source: 'made up',
  kind: 'points',
  x,
  y,
  z,
  statedSigma: null,
  breaklines: [],
  cellSize: null,
});

/** A small round green on a slope with a swell, surveyed on a grid. */
const jobOf = (name: string, tilt: number, points: number): GreenJob => {
  const outline = Array.from({ length: 40 }, (_, i): Point => {
    const angle = (2 * Math.PI * i) / 40;
    return [5 * Math.cos(angle), 5 + 5 * Math.sin(angle)];
  });
  const side = Math.ceil(Math.sqrt(points));
  const at = (k: number): Point => [
    -7 + (14 * (k % side)) / side,
    -2 + (14 * Math.floor(k / side)) / side,
  ];
  const x = Float64Array.from({ length: points }, (_, k) => at(k)[0]);
  const y = Float64Array.from({ length: points }, (_, k) => at(k)[1]);
  const z = x.map((v, k) => tilt * y[k] + 0.05 * Math.sin(v / 2) + 0.002 * Math.sin(37 * k));
  return {
    source: `${name}.csv`,
    place: `hole ${name}`,
    measured: { survey: surveyOf(x, y, z), outline },
    fit: null,
    worth: null,
    units: 'metric',
    surveyed: null,
    trust: null,
    reading: null,
    readOptions: {},
    request: {
      locations: [{ name: 'A', on: 5.5, in: 7, side: 'left', at: [0, 5] }],
      lengths: [1, 3],
      past: 0.3,
      stimps: [3],
      regions: 'bends',
      breakMaps: true,
      stations: true,
    },
  };
};

const queued = (jobs: readonly GreenJob[]): QueuedJob[] =>
  jobs.map((job) => ({ cost: 1, bring: () => job }));

describe('a pool of threads', () => {
  it('gives what one thread gives, in the order asked', { tags: 'long' }, async () => {
    const jobs = [0.01, 0.02, 0.03].map((tilt, i) => jobOf(`${i + 1}`, tilt, 200));
    const done: number[] = [];
    const pooled = await doGreenJobs(queued(jobs), {
      keep: (index, result) => {
        done.push(index);
        return result;
      },
      threads: 2,
    });
    expect(pooled).toEqual(jobs.map(doGreenJob));
    expect(done.sort()).toEqual([0, 1, 2]);
  });

  it('carries the fault of the first bad green across, with file, place and cure', {
    tags: 'long',
  }, async () => {
    const jobs = [
      jobOf('1', 0.01, 200),
      jobOf('thin', 0.01, 4),
      jobOf('3', 0.01, 200),
      jobOf('thinner', 0.01, 2),
    ];
    const fault = await doGreenJobs(queued(jobs), { keep: () => null, threads: 1 }).then(
      () => null,
      (error: unknown) => error,
    );
    expect(fault).toBeInstanceOf(InputFault);
    const { where, problem, cure } = fault as InputFault;
    expect(where).toEqual({ file: 'thin.csv', place: 'hole thin' });
    expect(problem).toMatch(/only \d+ points/);
    expect(cure).toMatch(/needs 12 or more/);
  });
});
