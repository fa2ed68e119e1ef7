import { describe, expect, it } from 'vitest';
import { readSurvey } from '../../src/survey/read-survey.js';
import { atDepth } from '../depth.js';
import { groundOf, LAYERED_CASES, layeredCloud } from './layered-clouds.js';
import { writeFullLas, writeLayeredLaz } from './laz14-writer.js';

/**
 * LAZ of point formats 6 to 8, in layers. The encoder of the tests is held to another decoder than ours in
 * `tests/live/survey-laz.test`; here the reader is held to what was encoded.
 */

const FINE = 1e-4;

/** Every fifth meets each format, channel and kind of noise. */
const CASES = LAYERED_CASES.filter((_, k) => k % atDepth(5, 1) === 0);

describe('LAZ in layers', () => {
  it.each(CASES)(
    'point format %d, %s, %d channels, %d own bytes',
    { tags: 'deep' },
    async (...one) => {
      const [format, kind, channels, ownBytes] = one;
      const points = layeredCloud({
        count: 600,
        noisy: kind === 'noisy',
        channels,
        returns: 3,
        seed: 14 + format,
      });
      const cloud = { format, points, chunkSize: 250, ownBytes };
      const truth = groundOf(points);
      const plain = await readSurvey(writeFullLas(cloud), { source: 'a.las' });
      for (const varied of [false, true]) {
        const bytes = writeLayeredLaz({ ...cloud, varied });
        const survey = await readSurvey(bytes, { source: 'a.laz' });
        expect(survey.x.length).toBe(truth.length);
        // A file of millimetres holds a point to half of one.
        const far = truth.filter(
          (p, k) =>
            Math.max(
              Math.abs(survey.x[k] - p.x),
              Math.abs(survey.y[k] - p.y),
              Math.abs(survey.z[k] - p.z),
            ) >
            0.0005 + FINE,
        );
        expect(far).toEqual([]);
        const same = [survey.x, survey.y, survey.z].map((axis, k) =>
          axis.every((v, i) => v === [plain.x, plain.y, plain.z][k][i]),
        );
        expect(same).toEqual([true, true, true]);
        expect(survey.how).toContain(`LAZ 1.4, point format ${format}, ${truth.length} of 600`);
      }
    },
  );

  it('is much shorter than the same cloud as it is', () => {
    const points = layeredCloud({ count: 600, noisy: false, channels: 1, returns: 1, seed: 1 });
    const cloud = { format: 6, points, chunkSize: 600 } as const;
    expect(writeLayeredLaz(cloud).length).toBeLessThan(writeFullLas(cloud).length / 8);
  });
});
