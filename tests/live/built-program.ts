import { spawnSync } from 'node:child_process';
import { cpSync, existsSync, mkdtempSync, rmSync, symlinkSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';

export interface BuiltProgram {
  /** To be run by node. */
  readonly main: string;
  remove(): void;
}

/** The program compiled afresh, in a folder of its own. */
export const buildProgram = (): BuiltProgram => {
  const root = mkdtempSync(join(tmpdir(), 'runnel-built-'));
  symlinkSync(resolve('node_modules'), join(root, 'node_modules'));
  cpSync('layouts', join(root, 'layouts'), { recursive: true });
  cpSync('package.json', join(root, 'package.json'));
  const compiler = join('node_modules', '.bin', 'tsc');
  const main = join(root, '.build', 'bundled', 'main.js');
  const finish = join(root, '.build', 'cli', 'finish-build.js');
  const { stdout } = spawnSync(
    compiler,
    ['--project', 'tsconfig.json', '--outDir', join(root, '.build')],
    { encoding: 'utf8' },
  );
  // Types are the business of `npm run check`; here it counts that there is a program.
  if (!existsSync(finish)) throw new Error(`the compiler made no program: ${stdout}`);
  const { stderr } = spawnSync(process.execPath, [finish], { encoding: 'utf8' });
  if (!existsSync(main)) throw new Error(`the program was not bundled: ${stderr}`);
  return {
    main,
    remove: () => rmSync(root, { recursive: true, force: true }),
  };
};
