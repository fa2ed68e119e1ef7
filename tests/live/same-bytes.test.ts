import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { cpSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { availableParallelism, tmpdir } from 'node:os';
import { join, relative, resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { writeTinyCourse } from '../cli/tiny-course.js';
import { writeTinyLayout } from '../cli/tiny-layout.js';
import { type BuiltProgram, buildProgram } from './built-program.js';

/** Locales that are installed here, of any language. */
const locales = (): readonly string[] =>
  spawnSync('locale', ['-a'], { encoding: 'utf8' }).stdout?.trim().split('\n') ?? [];

/** A clock that is off by twenty years, loaded before the program. */
const OTHER_CLOCK = `data:text/javascript,${encodeURIComponent(`
  const Real = Date; const off = 20 * 365.25 * 86400e3;
  globalThis.Date = class extends Real {
    constructor(...of) { if (of.length === 0) super(Real.now() + off); else super(...of); }
    static now() { return Real.now() + off; }
  };`)}`;

interface How {
  readonly env?: Readonly<Record<string, string>>;
  readonly node?: readonly string[];
  /** A command that runs another under some rule. */
  readonly under?: readonly string[];
  readonly cwd?: string;
  readonly course?: string;
  readonly out?: string;
}

describe('the same course gives the same bytes', () => {
  let program: BuiltProgram;
  let root = '';
  let first = '';
  let runs = 0;
  const made = (how: How): string => {
    const out = resolve(root, how.out ?? `out-${runs++}`);
    const argv = [
      'book',
      how.course ?? join(root, 'links'),
      '--layout',
      join(root, 'tiny.yaml'),
      '--out',
      out,
    ];
    const [command, ...rest] = [
      ...(how.under ?? []),
      process.execPath,
      ...(how.node ?? []),
      program.main,
      ...argv,
    ];
    const { status, stderr } = spawnSync(command, rest, {
      cwd: how.cwd ?? root,
      env: { ...process.env, ...how.env },
      encoding: 'utf8',
    });
    expect(status, stderr).toBe(0);
    const hash = createHash('sha256');
    const folder = join(out, 'links');
    for (const name of readdirSync(folder, { recursive: true, encoding: 'utf8' }).sort()) {
      if (!/\.\w+$/.test(name)) continue;
      hash.update(name).update(readFileSync(join(folder, name)));
    }
    return hash.digest('hex');
  };

  beforeAll(() => {
    program = buildProgram();
    root = mkdtempSync(join(tmpdir(), 'same-'));
    writeTinyCourse(join(root, 'links'), '10');
    writeTinyLayout(root);
    first = made({ out: 'kept' });
  }, 120_000);
  afterAll(() => {
    program.remove();
    rmSync(root, { recursive: true, force: true });
  });

  it.each(['UTC', 'Pacific/Kiritimati', 'America/St_Johns'])('in the time zone %s', (zone) => {
    expect(made({ env: { TZ: zone } })).toBe(first);
  });
  it('in every locale that is installed, and in some that are not', () => {
    const some = [...new Set([...locales().slice(0, 6), 'tr_TR.UTF-8', 'de_DE.UTF-8', 'C'])];
    for (const one of some) {
      expect([one, made({ env: { LANG: one, LC_ALL: one } })]).toEqual([one, first]);
    }
  });
  it('at another time', () => {
    expect(made({ node: ['--import', OTHER_CLOCK] })).toBe(first);
  });
  it('from another working folder, and from another place of the course', () => {
    const away = join(root, 'a folder', 'ünder another');
    mkdirSync(away, { recursive: true });
    cpSync(join(root, 'links'), join(away, 'links'), { recursive: true });
    expect(made({ cwd: away, course: 'links' })).toBe(first);
    expect(made({ course: relative(root, join(away, 'links')) })).toBe(first);
  });
  it('on one core and on all, with little memory', () => {
    expect(made({ node: ['--max-old-space-size=256'] })).toBe(first);
    if (availableParallelism() > 1) expect(made({ under: ['taskset', '-c', '0'] })).toBe(first);
  });
  it('cold and warm', () => {
    expect(made({ out: 'kept' })).toBe(first);
    expect(made({ out: 'kept' })).toBe(first);
  });
});
