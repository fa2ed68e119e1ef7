import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { type Random, seeded } from '../../course-data/vellamoor/random.js';
import { boxOfCoordinates } from '../../src/geometry.js';
import { type SmallCourse, smallCourse } from './small-course.js';

/** Holes of the demo whose surveys are made anew on even ground, each with an error or a ground that is planted. */
export const WAVE = '12';
export const DRIFT = '1';
export const SWATHS = '3';

type Spot = readonly [east: number, north: number, height: number];

const spotsOf = (file: string): number[][] =>
  readFileSync(file, 'utf8')
    .trim()
    .split('\n')
    .slice(1)
    .map((line) => line.split(',').slice(1, 4).map(Number));

/** Even ground over the box of what was surveyed: a plane of 2 % with a swell of 40 m, heights in metres. */
const groundOver = (file: string) => {
  const spots = spotsOf(file);
  const [east, north] = [0, 1].map((i) => Float64Array.from(spots, (spot) => spot[i]));
  const box = boxOfCoordinates(east, north);
  const height = (e: number, n: number): number =>
    12 +
    0.02 * (n - box.minY) +
    0.08 * Math.sin((2 * Math.PI * (e - box.minX + n - box.minY)) / 40);
  return { box, height };
};

/** Rows walked to and fro, a metre apart and never quite even. */
const walked = ({ box }: ReturnType<typeof groundOver>, random: Random): [number, number][] => {
  const spots: [number, number][] = [];
  let back = false;
  for (let n = box.minY; n <= box.maxY; n++, back = !back) {
    const row: [number, number][] = [];
    for (let e = box.minX; e <= box.maxX; e++)
      row.push([e + 0.12 * random.normal(), n + 0.12 * random.normal()]);
    spots.push(...(back ? row.reverse() : row));
  }
  return spots;
};

const asText = (spots: readonly Spot[]): string =>
  [
    'easting,northing,height',
    ...spots.map((spot) => spot.map((v) => v.toFixed(4)).join(',')),
    '',
  ].join('\n');

/** A cloud as text (Stanford's PLY). */
const asCloud = (spots: readonly Spot[]): string =>
  [
    'ply',
    'format ascii 1.0',
    `element vertex ${spots.length}`,
    ...['x', 'y', 'z'].map((name) => `property double ${name}`),
    'end_header',
    ...spots.map((spot) => spot.map((v) => v.toFixed(4)).join(' ')),
    '',
  ].join('\n');

/** Waves of 1 m, 3 mm from trough to crest, under 3 mm of noise. */
const waves = (file: string, random: Random): string => {
  const ground = groundOver(file);
  return asText(
    walked(ground, random).map(([e, n]) => {
      const phase = 2 * Math.PI * (0.8 * (e - ground.box.minX) + 0.6 * (n - ground.box.minY));
      return [e, n, ground.height(e, n) + 0.0015 * Math.cos(phase) + 0.003 * random.normal()];
    }),
  );
};

/** A drift of 15 mm over forty points of the walk, under 5 mm of noise. */
const drifting = (file: string, random: Random): string => {
  const ground = groundOver(file);
  const keep = Math.exp(-1 / 40);
  let drift = 0.015 * random.normal();
  return asText(
    walked(ground, random).map(([e, n]) => {
      drift = keep * drift + 0.015 * Math.sqrt(1 - keep * keep) * random.normal();
      return [e, n, ground.height(e, n) + drift + 0.005 * random.normal()];
    }),
  );
};

/** Points from the air, four a square metre with 3 cm of noise, the eastern swath 3 cm higher. */
const swaths = (file: string, random: Random): string => {
  const ground = groundOver(file);
  const { minX, maxX, minY, maxY } = ground.box;
  const edge = minX + 0.45 * (maxX - minX);
  const count = Math.round(4 * (maxX - minX) * (maxY - minY));
  return asCloud(
    Array.from({ length: count }, (): Spot => {
      const [e, n] = [random.between(minX, maxX), random.between(minY, maxY)];
      return [e, n, ground.height(e, n) + (e > edge ? 0.03 : 0) + 0.03 * random.normal()];
    }),
  );
};

/** A course of three greens: one in waves, one whose survey drifts, one under two swaths. Seeds from 173990 on. */
export const doubtedCourse = (): SmallCourse => {
  const course = smallCourse([Number(WAVE), Number(DRIFT), Number(SWATHS)]);
  const at = (name: string): string => join(course.folder, 'surveys', name);
  writeFileSync(at('green-12.csv'), waves(at('green-12.csv'), seeded(173_990)));
  writeFileSync(at('green-01.csv'), drifting(at('green-01.csv'), seeded(173_991)));
  writeFileSync(at('green-03.ply'), swaths(at('green-03.csv'), seeded(173_992)));
  course.write(course.read().replace('surveys/green-03.csv', 'surveys/green-03.ply'));
  return course;
};
