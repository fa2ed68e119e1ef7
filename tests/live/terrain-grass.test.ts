import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  drain,
  maungaWhau,
  overlap,
  type Reference,
  receiversOf,
  recorded,
  recordedPath,
  streamsByArea,
} from '../terrain/maunga-whau.js';

/** Set to write tests/terrain/recorded anew instead of comparing with it. */
const RECORD = process.env.RUNNEL_RECORD !== undefined;

const COMMANDS = [
  'r.in.ascii input=dem.txt output=dem type=DCELL',
  'g.region raster=dem',
  'r.fill.dir input=dem output=filled direction=filled_direction',
  'r.terraflow elevation=dem filled=flooded direction=d swatershed=w accumulation=a tci=t directory=.',
  'r.watershed -s elevation=dem accumulation=d8_area drainage=d8_direction',
  'r.watershed elevation=dem accumulation=shared_area drainage=shared_direction',
];
const OUT = ['filled', 'flooded', 'd8_area', 'd8_direction', 'shared_area', 'shared_direction'];

const raster = maungaWhau();
let folder: string;
let reference: Reference;
let flooded: readonly number[];

const grass = (...args: string[]): string =>
  execFileSync('grass', args, { cwd: folder, encoding: 'utf8', stdio: ['ignore', 'pipe', 'pipe'] });

const read = (name: string): number[] =>
  readFileSync(join(folder, `${name}.txt`), 'utf8')
    .trim()
    .split('\n')
    .slice(6)
    .flatMap((row) => row.trim().split(/\s+/).map(Number));

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'runnel-grass-'));
  const { columns, rows, height } = raster;
  const head = `north: ${rows * 10}\nsouth: 0\neast: ${columns * 10}\nwest: 0\nrows: ${rows}\ncols: ${columns}\n`;
  const lines = Array.from({ length: rows }, (_, j) =>
    height.slice(j * columns, (j + 1) * columns).join(' '),
  );
  writeFileSync(join(folder, 'dem.txt'), `${head}${lines.join('\n')}\n`);
  const script = [
    ...COMMANDS.map((command) => `${command} --quiet --overwrite`),
    ...OUT.map((name) => `r.out.ascii input=${name} output=${name}.txt precision=2 --quiet`),
  ];
  writeFileSync(join(folder, 'job.sh'), `set -e\n${script.join('\n')}\n`);
  grass('-c', 'XY', 'location', '-e');
  grass(join('location', 'PERMANENT'), '--exec', 'bash', 'job.sh');
  const version = execFileSync('grass', ['--version'], { encoding: 'utf8' }).split('\n')[0];
  // Negative areas only say that water may come in from outside the grid.
  const areas = (name: string): number[] => read(name).map(Math.abs);
  reference = {
    made: `${version}: ${COMMANDS.join('; ')}`,
    filled: read('filled'),
    d8: { area: areas('d8_area'), direction: read('d8_direction') },
    shared: { area: areas('shared_area'), direction: read('shared_direction') },
  };
  flooded = read('flooded');
  if (RECORD) {
    const asRows = (values: readonly number[]): string[] =>
      Array.from({ length: rows }, (_, j) =>
        values.slice(j * columns, (j + 1) * columns).join(' '),
      );
    const file = {
      made: reference.made,
      filled: asRows(reference.filled),
      d8: { area: asRows(reference.d8.area), direction: asRows(reference.d8.direction) },
      shared: {
        area: asRows(reference.shared.area),
        direction: asRows(reference.shared.direction),
      },
    };
    writeFileSync(recordedPath, `${JSON.stringify(file, null, 1)}\n`);
  }
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('GRASS on the Maunga Whau grid', () => {
  it('gives what is recorded', () => {
    const { filled, d8, shared } = recorded();
    expect({ filled, d8, shared }).toEqual({
      filled: reference.filled,
      d8: reference.d8,
      shared: reference.shared,
    });
  });

  it('fills to the same heights by r.fill.dir and by r.terraflow', () => {
    const { filled } = drain(raster, 'd8');
    expect(reference.filled.filter((height, n) => height !== filled[n])).toEqual([]);
    expect(flooded.filter((height, n) => height !== filled[n])).toEqual([]);
  });

  it.each([
    ['d8', 'd8'],
    ['d-infinity', 'shared'],
  ] as const)('%s: the ten largest streams overlap by 95 %% within two cells', (method, kind) => {
    const ours = drain(raster, method);
    const theirs = reference[kind];
    const ownTen = streamsByArea(ours.area, ours.receiver).slice(0, 10);
    const theirTen = streamsByArea(theirs.area, receiversOf(raster, theirs.direction)).slice(0, 10);
    expect(overlap(raster, ownTen, theirs.area)).toBeGreaterThanOrEqual(0.95);
    expect(overlap(raster, theirTen, ours.area)).toBeGreaterThanOrEqual(0.95);
  });
});
