import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { buildProgram } from '../live/built-program.js';
import { type Cost, costOf } from './process-cost.js';

/**
 * What users run, as whole processes of the compiled program on a copy of the demo course, each beside a bare
 * start of node: the time, the work of all threads, and the most memory that the process held. A bare node is
 * measured before and after each command, since a busy machine changes under way.
 */

const DEMO = 'course-data/vellamoor';

const BARE_ROUNDS = 5;

const median = (values: readonly number[]): number =>
  values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)];

export const run = async (): Promise<void> => {
  const program = buildProgram();
  const folder = mkdtempSync(join(tmpdir(), 'runnel-commands-'));
  const [course, out] = [join(folder, 'links'), join(folder, 'out')];
  const file = join(course, 'course.yaml');
  cpSync(DEMO, course, { recursive: true });
  const bare = (): Cost[] => Array.from({ length: BARE_ROUNDS }, () => costOf(folder, ['-e', '0']));
  const row = (what: string, args: readonly string[], limit: string): void => {
    const before = bare();
    const cost = costOf(folder, [program.main, ...args, '--out', out]);
    const nothing = [...before, ...bare()];
    const times = cost.time / median(nothing.map(({ time }) => time));
    const work = cost.work / median(nothing.map((one) => one.work));
    const cells = [
      times.toFixed(1),
      work.toFixed(1),
      cost.work.toFixed(2),
      cost.megabytes.toFixed(0),
    ];
    process.stdout.write(
      `${what.padEnd(34)}${cells.map((c) => c.padStart(9)).join('')}  ${limit}\n`,
    );
  };
  const change = (from: string, to: string): void => {
    const yaml = readFileSync(file, 'utf8');
    if (!yaml.includes(from)) throw new Error(`the demo's course file no longer says "${from}"`);
    writeFileSync(file, yaml.replace(from, to));
  };
  try {
    process.stdout.write(
      `${''.padEnd(34)}${['time', 'work', 'work s', 'MB'].map((c) => c.padStart(9)).join('')}  (time and work in bare nodes)\n`,
    );
    row('book, cold', ['book', course], 'time at most 70; 400 MB');
    row('book, warm', ['book', course], 'time at most 14');
    change('A: { on: 4, right: 9 }', 'A: { on: 5, right: 9 }');
    row('book, one location changed', ['book', course], 'time at most 20');
    change('"Ferry Bell"', '"Ferry Stone"');
    row('book, one name changed', ['book', course], '');
    const day = ['day', course, '--day', '1'];
    rmSync(out, { recursive: true, force: true });
    row('day, cold', day, 'time at most 42');
    row('day, warm, at a new speed', [...day, '--speed', '11.25'], 'time at most 14');
    const putt = ['--course', course, '--green', '1', '--stimp', '10.5ft'];
    const ends = ['--from', '387186,3607608', '--hole', '387183,3607612'];
    row('putt', ['putt', ...putt, ...ends], 'time at most 7');
  } finally {
    rmSync(folder, { recursive: true, force: true });
    program.remove();
  }
};
