import { vi } from 'vitest';
import { run } from '../../src/cli/run.js';

export interface Captured {
  readonly code: number;
  readonly stdout: string;
  readonly stderr: string;
}

/** Runs a command line in this process and keeps what it says. */
export const runCaptured = async (argv: readonly string[]): Promise<Captured> => {
  const stdout: string[] = [];
  const stderr: string[] = [];
  const out = vi.spyOn(process.stdout, 'write').mockImplementation((chunk) => {
    stdout.push(String(chunk));
    return true;
  });
  const err = vi.spyOn(process.stderr, 'write').mockImplementation((chunk) => {
    stderr.push(String(chunk));
    return true;
  });
  try {
    const code = await run(argv);
    return { code, stdout: stdout.join(''), stderr: stderr.join('') };
  } finally {
    out.mockRestore();
    err.mockRestore();
  }
};
