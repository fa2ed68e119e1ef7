import { execFileSync, spawnSync } from 'node:child_process';
import {
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  realpathSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, it } from 'vitest';
import { loadRasteriser } from '../src/print/raster.js';

const root = fileURLToPath(new URL('..', import.meta.url));
const compiler = join(root, 'node_modules/typescript/bin/tsc');
const guide = readFileSync(join(root, 'DEVELOPERS.md'), 'utf8');
const examples = guide
  .slice(guide.indexOf('## As a library'), guide.indexOf('## Packages'))
  .split('```ts\n')
  .slice(1)
  .map((block) => block.split('```')[0]);

let user = '';
const MAIN = 'node_modules/runnel/.build/bundled/main.js';

/** The package as an installation would have it, compiled afresh, without what is optional. */
beforeAll(() => {
  user = realpathSync(mkdtempSync(join(tmpdir(), 'library-')));
  const home = join(user, 'node_modules/runnel');
  mkdirSync(join(home, 'node_modules'), { recursive: true });
  execFileSync(process.execPath, [compiler, '--outDir', join(home, '.build')], { cwd: root });
  for (const part of ['package.json', 'layouts']) {
    cpSync(join(root, part), join(home, part), { recursive: true });
  }
  const packages = join(root, 'node_modules');
  for (const name of readdirSync(packages)) {
    if (name !== '@hyzyla') symlinkSync(join(packages, name), join(home, 'node_modules', name));
  }
  execFileSync(process.execPath, [join(home, '.build/cli/finish-build.js')]);
  writeFileSync(join(user, 'package.json'), '{ "type": "module" }');
});

describe('the library', { tags: 'long' }, () => {
  it('names files that are built, with declarations', () => {
    const { exports } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'));
    for (const [name, entry] of Object.entries<{ types: string; default: string }>(exports)) {
      if (name === './package.json') continue;
      const home = join(user, 'node_modules/runnel');
      expect([
        name,
        existsSync(join(home, entry.types)),
        existsSync(join(home, entry.default)),
      ]).toEqual([name, true, true]);
      expect(guide).toMatch(new RegExp(`\`(?:runnel/)?${name.slice(2)}\``));
    }
  });

  it('stands beside a program that reads a survey from standard input', { tags: 'long' }, () => {
    const rows = Array.from({ length: 400 }, (_, i) => {
      const [x, y] = [i % 20, Math.floor(i / 20)].map((v) => 0.7 * v);
      return `${x.toFixed(2)},${y.toFixed(2)},${(0.02 * y + 0.1 * Math.sin(x / 4) + 0.003 * Math.sin(37 * i)).toFixed(4)}`;
    });
    const out = execFileSync(process.execPath, [join(user, MAIN), 'survey', '-'], {
      encoding: 'utf8',
      input: `x,y,z\n${rows.join('\n')}\n`,
    });
    expect(out).toMatch(/^standard input: fit for/);
  });

  it('tells its own version, whatever stands in the folder that it is called from', () => {
    const { version } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'));
    const out = execFileSync(process.execPath, [join(user, MAIN), '--version'], {
      ...{ encoding: 'utf8', cwd: user },
    });
    expect(out).toBe(`${version}\n`);
  });

  it('carries the licence of every package that is bundled with the program', () => {
    const licences = readFileSync(join(user, MAIN, '../licences.txt'), 'utf8');
    const told = [...licences.matchAll(/^(@?[a-z][^\s]*) (\d+\.\d+\.\d+)$/gm)];
    for (const name of [
      'fontkit',
      'pdf-lib',
      'yaml',
      'yargs',
      'd3-geo',
      'proj4',
      'pako',
      'tslib',
    ]) {
      expect([name, told.some(([, one]) => one === name)]).toEqual([name, true]);
    }
    expect(licences).not.toContain('licence not told');
    // What is not told there is loaded from where it is installed.
    const folder = join(user, MAIN, '..');
    for (const file of readdirSync(folder).filter((one) => one.endsWith('.js'))) {
      const code = readFileSync(join(folder, file), 'utf8');
      for (const [, from] of code.matchAll(/\b(?:from|import)"([^".][^"]*)"/g)) {
        expect([file, from, told.some(([, one]) => one === from)]).toEqual([file, from, false]);
      }
    }
  });

  it('does what the examples of the guide say, one for each stage', { tags: 'long' }, () => {
    expect(examples).toHaveLength(7);
    writeFileSync(join(user, 'example.ts'), examples.join('\n'));
    const options = '--strict --target es2022 --module nodenext --skipLibCheck --types node';
    const roots = ['--typeRoots', join(root, 'node_modules/@types')];
    const compiled = spawnSync(
      process.execPath,
      [compiler, ...options.split(' '), ...roots, 'example.ts'],
      { cwd: user, encoding: 'utf8' },
    );
    expect(compiled.stdout).toBe('');
    const { stdout, stderr } = spawnSync(process.execPath, ['example.js'], {
      cwd: user,
      encoding: 'utf8',
    });
    expect(stderr).toBe('');
    const [noise, ground, judged, aim, made] = stdout.trim().split('\n');
    // The heights are written to a millimetre: its rounding has a standard deviation of 0.29 mm.
    expect(Number.parseFloat(noise.slice(6))).toBeLessThan(0.0006);
    expect(Number.parseInt(ground, 10)).toBeGreaterThan(3);
    expect(judged).toMatch(/^(tables|arrows|outline) \S/);
    expect(aim).toMatch(/^aim -?\d\.\d\d m to the (left|right)$/);
    expect(made).toMatch(/^[1-9]\d* pages, true, true$/);
  });
});

describe('without the optional package that draws pictures', { tags: 'long' }, () => {
  it('the program says what to install: exit 2, one line, nothing made', () => {
    writeFileSync(join(user, 'rover.csv'), 'x,y,z\n0,0,1\n5,0,1\n0,5,1.1\n5,5,1.1\n');
    const main = join(user, MAIN);
    const { status, stdout, stderr } = spawnSync(
      process.execPath,
      [main, 'survey', 'rover.csv', '--unit', 'm', '--png', 'picture.png'],
      { cwd: user, encoding: 'utf8' },
    );
    expect([status, stdout]).toEqual([2, '']);
    expect(stderr.trim().split('\n')).toHaveLength(1);
    expect(stderr).toContain(
      '--png: pictures are drawn by the package @hyzyla/pdfium, which is not',
    );
    expect(existsSync(join(user, 'picture.png'))).toBe(false);
  });

  it('any other failure to load it is not hidden', async () => {
    await expect(loadRasteriser(() => Promise.reject(new Error('broken')))).rejects.toThrow(
      'broken',
    );
  });
});
