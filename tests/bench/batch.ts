import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { buildProgram } from '../live/built-program.js';
import { writeGrowingCourse } from './growing-course.js';
import { type Cost, costOf } from './process-cost.js';

/**
 * Many books in one run: courses of 18 holes, each hole with a survey of its own, made cold in one run, beside one of them
 * made alone in the same bench. Time and work at most as many times one's as there are courses; memory must not grow by
 * their number. `--every 6`: each sixth hole alone has a survey; `--courses 2,30`: as many courses. Seeds 178400 on.
 */

const [HOLES, POINTS, SEED] = [18, 60, 178_400];

/** A whole number, or several, behind an option of the command line. */
const numbersOf = (option: string, otherwise: readonly number[]): readonly number[] => {
  const at = process.argv.indexOf(option);
  return at < 0 ? otherwise : process.argv[at + 1].split(',').map(Number);
};

/** Only when it is named, since it takes minutes. */
export const run = async (): Promise<void> => {
  if (!process.argv.includes('batch')) {
    process.stdout.write('takes minutes: npm run bench batch\n');
    return;
  }
  const counts = numbersOf('--courses', [2, 10, 30]);
  const [every] = numbersOf('--every', [1]);
  const program = buildProgram();
  const folder = mkdtempSync(join(tmpdir(), 'runnel-batch-'));
  const courseOf = (i: number): string => join(folder, `links-${i}`);
  const most = Math.max(...counts);
  for (let i = 0; i < most; i++) writeGrowingCourse(courseOf(i), HOLES, POINTS, SEED + i, every);
  const cold = (courses: number): Cost => {
    const out = join(folder, 'out');
    const named = Array.from({ length: courses }, (_, i) => courseOf(i));
    const cost = costOf(folder, [program.main, 'book', ...named, '--out', out]);
    rmSync(out, { recursive: true, force: true });
    return cost;
  };
  const row = (what: string, { time, work, megabytes }: Cost, one: Cost): void => {
    const cells = [time, work].map((seconds) => `${seconds.toFixed(1)} s`.padStart(10)).join('');
    const times = [time / one.time, work / one.work].map((x) => x.toFixed(1).padStart(8)).join('');
    process.stdout.write(
      `${what.padEnd(14)}${cells}${times}${megabytes.toFixed(0).padStart(8)} MB\n`,
    );
  };
  try {
    const one = cold(1);
    process.stdout.write(`${''.padEnd(14)}      time      work   times one's\n`);
    row('1 course', one, one);
    for (const courses of counts) row(`${courses} courses`, cold(courses), one);
  } finally {
    rmSync(folder, { recursive: true, force: true });
    program.remove();
  }
};
