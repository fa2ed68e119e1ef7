import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { insideRing, type Point } from '../../src/geometry.js';
import { H, JET_SIZE, type Surface } from '../../src/surface/surface.js';
import { READ_DEFAULTS, readGreen } from '../../src/terrain/read-green.js';
import { pour } from '../../src/terrain/water/pour.js';
import { waterGround } from '../../src/terrain/water/water-ground.js';
import { randomGreen } from './random-green.js';

/** Greens on which r.drain of GRASS is asked too. */
export const SEEDS = [59100, 59101, 59102, 59103, 59104, 59105] as const;
/** The grid of heights is laid in these directions: r.drain goes to one of eight neighbours, which turns with it. */
export const TURNS = [0, 0.3, 0.6] as const;
export const CELL = 0.25;

/** Where r.drain ended, for each pour of each green by each turn of its grid; the frame of the green, metres. */
export interface DrainReference {
  readonly made: string;
  readonly ends: Readonly<Record<string, readonly (readonly Point[])[]>>;
}

export const recordedPath = fileURLToPath(new URL('./recorded/pour-grass.json', import.meta.url));
export const recorded = (): DrainReference => JSON.parse(readFileSync(recordedPath, 'utf8'));

/** Nine places round the middle of a green. */
export const placesOf = ({ outline }: Surface): Point[] => {
  const [x, y] = [0, 1].map((c) => outline.reduce((sum, p) => sum + p[c], 0) / outline.length);
  return [-4, 0, 4].flatMap((dx) => [-4, 0, 4].map((dy): Point => [x + dx, y + dy]));
};

export const turned = ([x, y]: Point, angle: number): Point => [
  x * Math.cos(angle) - y * Math.sin(angle),
  x * Math.sin(angle) + y * Math.cos(angle),
];

/** Heights on a grid that is turned by an angle, from its north row down; null off the green. */
export const heightsOf = (surface: Surface, angle: number) => {
  const corners = surface.outline.map((p) => turned(p, -angle));
  const [west, south] = [0, 1].map((c) => Math.floor(Math.min(...corners.map((p) => p[c])) - 1));
  const [east, north] = [0, 1].map((c) => Math.ceil(Math.max(...corners.map((p) => p[c])) + 1));
  const jet = new Float64Array(JET_SIZE);
  const rows: (number | null)[][] = [];
  for (let y = north - CELL / 2; y > south; y -= CELL) {
    const row: (number | null)[] = [];
    for (let x = west + CELL / 2; x < east; x += CELL) {
      const [gx, gy] = turned([x, y], angle);
      surface.at(gx, gy, jet);
      row.push(insideRing(surface.outline, gx, gy) ? jet[H] : null);
    }
    rows.push(row);
  }
  return { west, south, east, north, rows };
};

/** Where our own poured water leaves. */
export const ownEnds = (seed: number) => {
  const surface = randomGreen(seed);
  const ground = waterGround(surface, readGreen(surface), READ_DEFAULTS);
  return pour(ground, placesOf(surface)).streams;
};

export const greenOf = (seed: number): Surface => randomGreen(seed);
