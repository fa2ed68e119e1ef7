import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { buildProgram } from '../live/built-program.js';
import { writeGrowingCourse } from './growing-course.js';
import { type Cost, costOf } from './process-cost.js';

/**
 * Many books in one run: courses of 18 holes, each hole with a survey of its own, made cold in one run, beside one of them
 * made alone in the same bench. Time and work at most as many times one's as there are courses; memory must not grow by
 * their number. Seeds 160400 on.
 */

const COURSES = [2, 10, 30];
const [HOLES, POINTS, SEED] = [18, 60, 160_400];

/** Only when it is named, since it takes minutes. */
export const run = async (): Promise<void> => {
  if (!process.argv.includes('batch')) {
    process.stdout.write('takes minutes: npm run bench batch\n');
    return;
  }
  const program = buildProgram();
  const folder = mkdtempSync(join(tmpdir(), 'runnel-batch-'));
  const courseOf = (i: number): string => join(folder, `links-${i}`);
  const most = Math.max(...COURSES);
  for (let i = 0; i < most; i++) writeGrowingCourse(courseOf(i), HOLES, POINTS, SEED + i);
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
    for (const courses of COURSES) row(`${courses} courses`, cold(courses), one);
  } finally {
    rmSync(folder, { recursive: true, force: true });
    program.remove();
  }
};
