import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { availableParallelism, tmpdir } from 'node:os';
import { join } from 'node:path';
import { openCourseCache } from '../../src/book/course-cache.js';
import { courseSurfaces } from '../../src/book/course-surfaces.js';
import { prepareGreens } from '../../src/book/prepare-green.js';
import { loadCourse } from '../../src/course/load-course.js';
import { insideRing, type Point } from '../../src/geometry.js';
import { loadLayout } from '../../src/layout/layout-file.js';
import { answerPutt } from '../../src/proof/putt-answer.js';
import { buildProgram } from '../live/built-program.js';

/**
 * The week of an event on the demo course, as whole runs of the compiled program: the pages of a day with
 * a cold and a warm cache, the book likewise; and the clicks of the proof. Bounds: a day in 4 s warm and
 * 15 s cold on 2 cores, a click in 50 ms. The reference is a bare start of node, and for clicks the mean.
 */

const COURSE = 'course-data/vellamoor';

const secondsOf = (main: string, args: readonly string[]): number => {
  const start = performance.now();
  const { status, stderr } = spawnSync(process.execPath, [main, ...args], { encoding: 'utf8' });
  if (status !== 0) throw new Error(`${args.join(' ')}: ${stderr}`);
  return (performance.now() - start) / 1000;
};

/** A start of node that does nothing, the median of some. */
const bareNode = (): number => {
  const times = Array.from({ length: 9 }, () => {
    const start = performance.now();
    spawnSync(process.execPath, ['-e', '0']);
    return (performance.now() - start) / 1000;
  });
  return times.toSorted((a, b) => a - b)[4];
};

const row = (what: string, seconds: number, nothing: number, bound: string): void => {
  const cells = [seconds.toFixed(2).padStart(7), (seconds / nothing).toFixed(1).padStart(7)];
  process.stdout.write(`${what.padEnd(28)}${cells.join('  ')}  ${bound}\n`);
};

const runs = (main: string, out: string): void => {
  const cores = availableParallelism();
  process.stdout.write(`whole runs on ${cores} cores          s  times a bare node\n`);
  const nothing = bareNode();
  row('node -e 0', nothing, nothing, '');
  row('runnel --version', secondsOf(main, ['--version']), nothing, '');
  const day = (speed: string): string[] => {
    return ['day', COURSE, '--day', '2', '--speed', speed, '--out', out];
  };
  row('day, cold cache', secondsOf(main, day('11.5')), nothing, 'bound 15 s');
  row('day, warm cache', secondsOf(main, day('11')), nothing, 'bound 4 s');
  rmSync(join(out, '.cache'), { recursive: true, force: true });
  const book = ['book', COURSE, '--out', out];
  row('book, cold cache', secondsOf(main, book), nothing, 'bound 20 s');
  row('book, warm cache', secondsOf(main, book), nothing, '');
};

const clicks = async (out: string): Promise<void> => {
  const course = loadCourse(COURSE);
  const holes = course.holes.filter((hole) => hole.green !== null);
  const surfaces = (await courseSurfaces(course, holes, out)).map(({ surface }) => surface);
  const wanted = holes.map((hole) => ({ hole, locations: [], stimp: hole.green!.stimp }));
  const cache = openCourseCache(out, 'vellamoor');
  const greens = await prepareGreens(course, wanted, loadLayout('pocket'), cache);
  const times: number[] = [];
  greens.forEach(({ content, hole }, i) => {
    const cup = hole.green!.locations[0]?.at ?? [0, 10];
    for (let k = 0; k < 60; k++) {
      const angle = 2.4 * k;
      const reach = 1 + 0.25 * k;
      const ball: Point = [cup[0] + reach * Math.cos(angle), cup[1] + reach * Math.sin(angle)];
      if (!insideRing(content.outline, ball[0], ball[1])) continue;
      const start = performance.now();
      answerPutt(surfaces[i], content, ball, cup, 'imperial');
      times.push(performance.now() - start);
    }
  });
  times.sort((a, b) => a - b);
  const mean = times.reduce((sum, t) => sum + t, 0) / times.length;
  const at = (share: number): number => times[Math.floor(share * (times.length - 1))];
  process.stdout.write(`\n${times.length} clicks in the proof        ms  times the mean\n`);
  for (const [what, value] of [
    ['mean', mean],
    ['median', at(0.5)],
    ['99 of 100', at(0.99)],
    ['slowest', at(1)],
  ] as const) {
    row(what, value, mean, what === 'slowest' ? 'bound 50 ms' : '');
  }
};

export const run = async (): Promise<void> => {
  const program = buildProgram();
  const out = mkdtempSync(join(tmpdir(), 'runnel-bench-'));
  try {
    if (!existsSync(COURSE)) throw new Error('run the bench from the project’s folder');
    runs(program.main, out);
    await clicks(out);
  } finally {
    program.remove();
    rmSync(out, { recursive: true, force: true });
  }
};
