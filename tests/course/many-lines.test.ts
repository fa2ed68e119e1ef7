import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import type { MapFeature } from '../../src/course/course-map.js';
import type { FlatFeature } from '../../src/course/flat.js';
import { type LineToSettle, settleGreens } from '../../src/course/settle-greens.js';
import type { Point } from '../../src/geometry.js';
import { writeGrowingCourse } from '../bench/growing-course.js';

const laid = (id: string, refs: readonly string[], points: readonly Point[]): FlatFeature => ({
  feature: {
    ...{ id, refs, tags: {} },
    shape: { kind: points.length > 1 ? 'area' : 'point' },
  } as unknown as MapFeature,
  points,
  middle: points[0],
});

const squareAt = (x: number, y: number): Point[] => [
  [x - 10, y - 10],
  [x + 10, y - 10],
  [x + 10, y + 10],
  [x - 10, y + 10],
];

/** Lines north from a tee to a green of their own, some beside each other, and one whose green is 240 m past its end. */
const someLines = (east: number) => {
  const places = [0, 45, 90, 400, 800].map((x) => x + east);
  const ends: Point[] = places.map((x, i) => [x, 300 + 5 * i]);
  const lines: LineToSettle[] = places.map((x, i) => ({
    points: [[x, 0], ends[i]],
    refs: [`${x}`],
  }));
  const beyond = [12, -20, 30, 0, 250];
  return {
    lines,
    greens: ends.map(([x, y], i) =>
      laid(`green ${x}`, i < 3 ? [] : [`${x}`], squareAt(x, y + beyond[i])),
    ),
    tees: places.map((x) => laid(`tee ${x}`, [`${x}`], [[x, 0]])),
  };
};

it('settles lines far from each other as if each were alone', () => {
  const [here, there] = [someLines(0), someLines(9000)];
  const [one, two] = [settleGreens(here), settleGreens(there)];
  const both = settleGreens({
    lines: [...here.lines, ...there.lines],
    greens: [...here.greens, ...there.greens],
    tees: [...here.tees, ...there.tees],
  });
  const rounded = (all: typeof both) =>
    all.map((line) => ({ ...line, margin: Number(line.margin.toFixed(6)) }));
  const after = (green: number | null) => (green === null ? null : green + here.greens.length);
  expect(rounded(both)).toEqual(
    rounded([...one, ...two.map((line) => ({ ...line, green: after(line.green) }))]),
  );
  expect(one.map(({ green }) => green)).toEqual([0, 1, 2, 3, null]);
});

it('weighs a green out of reach against none', () => {
  // By its number the green costs 0.4 a metre, 96 in all, and none 90; the other way round the line costs 36 more.
  const [last] = settleGreens(someLines(0)).slice(-1);
  expect(last.green).toBeNull();
  expect(last.margin).toBeCloseTo(6, 9);
});

it('settles a thousand holes in little memory', { tags: 'long' }, () => {
  const folder = mkdtempSync(join(tmpdir(), 'runnel-many-lines-'));
  try {
    writeGrowingCourse(folder, 1000, 3, 220_100);
    const script = `const { loadCourse } = await import('./src/course/load-course.ts');
process.stdout.write(String(loadCourse(${JSON.stringify(folder)}).holes.length));`;
    // All lines with all greens took 150 MB of heap.
    const argv = ['--max-old-space-size=80', '--import', import.meta.resolve('tsx')];
    const { stdout, stderr } = spawnSync(
      process.execPath,
      [...argv, '--input-type=module', '-e', script],
      { encoding: 'utf8' },
    );
    expect(`${stdout}${stderr}`).toBe('1000');
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
});
