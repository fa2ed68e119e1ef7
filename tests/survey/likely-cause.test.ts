import { describe, expect, it } from 'vitest';
import { boxOf, growBox } from '../../src/geometry.js';
import { localPlane, planeFor } from '../../src/survey/crs/plane.js';
import { readSurvey } from '../../src/survey/read-survey.js';
import type { ReadOptions } from '../../src/survey/readers/file-reader.js';

/** A made-up green of 30 m at 1.5 W, 52.3 N, and a survey of it with one fault each. */
const near = [-1.5, 52.3] as const;
const plane = planeFor('EPSG:32630', near);
const centre = plane.toPlane(...near);
const window = growBox(boxOf([centre]), 15);
const places = Array.from({ length: 100 }, (_, k) => [
  centre[0] - 13 + (k % 10) * 2.9,
  centre[1] - 13 + Math.floor(k / 10) * 2.9,
]);
const US_FOOT = 1200 / 3937;

const file = (row: (x: number, y: number) => readonly number[]): Uint8Array =>
  new TextEncoder().encode(places.map(([x, y]) => [...row(x, y), 51.5].join(' ')).join('\n'));

const read = (bytes: Uint8Array, options: object = {}) =>
  readSurvey(bytes, { source: 'green.txt', crs: 'EPSG:32630', plane, ...options }, window);

const degrees = (x: number, y: number) => plane.toMap(x, y);

describe('a survey that does not land on its green', () => {
  it('fits when nothing is wrong', async () => {
    expect((await read(file((x, y) => [x, y]))).x.length).toBe(100);
  });

  it.each<[string, Uint8Array, Partial<ReadOptions>, RegExp]>([
    [
      'exchanged axes',
      file((x, y) => [y, x]),
      {},
      /^green\.txt: the points land [\d ]+ km from the outline; with x and y exchanged they fit: check the order of the columns$/,
    ],
    [
      'feet taken for metres',
      file((x, y) => [x / 0.3048, y / 0.3048]),
      {},
      /; as international feet they fit: check the unit$/,
    ],
    [
      'feet and exchanged axes',
      file((x, y) => [y / US_FOOT, x / US_FOOT]),
      {},
      /as US survey feet with x and y exchanged they fit/,
    ],
    [
      'degrees',
      file(degrees),
      {},
      /as longitude and latitude they fit: state the coordinate system EPSG:4326/,
    ],
    [
      'latitude first',
      file((x, y) => [degrees(x, y)[1], degrees(x, y)[0]]),
      {},
      /as latitude and longitude they fit/,
    ],
    ['the wrong zone', file((x, y) => [x, y]), { crs: 'EPSG:32631' }, /in EPSG:32630 they fit/],
    [
      'the wrong hemisphere',
      file((x, y) => [x, y]),
      { crs: 'EPSG:32730' },
      /in EPSG:32630 they fit/,
    ],
    [
      'no system stated, the green in a frame of its own',
      file((x, y) => [x, y]),
      { crs: null, plane: localPlane(...near) },
      /in EPSG:32630 they fit: check the coordinate system$/,
    ],
    [
      'another place',
      file((x, y) => [x + 5000, y]),
      {},
      /the points land 5\.0 km from the outline; check the coordinate system, the unit/,
    ],
  ])('%s', async (_, bytes, options, message) => {
    const bounds = 'plane' in options ? growBox(boxOf([[0, 0]]), 15) : window;
    const result = readSurvey(
      bytes,
      { source: 'green.txt', crs: 'EPSG:32630', plane, ...options },
      bounds,
    );
    await expect(result).rejects.toThrow(message);
  });

  it('names exchanged axes of a grid of which nothing is read', async () => {
    const grid = `ncols 3\nnrows 3\nxllcenter ${centre[1] - 5}\nyllcenter ${centre[0] - 5}\ncellsize 5\n1 2 3 4 5 6 7 8 9`;
    await expect(read(new TextEncoder().encode(grid))).rejects.toThrow(
      'with x and y exchanged they fit',
    );
  });
});
