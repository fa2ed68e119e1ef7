import { describe, expect, it } from 'vitest';
import { drain, maungaWhau, overlap, receiversOf, recorded, streamsByArea } from './maunga-whau.js';

/**
 * Against GRASS GIS (r.fill.dir, r.watershed; the file names version and commands), on the open Maunga
 * Whau grid. tests/live/terrain-grass.test.ts runs GRASS again.
 */
const raster = maungaWhau();
const reference = recorded();

describe('filling and accumulation on the Maunga Whau grid against GRASS', () => {
  it('fills every hollow to the same height as r.fill.dir', () => {
    const { filled } = drain(raster, 'd8');
    let raised = 0;
    let different = 0;
    reference.filled.forEach((height, n) => {
      if (filled[n] !== raster.height[n]) raised++;
      if (filled[n] !== height) different++;
    });
    expect(raised).toBe(103);
    expect(different).toBe(0);
  });

  it.each([
    ['d8', reference.d8],
    ['d-infinity', reference.shared],
  ] as const)(
    '%s: the ten largest streams lie within two cells of r.watershed’s, and the reverse, by 95 %%',
    (method, theirs) => {
      const ours = drain(raster, method);
      const ownTen = streamsByArea(ours.area, ours.receiver).slice(0, 10);
      const theirTen = streamsByArea(theirs.area, receiversOf(raster, theirs.direction)).slice(
        0,
        10,
      );
      expect(ownTen.length).toBe(10);
      expect(theirTen.length).toBe(10);
      expect(overlap(raster, ownTen, theirs.area)).toBeGreaterThanOrEqual(0.95);
      expect(overlap(raster, theirTen, ours.area)).toBeGreaterThanOrEqual(0.95);
    },
  );

  it.each(['d8', 'd-infinity'] as const)(
    '%s loses no water: what leaves is the area of the grid',
    (method) => {
      const { area, receiver } = drain(raster, method);
      let left = 0;
      for (let n = 0; n < area.length; n++) if (receiver[n] < 0) left += area[n];
      expect(left).toBeCloseTo(raster.columns * raster.rows, 6);
    },
  );
});
