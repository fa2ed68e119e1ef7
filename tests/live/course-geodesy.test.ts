import { execFileSync, spawnSync } from 'node:child_process';
import { mkdirSync, writeFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { courseFigures } from '../../src/course/course-figures.js';
import type { LonLat } from '../../src/course/course-map.js';
import { geodesicBearing, geodesicDistance } from '../../src/course/geodesy.js';
import { loadCourse } from '../../src/course/load-course.js';

/** Lengths and bearings of geodesics on WGS 84 by PROJ's `geod` (Debian: proj-bin). */
const byProj = (pairs: readonly (readonly [LonLat, LonLat])[]): [number, number][] => {
  const input = pairs.map(([a, b]) => `${a[1]} ${a[0]} ${b[1]} ${b[0]}`).join('\n');
  const output = execFileSync('geod', ['+ellps=WGS84', '-I', '-f', '%.9f', '-F', '%.6f'], {
    input: `${input}\n`,
    encoding: 'utf8',
  });
  return output
    .trim()
    .split('\n')
    .map((line) => {
      const [forward, , length] = line.trim().split(/\s+/).map(Number);
      return [forward, length];
    });
};

/** Pairs of places: all that the demo's hole pages measure between, and pairs all over the Earth. */
const pairsToMeasure = (): [LonLat, LonLat][] => {
  const course = loadCourse(new URL('../../course-data/vellamoor', import.meta.url).pathname);
  const pairs: [LonLat, LonLat][] = courseFigures(course, null).flatMap((hole) => [
    ...hole.tees.map((tee): [LonLat, LonLat] => [tee.at, hole.greenMiddle]),
    ...hole.landmarks.map((one): [LonLat, LonLat] => [one.at, hole.greenMiddle]),
    ...hole.line.slice(1).map((at, i): [LonLat, LonLat] => [hole.line[i], at]),
  ]);
  pairs.push([
    [174.81, -41.32],
    [-5.5, 40.96],
  ]);
  for (let i = 0; i < 60; i++) {
    pairs.push([
      [((i * 137.5) % 360) - 180, ((i * 47.3) % 170) - 85],
      [((i * 71.7) % 360) - 180, ((i * 83.1) % 170) - 85],
    ]);
  }
  return pairs;
};

/** What `npm test` checks against on machines without PROJ; RUNNEL_RECORD=1 writes it anew. */
const RECORDED = new URL('../course/recorded/geod.json', import.meta.url);

test('every length of the demo course, and far pairs, agree with PROJ to a tenth of a millimetre', () => {
  const pairs = pairsToMeasure();
  const theirs = byProj(pairs);
  expect(theirs.length).toBe(pairs.length);
  pairs.forEach(([a, b], i) => {
    const [bearing, length] = theirs[i];
    expect(Math.abs(geodesicDistance(a, b) - length)).toBeLessThan(1e-4);
    const turned = Math.abs(geodesicBearing(a, b) - bearing) % 360;
    expect(Math.min(turned, 360 - turned)).toBeLessThan(1e-6);
  });
  if (process.env.RUNNEL_RECORD !== '1') return;
  const version = spawnSync('geod', { encoding: 'utf8' }).stderr.split('\n')[0].trim();
  const rows = pairs
    .map(([a, b], i) => ({ from: a, to: b, bearing: theirs[i][0], metres: theirs[i][1] }))
    .filter((_, i) => i % 3 === 0)
    .map((row) => `  ${JSON.stringify(row)}`);
  const command = 'geod +ellps=WGS84 -I -f %.9f -F %.6f';
  mkdirSync(new URL('.', RECORDED), { recursive: true });
  writeFileSync(
    RECORDED,
    `{"command": ${JSON.stringify(command)}, "version": ${JSON.stringify(version)}, "rows": [\n${rows.join(',\n')}\n]}\n`,
  );
});
