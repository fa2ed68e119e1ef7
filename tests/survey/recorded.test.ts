import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { boxOf, growBox } from '../../src/geometry.js';
import { coordinateSystem, planeFor } from '../../src/survey/crs/plane.js';
import { readSurvey } from '../../src/survey/read-survey.js';
import { aspectOf, type WindowMethod, windowGradient } from '../terrain/window-slope.js';
import { GDAL_FILES, volcano } from './gdal-files.js';

/** Against what tests/live/survey-gdal.test.ts recorded. */

const recorded = (name: string): Uint8Array =>
  new Uint8Array(readFileSync(new URL(`recorded/${name}`, import.meta.url)));

const { width, values } = volcano();
const part: number[] = [];
for (let row = 20; row < 38; row++) {
  part.push(...values.slice(row * width + 20, row * width + 44));
}

describe('files that GDAL wrote', () => {
  it.each(Object.keys(GDAL_FILES))('%s', async (name) => {
    const survey = await readSurvey(recorded(name), { source: name });
    expect([...survey.z]).toEqual(part);
    // Column 20, row 20 of a grid whose lower left corner is 1756000, 5917000 and that has 61 rows.
    expect([survey.x[0], survey.y[0]]).toEqual([1_756_205, 5_917_000 + 10 * (61 - 20) - 5]);
    expect(survey.x[23] - survey.x[0]).toBe(230);
  });
});

it('cuts the same cells out through another coordinate system', async () => {
  const bytes = recorded('tiles-deflate.tif');
  const utm = planeFor('EPSG:32760', [174.76, -36.88]);
  const whole = await readSurvey(bytes, { source: 'a.tif', plane: utm });
  const middle = [whole.x[216 + 12], whole.y[216 + 12]];
  for (const reach of [5, 37, 71, 120]) {
    const window = growBox(boxOf([[middle[0], middle[1]]]), reach);
    const cut = await readSurvey(bytes, { source: 'a.tif', plane: utm }, window);
    const inside = [...whole.z].filter(
      (_, k) =>
        Math.abs(whole.x[k] - middle[0]) <= reach && Math.abs(whole.y[k] - middle[1]) <= reach,
    );
    expect([...cut.z]).toEqual(inside);
  }
});

describe('slope and aspect that gdaldem gave', () => {
  const then = JSON.parse(new TextDecoder().decode(recorded('gdaldem.json'))) as Record<
    string,
    (number | null)[]
  >;
  const grid = { columns: 24, rows: 18, cellSize: 10, z: part };
  it.each(['horn', 'zevenbergen-thorne'] as WindowMethod[])('%s', (method) => {
    for (let row = 0; row < 18; row++) {
      for (let column = 0; column < 24; column++) {
        const gradient = windowGradient(grid, column, row, method);
        const slope = then[`${method} slope`][row * 24 + column];
        if (gradient === null) {
          expect(slope).toBeNull();
          continue;
        }
        const degrees = (Math.atan(Math.hypot(...gradient)) * 180) / Math.PI;
        // 32-bit results, and the nine figures that were recorded.
        expect(Math.abs(degrees - slope!)).toBeLessThanOrEqual(2 ** -22 * (1 + slope!));
        const aspect = then[`${method} aspect`][row * 24 + column];
        const azimuth = aspectOf(gradient);
        if (azimuth === null) expect(aspect).toBeNull();
        else expect(Math.abs(((azimuth - aspect! + 540) % 360) - 180)).toBeLessThanOrEqual(1e-4);
      }
    }
  });
});

describe('places that PROJ gave', () => {
  const { rows, shifted } = JSON.parse(new TextDecoder().decode(recorded('projections.json'))) as {
    rows: [number, number, number, number, number][];
    shifted: number[];
  };
  it('48 systems, to 2 mm; to 7 m where a datum is shifted by a formula', () => {
    expect(rows.length).toBe(48);
    for (const [epsg, longitude, latitude, x, y] of rows) {
      const system = coordinateSystem(`EPSG:${epsg}`);
      const [px, py] = system.project(longitude, latitude);
      const apart = Math.hypot(px - x * system.unit, py - y * system.unit);
      expect(apart, `EPSG:${epsg}`).toBeLessThan(shifted.includes(epsg) ? 7 : 0.002);
      const back = system.unproject(px, py);
      expect(Math.hypot(back[0] - longitude, back[1] - latitude)).toBeLessThan(1e-7);
    }
  });
});
