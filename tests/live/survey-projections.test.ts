import { execFileSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { coordinateSystem } from '../../src/survey/crs/plane.js';

/**
 * Our definitions and proj4 against PROJ's own database and code (by gdaltransform): a place in each of
 * national grids, state-plane zones and UTM zones in use.
 */
const PLACES: readonly (readonly [epsg: number, longitude: number, latitude: number])[] = [
  [32630, -1.5, 52.3],
  [32756, 151.2, -33.9],
  [25832, 9.1, 48.7],
  [26917, -81.3, 28.5],
  [6343, -98.5, 30.2],
  [28355, 145.1, -37.9],
  [7855, 145.1, -37.9],
  [27700, -2.8, 56.34],
  [2157, -8.2, 53.3],
  [29903, -6.2, 53.4],
  [2154, 2.3, 48.8],
  [3948, 2.1, 48.2],
  [31370, 4.4, 50.8],
  [28992, 5.2, 52.1],
  [2056, 7.5, 46.9],
  [31467, 9.1, 48.7],
  [31256, 16.3, 48.2],
  [3067, 25, 61.5],
  [3879, 25, 60.2],
  [3006, 18, 59.3],
  [5110, 10.5, 59.9],
  [2180, 19.1, 51.9],
  [5514, 14.4, 50.1],
  [3763, -8.9, 38.7],
  [2100, 23.7, 37.9],
  [5254, 30.5, 40.2],
  [2193, 174.8, -36.9],
  [2326, 114.17, 22.3],
  [3414, 103.85, 1.29],
  [3826, 121, 24],
  [6677, 139.7, 35.7],
  [5186, 127, 37.5],
  [3123, 121, 14.6],
  [31983, -46.6, -23.5],
  [6372, -99.1, 19.4],
  [2236, -80.1, 26.6],
  [6438, -80.1, 26.6],
  [2229, -118.2, 34],
  [6423, -118.2, 34],
  [2263, -73.9, 40.7],
  [6539, -73.9, 40.7],
  [2276, -96.8, 32.8],
  [2992, -122.6, 45.5],
  [2903, -106.6, 35.1],
  [2949, -66.5, 49.5],
  [3978, -95, 55],
  [3577, 140, -30],
  [3857, -1.5, 52.3],
];

/**
 * Metres. Systems on modern datums agree to the millimetre; where an older datum is shifted by a formula,
 * PROJ may take a grid or another formula of the registry, and a few metres remain.
 */
const SHIFTED = [27700, 29903, 31370, 28992, 2056, 31467, 31256, 5514, 2100, 2326, 3123];
/** Datums on the GRS 80 ellipsoid are taken for WGS 84's; PROJ knows a shift of a metre for these. */
const NEAR = [2903, 2949];
const allowed = (epsg: number): number =>
  SHIFTED.includes(epsg) ? 7 : NEAR.includes(epsg) ? 2 : 0.002;

it('puts places where PROJ puts them', () => {
  const recorded: (readonly [number, number, number, number, number])[] = [];
  for (const [epsg, longitude, latitude] of PLACES) {
    const out = execFileSync('gdaltransform', ['-s_srs', 'EPSG:4326', '-t_srs', `EPSG:${epsg}`], {
      encoding: 'utf8',
      input: `${longitude} ${latitude}\n`,
    });
    const [x, y] = out.trim().split(' ').map(Number);
    const system = coordinateSystem(`EPSG:${epsg}`);
    const [px, py] = system.project(longitude, latitude);
    const apart = Math.hypot(px - x * system.unit, py - y * system.unit);
    expect(apart, `EPSG:${epsg}`).toBeLessThan(allowed(epsg));
    recorded.push([epsg, longitude, latitude, x, y]);
  }
  const path = new URL('../survey/recorded/projections.json', import.meta.url);
  if (process.env.RUNNEL_RECORD !== undefined) {
    const version = execFileSync('gdaltransform', ['--version'], { encoding: 'utf8' }).trim();
    writeFileSync(
      path,
      `${JSON.stringify({
        made: 'gdaltransform -s_srs EPSG:4326 -t_srs EPSG:n; each row: n, longitude, latitude, x, y',
        version,
        shifted: [...SHIFTED, ...NEAR],
        rows: recorded,
      }).replaceAll('],[', '],\n[')}\n`,
    );
  }
  const then = JSON.parse(readFileSync(path, 'utf8')) as { rows: number[][] };
  expect(recorded).toEqual(then.rows);
});
