import { run } from '../../src/cli/run.js';
import { findingOfRun } from './judge.js';

/** Thrown for what a whole run did wrong. */
export class RunFinding extends Error {
  constructor(readonly finding: NonNullable<ReturnType<typeof findingOfRun>>) {
    super(finding.words);
  }
}

/** Runs a command line in this process, silently; throws what is wrong with its code or words. */
export const runProgram = async (argv: readonly string[]): Promise<void> => {
  const said: Record<'stdout' | 'stderr', string[]> = { stdout: [], stderr: [] };
  const own = { stdout: process.stdout.write, stderr: process.stderr.write };
  for (const stream of ['stdout', 'stderr'] as const) {
    process[stream].write = ((chunk: unknown) => {
      said[stream].push(String(chunk));
      return true;
    }) as typeof process.stdout.write;
  }
  process.env.RUNNEL_TRACE = '1';
  let code: number;
  try {
    code = await run(argv);
  } finally {
    process.stdout.write = own.stdout;
    process.stderr.write = own.stderr;
  }
  const finding = findingOfRun(code, said.stdout.join(''), said.stderr.join(''));
  if (finding !== null) throw new RunFinding(finding);
};
