import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';

/** The time from the command line to its answer, whole processes of the built program, beside a bare Node. */
const MAIN = fileURLToPath(new URL('../../.build/bundled/main.js', import.meta.url));
const ROUNDS = 21;

const LINES: readonly (readonly string[])[] = [
  ['--help'],
  ['--json', 'speed', '--up', '7ft', '--down', '14ft'],
  ['putt', '--help'],
  ['book', '--help'],
  ['layouts'],
];

const once = (argv: readonly string[]): number => {
  const start = performance.now();
  const { status } = spawnSync(process.execPath, argv, { stdio: 'ignore' });
  if (status !== 0) throw new Error(`exit ${status}: ${argv.join(' ')}; is the program built?`);
  return performance.now() - start;
};

const median = (values: readonly number[]): number =>
  values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)];

export const run = async (): Promise<void> => {
  // Turn about, so that whatever else the machine does falls on all alike.
  const bare: number[] = [];
  const times: number[][] = LINES.map(() => []);
  for (let round = 0; round < ROUNDS; round++) {
    bare.push(once(['-e', '0']));
    LINES.forEach((line, i) => {
      times[i].push(once([MAIN, ...line]));
    });
  }
  process.stdout.write(`node -e 0: ${median(bare).toFixed(0)} ms, median of ${ROUNDS}\n`);
  LINES.forEach((line, i) => {
    const ratio = (median(times[i]) / median(bare)).toFixed(2);
    process.stdout.write(`${ratio.padStart(6)} times as long: runnel ${line.join(' ')}\n`);
  });
};
