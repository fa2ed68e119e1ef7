import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, relative } from 'node:path';
import { pathToFileURL } from 'node:url';
import { buildProgram } from '../live/built-program.js';

/** What is written beside a file or a set before it takes its name. */
export const PARTS = /\.runnel-(?:part|set|turn)$/;

/** All files under a folder, by their paths in it; none where there is no folder. */
export const filesUnder = (folder: string): string[] =>
  existsSync(folder)
    ? readdirSync(folder, { recursive: true, withFileTypes: true })
        .filter((entry) => entry.isFile())
        .map((entry) => relative(folder, join(entry.parentPath, entry.name)))
        .sort()
    : [];

/** The program to be killed, the address of the hook that kills it, and a folder; all go when this process ends. */
export const besiegedProgram = (): {
  readonly main: string;
  readonly hook: string;
  readonly root: string;
} => {
  // The compiled program starts in a fraction of the time that its sources take.
  const program = buildProgram();
  const root = mkdtempSync(join(tmpdir(), 'runnel-kill-'));
  process.on('exit', () => {
    rmSync(root, { recursive: true, force: true });
    program.remove();
  });
  const compiled = dirname(program.main);
  spawnSync(
    join('node_modules', '.bin', 'tsc'),
    [
      ...['--ignoreConfig', '--module', 'nodenext', '--target', 'es2023', '--types', 'node'],
      ...['--outDir', compiled, 'tests/fuzz/kill-hook.ts'],
    ],
    { encoding: 'utf8' },
  );
  const hook = pathToFileURL(join(compiled, 'kill-hook.js')).href;
  if (!existsSync(new URL(hook))) throw new Error('the compiler made no hook');
  return { main: program.main, hook, root };
};
