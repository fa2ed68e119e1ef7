import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readSurvey } from '../../src/survey/read-survey.js';
import {
  type ByteSource,
  bytesInMemory,
  gatherStream,
} from '../../src/survey/readers/byte-source.js';

const seed = 20_260_201;

const value = fc.double({ min: -9000, max: 9000, noNaN: true }).map((v) => Number(v.toFixed(3)));
// A height of nothing may be taken for no data.
const height = value.map((v) => v || 0.25);
const points = fc.array(fc.tuple(value, value, height), { minLength: 2, maxLength: 30 });
const dialect = fc.constantFrom<[string, '.' | ',']>(
  [',', '.'],
  [', ', '.'],
  [';', '.'],
  [';', ','],
  ['\t', '.'],
  ['\t', ','],
  [' ', '.'],
  [' ', ','],
  ['|', '.'],
);
const order = fc.constantFrom(
  ['x', 'y', 'z'],
  ['Northing', 'Easting', 'Elev'],
  ['id', 'N', 'E', 'H', 'code'],
  ['h', 'id', 'north', 'east'],
);
const ending = fc.constantFrom('\n', '\r\n', '\r');

/** Reads a few bytes at a time, so that every line and every value is cut somewhere. */
const inCrumbs = (bytes: Uint8Array): ByteSource => ({
  size: bytes.length,
  read: async (at, length) => bytes.subarray(at, at + Math.min(length, at === 0 ? 4096 : 7)),
});

describe('what is written is read', () => {
  it('points in any dialect, order of columns and line ending', { tags: 'long' }, async () => {
    await fc.assert(
      fc.asyncProperty(
        points,
        dialect,
        order,
        ending,
        fc.boolean(),
        async (list, [d, m], names, end, crumbs) => {
          const rows = list.map((p, k) =>
            names
              .map((name) => {
                const axis = { x: 0, easting: 0, e: 0, east: 0, y: 1, northing: 1, n: 1, north: 1 }[
                  name.toLowerCase()
                ];
                if (name === 'id') return `P${k}`;
                if (name === 'code') return 'GR';
                return String(p[axis ?? 2]).replace('.', m);
              })
              .join(d),
          );
          const bytes = new TextEncoder().encode([names.join(d), ...rows].join(end));
          const survey = await readSurvey(crumbs ? inCrumbs(bytes) : bytes, { source: 'p.txt' });
          expect(Array.from(survey.x, (x, k) => [x, survey.y[k], survey.z[k]])).toEqual(
            list.map((p) => p.map((v) => v + 0)),
          );
        },
      ),
      { numRuns: 500, seed },
    );
  });

  it('grids of any size, cut to any window', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.integer({ min: 1, max: 12 }),
        fc.integer({ min: 1, max: 12 }),
        fc.integer({ min: 0, max: 11 }),
        fc.integer({ min: 0, max: 11 }),
        fc.boolean(),
        async (columns, rows, c, r, crumbs) => {
          const heights = Array.from({ length: rows * columns }, (_, k) => k / 8 - 3);
          const text = `ncols ${columns}\nnrows ${rows}\nxllcenter 100\nyllcenter 200\ncellsize 2\n${heights.join(' ')}\n`;
          const bytes = new TextEncoder().encode(text);
          const window = {
            minX: 100 + 2 * Math.min(c, columns - 1),
            maxX: 106 + 2 * c,
            minY: 200 + 2 * Math.min(r, rows - 1),
            maxY: 206 + 2 * r,
          };
          const survey = await readSurvey(
            crumbs ? inCrumbs(bytes) : bytes,
            { source: 'g.asc' },
            window,
          );
          const expected = heights
            .map((z, k) => [
              100 + 2 * (k % columns),
              200 + 2 * (rows - 1 - Math.floor(k / columns)),
              z,
            ])
            .filter(
              ([x, y]) =>
                x >= window.minX && x <= window.maxX && y >= window.minY && y <= window.maxY,
            );
          expect(Array.from(survey.x, (x, k) => [x, survey.y[k], survey.z[k]])).toEqual(expected);
        },
      ),
      { numRuns: 500, seed },
    );
  });
});

describe('files that come in crumbs', () => {
  it.each(['surface.xml', 'grid.asc', 'strips-lzw.tif'])('%s', async (name) => {
    const bytes = new Uint8Array(readFileSync(new URL(`recorded/${name}`, import.meta.url)));
    const whole = await readSurvey(bytes, { source: name });
    const source = name.endsWith('.tif') ? bytesInMemory(bytes) : inCrumbs(bytes);
    expect(await readSurvey(source, { source: name })).toEqual(whole);
  });

  it('a stream is gathered', async () => {
    async function* stream(): AsyncGenerator<Uint8Array> {
      for (const part of ['1 2', ' 3\n4 ', '5 6']) yield new TextEncoder().encode(part);
    }
    const survey = await readSurvey(await gatherStream(stream(), 'stdin'), { source: 'stdin' });
    expect([...survey.z]).toEqual([3, 6]);
  });
});
