import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { afterAll, expect, test } from 'vitest';
import { loadCourse } from '../../src/course/load-course.js';
import { InputFault } from '../../src/fault.js';
import { atDepth } from '../depth.js';

const folder = mkdtempSync(join(tmpdir(), 'fuzz-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const square = (x: number, y: number, half: number): number[][] =>
  [
    [-1, -1],
    [1, -1],
    [1, 1],
    [-1, 1],
    [-1, -1],
  ].map(([u, v]) => [x + u * half, y + v * half]);

writeFileSync(
  join(folder, 'map.geojson'),
  JSON.stringify({
    type: 'FeatureCollection',
    features: [
      {
        type: 'Feature',
        id: 'h',
        properties: { golf: 'hole', ref: '1' },
        geometry: {
          type: 'LineString',
          coordinates: [
            [-34.2, 32.6],
            [-34.197, 32.6],
          ],
        },
      },
      {
        type: 'Feature',
        id: 'g',
        properties: { golf: 'green', ref: '1' },
        geometry: { type: 'Polygon', coordinates: [square(-34.197, 32.6, 1.5e-4)] },
      },
      {
        type: 'Feature',
        id: 't',
        properties: { golf: 'tee', ref: '1' },
        geometry: { type: 'Polygon', coordinates: [square(-34.2, 32.6, 4e-5)] },
      },
    ],
  }),
);
writeFileSync(join(folder, 'green.csv'), 'x,y,z\n1,2,3\n');

const good = `title: Tiny
setting: A test
map: map.geojson
use: play
greenSpeed: 3.1 m
surveys:
  crs: EPSG:32625
  unit: m
holes:
  - hole: 1
    name: "First"
    par: 4
    index: 1
    survey: { file: green.csv, columns: [x, y, z], sigma: 0.01 }
    drains: []
    locations:
      A: { on: 10, left: 8 }
      B: { on: 20, right: 8.5 }
`;

test('the tiny course loads', () => {
  const path = join(folder, 'course.yaml');
  writeFileSync(path, good);
  const { holes, stimp } = loadCourse(path);
  expect(stimp).toBeCloseTo(3.1, 12);
  expect(holes[0].green!.survey.columns).toEqual(['x', 'y', 'z']);
  expect(holes[0].green!.locations.map((one) => one.name)).toEqual(['A', 'B']);
});

test('any damage to a course file is one clear line, or a read', { tags: 'deep' }, () => {
  const path = join(folder, 'damaged.yaml');
  let faults = 0;
  fc.assert(
    fc.property(
      fc.array(
        fc.tuple(
          fc.nat(),
          fc.constantFrom(
            '',
            ':',
            '-',
            '[',
            '}',
            '"',
            '1e308',
            '-7',
            '\n',
            '  ',
            'x',
            '&a ',
            '*a',
            '!!',
          ),
        ),
        { minLength: 1, maxLength: 5 },
      ),
      fc.option(fc.nat(), { nil: null, freq: 6 }),
      (edits, cut) => {
        let text = good;
        for (const [at, put] of edits) {
          const i = at % text.length;
          text = text.slice(0, i) + put + text.slice(i + 1);
        }
        if (cut !== null) text = text.slice(0, cut % text.length);
        writeFileSync(path, text);
        try {
          loadCourse(path);
        } catch (error) {
          expect(error, text).toBeInstanceOf(InputFault);
          const { message } = error as InputFault;
          expect(message).not.toContain('\n');
          expect(message).toMatch(/damaged\.yaml|green\.csv|map\.geojson|crs/);
          faults += 1;
        }
      },
    ),
    { numRuns: atDepth(250, 600), seed: 3 },
  );
  expect(faults).toBeGreaterThan(200);
});
