import { spawn } from 'node:child_process';
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join, relative } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { writeTinyCourse } from '../cli/tiny-course.js';
import { writeTinyLayout } from '../cli/tiny-layout.js';
import { type BuiltProgram, buildProgram } from './built-program.js';

/** Kills of each of the two commands: 200 in all. */
const KILLS = 100;
/** A run is let to its end after so many kills. */
const SPELL = 20;
/** The cache is thrown away before every third run, so that kills meet its writing, too. */
const COLD_EVERY = 3;
/** Short runs end sooner when the engine does not optimise. */
const ENGINE = ['--no-opt'];
const SPEEDS = ['10', '11.5'] as const;

/** Mulberry32: the moments are random, and the same in every run of the test. */
const randomFrom = (seed: number): (() => number) => {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
};

const filesUnder = (folder: string): string[] =>
  existsSync(folder)
    ? readdirSync(folder, { recursive: true, withFileTypes: true })
        .filter((entry) => entry.isFile())
        .map((entry) => relative(folder, join(entry.parentPath, entry.name)))
        .sort()
    : [];

describe('a killed run', () => {
  let program: BuiltProgram;
  let root: string;
  let layout: string;

  beforeAll(() => {
    program = buildProgram();
    root = mkdtempSync(join(tmpdir(), 'runnel-kill-'));
    layout = writeTinyLayout(root);
  });
  afterAll(() => {
    program?.remove();
    if (root !== undefined) rmSync(root, { recursive: true, force: true });
  });

  interface Outcome {
    readonly code: number | null;
    readonly signal: string | null;
    readonly stderr: string;
    readonly milliseconds: number;
  }

  /** Runs the program; kills it after `moment` milliseconds unless it has ended by then. */
  const runProgram = (args: readonly string[], moment: number | null): Promise<Outcome> =>
    new Promise((resolve, reject) => {
      const start = performance.now();
      const child = spawn(process.execPath, [...ENGINE, program.main, ...args], {
        stdio: ['ignore', 'ignore', 'pipe'],
      });
      let stderr = '';
      child.stderr.on('data', (chunk) => {
        stderr += String(chunk);
      });
      const timer = moment === null ? null : setTimeout(() => child.kill('SIGKILL'), moment);
      child.once('error', reject);
      child.once('close', (code, signal) => {
        if (timer !== null) clearTimeout(timer);
        resolve({ code, signal, stderr, milliseconds: performance.now() - start });
      });
    });

  /**
   * Kills one command over and over, by turns at two green speeds, and looks after each kill whether
   * every product is whole: byte for byte that of one speed or of the other.
   */
  const besiege = async (
    name: string,
    argsOf: (folder: string) => readonly string[],
    seed: number,
  ): Promise<number> => {
    const folders = SPEEDS.map((speed) => {
      const folder = join(root, `${name}-${speed}`, 'links');
      writeTinyCourse(folder, speed);
      return folder;
    });
    const run = (turn: number, out: string, moment: number | null): Promise<Outcome> =>
      runProgram([...argsOf(folders[turn]), '--layout', layout, '--out', out], moment);
    const complete = async (turn: number, out: string): Promise<number> => {
      const { code, stderr, milliseconds } = await run(turn, out, null);
      expect(code, stderr).toBe(0);
      return milliseconds;
    };
    const whole: Map<string, Buffer>[] = [];
    let usual = 0;
    for (const turn of [0, 1]) {
      const out = join(root, `${name}-whole-${turn}`);
      usual = await complete(turn, out);
      whole.push(
        new Map(filesUnder(out).map((file) => [file, readFileSync(join(out, file))] as const)),
      );
    }
    const expected = [...whole[0].keys()];
    expect([...whole[1].keys()]).toEqual(expected);
    const products = expected.filter((file) => !file.startsWith('.cache'));
    expect(products.some((file) => !whole[0].get(file)!.equals(whole[1].get(file)!))).toBe(true);

    const out = join(root, `${name}-out`);
    const theirs = join('links', 'a note of the user.txt');
    mkdirSync(join(out, 'links'), { recursive: true });
    writeFileSync(join(out, theirs), 'mine');
    await complete(0, out);
    const random = randomFrom(seed);
    let killed = 0;
    for (let i = 0; killed < KILLS; i++) {
      expect(i, 'runs end before they are killed').toBeLessThan(2 * KILLS);
      const turn = i % 2;
      if (i % COLD_EVERY === 0) rmSync(join(out, '.cache'), { recursive: true, force: true });
      const { signal, code, stderr, milliseconds } = await run(turn, out, random() * usual);
      if (signal === 'SIGKILL') killed++;
      else {
        expect(code, stderr).toBe(0);
        usual = milliseconds;
      }
      for (const file of filesUnder(out)) {
        if (file === theirs || file.endsWith('.runnel-part')) continue;
        expect(expected).toContain(file);
      }
      for (const file of products) {
        const now = readFileSync(join(out, file));
        const isWhole = whole.some((version) => now.equals(version.get(file)!));
        expect(isWhole, `${file} after kill ${killed}`).toBe(true);
      }
      if (killed % SPELL === 0 && signal === 'SIGKILL') {
        usual = await complete(turn, out);
        expect(filesUnder(out)).toEqual([...expected, theirs].sort());
        for (const file of products) {
          expect(readFileSync(join(out, file)).equals(whole[turn].get(file)!), file).toBe(true);
        }
      }
    }
    expect(readFileSync(join(out, theirs), 'utf8')).toBe('mine');
    return killed;
  };

  it('leaves the old products whole, and the next run succeeds and leaves no stray file', async () => {
    const killed = await Promise.all([
      besiege('book', (folder) => ['book', folder], 1),
      besiege('day', (folder) => ['day', folder, '--day', '2'], 2),
    ]);
    expect(killed).toEqual([KILLS, KILLS]);
  }, 1_200_000);
});
