import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { InputFault } from '../../src/fault.js';
import { readSurvey } from '../../src/survey/read-survey.js';
import { writeLas, writeLaz } from './las-writer.js';

/** Headers that promise ten billion cells or points must not cost memory or time. */

const tiff = (): { bytes: Uint8Array; view: DataView } => {
  const bytes = new Uint8Array(
    readFileSync(new URL('recorded/strips-float32.tif', import.meta.url)),
  ).slice();
  return { bytes, view: new DataView(bytes.buffer) };
};

/** Sets a field of the first directory to one 32-bit number. */
const setField = (view: DataView, tag: number, value: number, count = 1): void => {
  const at = view.getUint32(4, true);
  for (let k = 0; k < view.getUint16(at, true); k++) {
    const entry = at + 2 + 12 * k;
    if (view.getUint16(entry, true) !== tag) continue;
    view.setUint16(entry + 2, 4, true);
    view.setUint32(entry + 4, count, true);
    view.setUint32(entry + 8, value, true);
    return;
  }
  throw new Error(`no field ${tag}`);
};

const points = Array.from({ length: 50 }, (_, k) => ({ x: k, y: 2 * k, z: 1, group: 2 }));

const cases: [string, () => Uint8Array, RegExp][] = [
  [
    'a GeoTIFF of 100 000 x 100 000 cells',
    () => {
      const { bytes, view } = tiff();
      setField(view, 256, 100_000);
      setField(view, 257, 100_000);
      return bytes;
    },
    /cells are more than this program looks at|damaged/,
  ],
  [
    'a GeoTIFF whose strip holds them all',
    () => {
      const { bytes, view } = tiff();
      setField(view, 256, 100_000);
      setField(view, 257, 100_000);
      setField(view, 278, 100_000);
      return bytes;
    },
    /a block of 100000 x 100000 cells/,
  ],
  [
    'a GeoTIFF with four billion strips',
    () => {
      const { bytes, view } = tiff();
      setField(view, 273, 8, 0xffff_ffff);
      return bytes;
    },
    /field 273 reaches past the end/,
  ],
  [
    'a LAS file of four billion points',
    () => {
      const bytes = writeLas(points);
      new DataView(bytes.buffer).setUint32(107, 0xffff_ffff, true);
      return bytes;
    },
    /4294967295 points of 20 bytes are promised/,
  ],
  [
    'a LAZ file of four billion points',
    () => {
      const bytes = writeLaz(points);
      new DataView(bytes.buffer).setUint32(107, 0xffff_ffff, true);
      return bytes;
    },
    /1 chunks for 4294967295 points/,
  ],
  [
    'an ASCII grid of ten billion cells',
    () =>
      new TextEncoder().encode(
        'ncols 100000\nnrows 100000\nxllcorner 0\nyllcorner 0\ncellsize 1\n1 2 3 4\n',
      ),
    /the header promises 100000 x 100000 values/,
  ],
];

it.each(cases)('%s', async (_, make, message) => {
  const before = process.resourceUsage().maxRSS;
  const error = await readSurvey(make(), { source: 'huge' }).catch((e: unknown) => e);
  expect(error).toBeInstanceOf(InputFault);
  expect((error as InputFault).message).toMatch(message);
  expect(process.resourceUsage().maxRSS - before).toBeLessThan(100 * 1024);
});

it.each(['\n', ' ', '9', '"', '0\n', '# \n', '<', '- '])(
  'a text that says %j again and again is told at once',
  async (again) => {
    const row = '1,5712302.631,512368.927,169.83\n';
    for (const at of [0, 45]) {
      const text = row.repeat(4);
      const bytes = new TextEncoder().encode(
        text.slice(0, at) + again.repeat(60_000) + text.slice(at),
      );
      const start = process.cpuUsage();
      await readSurvey(bytes, { source: 'long' }).catch((error: unknown) => {
        expect(error).toBeInstanceOf(InputFault);
      });
      expect(process.cpuUsage(start).user).toBeLessThan(2_000_000);
    }
  },
);
