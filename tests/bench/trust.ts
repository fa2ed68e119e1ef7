import { type Held, heldBy, RANK } from '../accuracy/held.js';
import { instruments } from '../accuracy/instruments.js';
import { roughGreen } from '../accuracy/rough-greens.js';

/** Judged on these; to tune, take seeds from 2001 on. */
const SEED = 5001;
const GREENS = Array.from({ length: 10 }, (_, k) => k);

const share = (all: readonly Held[], of: (one: Held) => number): string => {
  const values = all.map(of);
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  return `${mean.toFixed(3)} (${Math.min(...values).toFixed(2)})`;
};

export const run = async (): Promise<void> => {
  const rows = [...instruments].map(([name, make]) => {
    const all = GREENS.map((k) => {
      const green = roughGreen(SEED, k);
      return heldBy(green, make(green, 100 * SEED + k));
    });
    const ranks = (of: (one: Held) => number) => all.map(of).join('');
    return {
      survey: name,
      height: share(all, (one) => one.height),
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
  console.log(
    'Ten rough greens: shares where the truth lies in the 95 % interval, mean (least green); worth by the' +
      ' truth and by the verdict, green by green: 2 tables, 1 arrows, 0 outline.',
  );
  console.table(rows);
};
