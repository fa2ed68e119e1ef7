import { spawnSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { places, SMOOTHING, survey, type ThinPlateRecord } from '../surface/thin-plate.js';

const RECORD = new URL('../surface/recorded/scipy-thin-plate.json', import.meta.url);

/**
 * SciPy's thin-plate smoothing spline. Its `smoothing` is that of kernel r^2 log r, whose bending energy
 * is 8 pi times its quadratic form (Wahba 1990, section 2.4), so ours times 8 pi.
 */
const SCRIPT = `
import json, sys, numpy, scipy
from scipy.interpolate import RBFInterpolator
job = json.load(sys.stdin)
points = numpy.array(job["points"])
at = numpy.array(job["places"])
f = RBFInterpolator(points[:, :2], points[:, 2], kernel="thin_plate_spline", degree=1,
                    smoothing=8 * numpy.pi * job["smoothing"])
e = 1e-3
dx, dy = numpy.array([e, 0]), numpy.array([0, e])
h = f(at)
gx = (f(at + dx) - f(at - dx)) / (2 * e)
gy = (f(at + dy) - f(at - dy)) / (2 * e)
json.dump({"version": scipy.__version__, "values": numpy.stack([h, gx, gy], 1).round(7).tolist()}, sys.stdout)
`;

it('the recorded thin-plate spline is what SciPy computes', () => {
  const points = Array.from(survey.x, (x, k) => [x, survey.y[k], survey.z[k]]);
  const run = spawnSync('python3', ['-c', SCRIPT], {
    input: JSON.stringify({ points, places, smoothing: SMOOTHING }),
    encoding: 'utf8',
    maxBuffer: 1e8,
  });
  expect(run.stderr).toBe('');
  expect(run.status).toBe(0);
  const { version, values } = JSON.parse(run.stdout) as Pick<ThinPlateRecord, 'version' | 'values'>;
  if (process.env.RUNNEL_RECORD === '1') {
    const record: ThinPlateRecord = {
      command: 'scipy.interpolate.RBFInterpolator(kernel="thin_plate_spline", degree=1)',
      version,
      smoothing: SMOOTHING,
      values,
    };
    writeFileSync(RECORD, `${JSON.stringify(record)}\n`);
  }
  const recorded = JSON.parse(readFileSync(RECORD, 'utf8')) as ThinPlateRecord;
  expect(recorded.smoothing).toBe(SMOOTHING);
  expect(values.length).toBe(recorded.values.length);
  values.forEach((row, k) => {
    row.forEach((value, m) => {
      expect(Math.abs(value - recorded.values[k][m])).toBeLessThan(2e-6);
    });
  });
});
