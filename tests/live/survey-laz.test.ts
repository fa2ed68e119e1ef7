import { describe, expect, it } from 'vitest';
import { readSurvey } from '../../src/survey/read-survey.js';
import { groundOf, LAYERED_CASES, layeredCloud } from '../survey/layered-clouds.js';
import { fullRecords, POINT_SCALE, writeLayeredLaz } from '../survey/laz14-writer.js';
import { recordsByLazRs } from './laz-rs.js';

/**
 * LAZ of point formats 6 to 8 by a decoder that shares nothing with ours or with the encoder of the tests: record
 * by record as it was, and the survey's points as the decoder has them, to 0.1 mm.
 */

const SEEDS = [1401, 1402, 1403];

describe('LAZ in layers by an independent decoder', () => {
  it.each(LAYERED_CASES)('point format %d, %s, %d channels, %d own bytes', async (...one) => {
    const [format, kind, channels, ownBytes] = one;
    for (const seed of SEEDS) {
      const returns = 1 + (seed % 3);
      const points = layeredCloud({
        count: 4000,
        noisy: kind === 'noisy',
        channels,
        returns,
        seed,
      });
      const cloud = { format, points, chunkSize: 700, ownBytes };
      const file = writeLayeredLaz(cloud);
      const records = await recordsByLazRs(file);
      expect(Buffer.compare(records, fullRecords(cloud))).toBe(0);
      const length = records.length / points.length;
      const view = new DataView(records.buffer);
      const head = new DataView(file.buffer);
      const survey = await readSurvey(file, { source: 'cloud.laz' });
      const spots = points.flatMap((_, k) => {
        const at = k * length;
        const isGround = view.getUint8(at + 16) === 2 && (view.getUint8(at + 15) & 4) === 0;
        const place = (i: number): number =>
          view.getInt32(at + 4 * i, true) * POINT_SCALE + head.getFloat64(155 + 8 * i, true);
        return isGround ? [[place(0), place(1), place(2)]] : [];
      });
      expect(spots.length).toBe(groundOf(points).length);
      expect(survey.x.length).toBe(spots.length);
      const far = spots.filter(
        ([x, y, z], k) =>
          Math.hypot(x - survey.x[k], y - survey.y[k]) > 1e-4 || Math.abs(z - survey.z[k]) > 1e-4,
      );
      expect(far).toEqual([]);
    }
  });
});
