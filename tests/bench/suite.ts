import { spawnSync } from 'node:child_process';

/** Seconds that a run of the tests takes as a whole process. */
const seconds = (args: readonly string[], depth: string): number => {
  const start = process.hrtime.bigint();
  const { status } = spawnSync('npx', ['vitest', 'run', '--reporter=dot', ...args], {
    stdio: 'ignore',
    env: { ...process.env, RUNNEL_TEST_DEPTH: depth },
  });
  if (status !== 0) throw new Error(`vitest ${args.join(' ')} ended with ${status}`);
  return Number(process.hrtime.bigint() - start) / 1e9;
};

/**
 * What the quick tests save: the same files at full depth, each in a process of its own (as `npm test` once
 * ran them), then as `npm test` runs them now. Only when it is named, since it takes minutes.
 */
export const run = async (): Promise<void> => {
  if (!process.argv.includes('suite')) {
    process.stdout.write('takes minutes: npm run bench suite\n');
    return;
  }
  const config = ['--config', 'tests/vitest.config.ts'];
  const before = seconds(
    [...config, '--isolate', '--testTimeout=600000', '--hookTimeout=600000'],
    'full',
  );
  const after = seconds(config, 'quick');
  process.stdout.write(
    `isolated, full depth  ${before.toFixed(0)} s\nnpm test              ${after.toFixed(0)} s, ${(after / before).toFixed(2)} of it\n`,
  );
};
