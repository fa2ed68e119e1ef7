import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Point } from '../../src/geometry.js';
import {
  CELL,
  type DrainReference,
  greenOf,
  heightsOf,
  placesOf,
  recorded,
  recordedPath,
  SEEDS,
  TURNS,
  turned,
} from '../terrain/pour-grass.js';

/** Set to write tests/terrain/recorded anew instead of comparing with it. */
const RECORD = process.env.RUNNEL_RECORD !== undefined;

/** Comparing, half of the recorded greens are run again: a program of its own is started for each way. */
const RUN = RECORD ? SEEDS : SEEDS.filter((_, k) => k % 2 === 0);

let folder: string;
let reference: DrainReference;

const grass = (...args: string[]): string =>
  execFileSync('grass', args, { cwd: folder, encoding: 'utf8', stdio: ['ignore', 'pipe', 'pipe'] });

/** What one grid takes: it is read, and r.drain is started at each place; the ways come back as vertices. */
const scriptOf = (name: string, starts: readonly Point[]): string[] => [
  `r.in.ascii input=${name}.txt output=dem type=DCELL null_value=-9 --quiet --overwrite`,
  'g.region raster=dem',
  ...starts.flatMap(([x, y], k) => [
    `r.drain input=dem output=way drain=line start_coordinates=${x.toFixed(4)},${y.toFixed(4)} --quiet --overwrite`,
    `v.out.ascii input=line type=line format=standard output=${name}-${k}.txt --quiet --overwrite`,
  ]),
];

/** The last vertex of a way. */
const endOf = (file: string): Point => {
  const vertices = readFileSync(join(folder, file), 'utf8')
    .split('\n')
    .filter((row) => /^ +-?[\d.]+ +-?[\d.]+\s*$/.test(row))
    .filter((row) => !/^ 1 +1/.test(row));
  const [x, y] = vertices[vertices.length - 1].trim().split(/\s+/).map(Number);
  return [x, y];
};

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'runnel-drain-'));
  const script: string[] = [];
  for (const seed of RUN) {
    const surface = greenOf(seed);
    TURNS.forEach((angle, t) => {
      const { west, south, east, north, rows } = heightsOf(surface, angle);
      const head = `north: ${north}\nsouth: ${south}\neast: ${east}\nwest: ${west}\nrows: ${rows.length}\ncols: ${rows[0].length}\n`;
      const lines = rows.map((row) => row.map((h) => (h === null ? '-9' : h.toFixed(6))).join(' '));
      const name = `g${seed}-${t}`;
      writeFileSync(join(folder, `${name}.txt`), `${head}${lines.join('\n')}\n`);
      script.push(
        ...scriptOf(
          name,
          placesOf(surface).map((p) => turned(p, -angle)),
        ),
      );
    });
  }
  writeFileSync(join(folder, 'job.sh'), `set -e\n${script.join('\n')}\n`);
  grass('-c', 'XY', 'location', '-e');
  grass(join('location', 'PERMANENT'), '--exec', 'bash', 'job.sh');
  const version = execFileSync('grass', ['--version'], { encoding: 'utf8' }).trim().split('\n')[0];
  const ends: Record<string, Point[][]> = {};
  for (const seed of RUN) {
    ends[seed] = TURNS.map((angle, t) =>
      placesOf(greenOf(seed)).map((_, k) => {
        const [x, y] = turned(endOf(`g${seed}-${t}-${k}.txt`), angle);
        return [Number(x.toFixed(3)), Number(y.toFixed(3))];
      }),
    );
  }
  reference = {
    made: `${version}: r.drain on cells of ${CELL} m, turned by ${TURNS.join(', ')}`,
    ends,
  };
  if (RECORD) writeFileSync(recordedPath, `${JSON.stringify(reference, null, 1)}\n`);
}, 600_000);
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('r.drain on random greens', () => {
  it('gives what is recorded', () => {
    const { ends } = recorded();
    expect(Object.keys(reference.ends)).toHaveLength(RUN.length);
    for (const seed of RUN) expect(reference.ends[seed]).toEqual(ends[seed]);
  });
});
