import { appendFileSync, existsSync, readFileSync } from 'node:fs';
import { type Held, heldBy, RANK } from '../accuracy/held.js';
import { instruments } from '../accuracy/instruments.js';
import { roughGreen } from '../accuracy/rough-greens.js';

/** Judged on these; to tune, take others. */
const SEED = 5001;

/** One survey of one green. */
interface Row extends Held {
  readonly seed: number;
  readonly green: number;
  readonly survey: string;
}

/** What follows a word of the command line. */
const after = (word: string): string | null => {
  const at = process.argv.indexOf(word);
  return at < 0 ? null : (process.argv[at + 1] ?? null);
};

const share = (all: readonly Held[], of: (one: Held) => number): string => {
  const values = all.map(of);
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  return `${mean.toFixed(3)} (${Math.min(...values).toFixed(2)})`;
};

const readRows = (file: string | null): Row[] =>
  file === null || !existsSync(file)
    ? []
    : readFileSync(file, 'utf8')
        .split('\n')
        .filter((line) => line !== '')
        .map((line) => JSON.parse(line) as Row);

const tableOf = (rows: readonly Row[]) =>
  [...new Set(rows.map(({ survey }) => survey))].map((survey) => {
    const all = rows.filter((row) => row.survey === survey);
    const ranks = (of: (one: Held) => number) => all.map(of).join('');
    return {
      survey,
      height: share(all, (one) => one.height),
      form: share(all, (one) => one.form),
      grade: share(all, (one) => one.grade),
      direction: share(all, (one) => one.direction),
      cells: share(all, (one) => one.cells),
      missed: share(all, (one) => one.missed).slice(0, 5),
      '~': share(all, (one) => one.doubted).slice(0, 5),
      truth: ranks((one) => RANK[one.truth]),
      verdict: ranks((one) => RANK[one.verdict]),
      better: all.filter((one) => RANK[one.verdict] > RANK[one.truth]).length,
      worse: all.filter((one) => RANK[one.verdict] < RANK[one.truth]).length,
    };
  });

/**
 * `--seed 5001`, `--greens 0,1,2` and `--surveys lidar` (a pattern) choose; `--rows FILE` keeps each survey's row as it
 * comes, one a line, and does not make again what stands there: a run that was ended goes on.
 */
export const run = async (): Promise<void> => {
  const seed = Number(after('--seed') ?? SEED);
  const greens = (after('--greens') ?? '0,1,2,3,4,5,6,7,8,9').split(',').map(Number);
  const wanted = new RegExp(after('--surveys') ?? '');
  const file = after('--rows');
  const rows = readRows(file);
  for (const k of greens) {
    const green = roughGreen(seed, k);
    for (const [survey, make] of instruments) {
      if (!wanted.test(survey)) continue;
      if (rows.some((row) => row.seed === seed && row.green === k && row.survey === survey)) {
        continue;
      }
      const row = { seed, green: k, survey, ...heldBy(green, make(green, 100 * seed + k)) };
      rows.push(row);
      if (file !== null) appendFileSync(file, `${JSON.stringify(row)}\n`);
    }
  }
  console.log(
    'Rough greens: shares where the truth lies in the 95 % interval, mean (least green); worth by the' +
      ' truth and by the verdict, green by green: 2 tables, 1 arrows, 0 outline.',
  );
  console.table(tableOf(rows));
};
