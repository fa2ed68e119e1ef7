import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';

/** What a whole process of node took. */
export interface Cost {
  /** Seconds, and seconds of processor of all its threads. */
  readonly time: number;
  readonly work: number;
  /** The most memory that it held. */
  readonly megabytes: number;
}

/** A child tells at its end what it has used. */
const TELL = `import { writeFileSync } from 'node:fs';
process.on('exit', () => {
  const { userCPUTime, systemCPUTime, maxRSS } = process.resourceUsage();
  writeFileSync(process.env.BENCH_TOLD, JSON.stringify([(userCPUTime + systemCPUTime) / 1e6, maxRSS / 1024]));
});`;

/** Runs node with some arguments; `folder` takes what the process tells. */
export const costOf = (folder: string, args: readonly string[]): Cost => {
  const told = join(folder, 'told.json');
  const start = performance.now();
  const { status, stderr } = spawnSync(
    process.execPath,
    ['--import', `data:text/javascript,${encodeURIComponent(TELL)}`, ...args],
    { encoding: 'utf8', env: { ...process.env, BENCH_TOLD: told } },
  );
  const time = (performance.now() - start) / 1000;
  if (status !== 0) throw new Error(`${args.join(' ')}: ${stderr}`);
  const [work, megabytes] = JSON.parse(readFileSync(told, 'utf8')) as [number, number];
  return { time, work, megabytes };
};
