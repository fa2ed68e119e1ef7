import { execFileSync, spawn, spawnSync } from 'node:child_process';
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  openSync,
  readdirSync,
  readFileSync,
  rmdirSync,
  rmSync,
  symlinkSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, it, vi } from 'vitest';
import { requireOwnFolder } from '../../src/book/made-sets.js';
import { sweep, writeAll, writeBeside } from '../../src/book/write-beside.js';
import { endProgress, showProgress } from '../../src/cli/output.js';
import { machineFault } from '../../src/machine-fault.js';
import { runCaptured } from './run-captured.js';

const source = fileURLToPath(new URL('../../src/', import.meta.url));
const course = fileURLToPath(new URL('../../course-data/vellamoor/', import.meta.url));
const survey = join(course, 'surveys/green-09.csv');
const withSources = ['--import', import.meta.resolve('tsx')];

let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'faults-'));
});

const oneLine = (text: string): string => {
  expect(text.trim().split('\n')).toHaveLength(1);
  return text.trim();
};

describe('what the system refuses', () => {
  it.each([
    ['ENOSPC', 'the disk is full'],
    ['EACCES', 'no permission'],
    ['EROFS', 'the disk is read-only'],
    ['EISDIR', 'a folder stands where a file should be'],
    ['ENOTDIR', 'a file stands where a folder should be'],
    ['EFBIG', 'the file is too large'],
    ['ENAMETOOLONG', 'the name is too long'],
  ])('%s is told with its path, and is not our fault', (code, words) => {
    const error = Object.assign(new Error('x'), { code, path: '/a/b\u001b.pdf' });
    expect(machineFault(error)).toContain(`/a/b\ufffd.pdf: ${words}`);
  });

  it('any other error is ours', () => {
    expect(machineFault(new TypeError('x'))).toBeNull();
    expect(machineFault(Object.assign(new Error('x'), { code: 'ERR_ASSERTION' }))).toBeNull();
  });

  it('memory that is refused is the machine too', () => {
    const refused = (): unknown => {
      try {
        return new ArrayBuffer(Number.MAX_SAFE_INTEGER);
      } catch (error) {
        return error;
      }
    };
    expect(machineFault(refused())).toBe('the memory is full; close other programs');
    expect(machineFault(new RangeError('Invalid array length'))).toBeNull();
    const worker = Object.assign(new Error('x'), { code: 'ERR_WORKER_OUT_OF_MEMORY' });
    expect(machineFault(worker)).toContain('the memory is full');
  });

  it('a place that cannot be written is told before anything is made for it', () => {
    const file = join(folder, 'a file');
    writeFileSync(file, 'mine');
    symlinkSync(join(folder, 'nothing'), join(folder, 'astray'));
    const course = { title: 'Links', at: null, outlines: [] };
    expect(() => requireOwnFolder(join(folder, 'new', 'links'), course)).not.toThrow();
    expect(existsSync(join(folder, 'new'))).toBe(false);
    for (const [place, words] of [
      [file, 'a file stands where a folder should be'],
      [join(file, 'links'), 'a file stands where a folder should be'],
      [join(folder, 'astray', 'links'), 'astray: it is gone'],
    ]) {
      const refusal = (): void => requireOwnFolder(place, course);
      expect(refusal).toThrow();
      try {
        refusal();
      } catch (error) {
        expect(machineFault(error)).toContain(words);
      }
    }
  });

  it('a system that denies a folder for ever is asked once', { tags: 'long' }, (context) => {
    if (!existsSync('/proc/self')) context.skip();
    const words = `import { writeBeside } from ${JSON.stringify(join(source, 'book/write-beside.ts'))};
      try { writeBeside('/proc/runnel/links/book.pdf', 'x'); } catch ({ code, path }) { console.log(code, path); }`;
    const run = spawnSync(
      process.execPath,
      [...withSources, '--input-type=module', '--eval', words],
      {
        encoding: 'utf8',
        timeout: 60_000,
      },
    );
    expect(run.stdout).toBe('ENOENT /proc/runnel\n');
  });

  it('a folder where a file should be: exit 3, one line', { tags: 'long' }, async () => {
    const target = join(folder, 'taken.csv');
    mkdirSync(join(target, 'inside'), { recursive: true });
    const small = join(folder, 'small.csv');
    const rows = Array.from({ length: 64 }, (_, i) => {
      const [x, y] = [2 * (i % 8), 2 * Math.floor(i / 8)];
      return `${x},${y},${(0.02 * y + 0.004 * Math.sin(x * y)).toFixed(3)}`;
    });
    writeFileSync(small, `x,y,z\n${rows.join('\n')}\n`);
    const argv = ['survey', small, '--unit', 'm', '--svg', target];
    const { code, stderr } = await runCaptured(argv);
    expect(code).toBe(3);
    expect(oneLine(stderr)).toContain('taken.csv: a folder stands where a file should be; ');
    expect(() => writeBeside(target, 'x')).toThrow();
    expect(readdirSync(folder).filter((name) => name.includes('part'))).toEqual([]);
  });

  it('a file where a folder should be: exit 3, one line, nothing made', async () => {
    const file = join(folder, 'plain');
    writeFileSync(file, 'mine');
    const map = join(course, 'map.geojson');
    const { code, stderr } = await runCaptured(['new', join(file, 'links'), '--map', map]);
    expect(code).toBe(3);
    expect(oneLine(stderr)).toMatch(/plain\/links.*: a file stands where a folder should be; /);
    expect(readFileSync(file, 'utf8')).toBe('mine');
  });

  it('leaves the whole old set when one file of the new set cannot be written', () => {
    const place = join(folder, 'set');
    mkdirSync(join(place, 'c.pdf'), { recursive: true });
    writeFileSync(join(place, 'a.pdf'), 'old');
    const bytes = Buffer.from('new');
    const files = ['a.pdf', 'b.pdf', 'c.pdf'].map((file) => ({ file, bytes }));
    expect(() => writeAll(place, files)).toThrow(expect.objectContaining({ code: 'EISDIR' }));
    expect(readFileSync(join(place, 'a.pdf'), 'utf8')).toBe('old');
    expect(readdirSync(place).sort()).toEqual(['a.pdf', 'c.pdf']);
  });

  it('a file over the limit of the system: its path, the old one whole, no part', {
    tags: 'long',
  }, () => {
    const place = join(folder, 'limited');
    mkdirSync(place);
    writeFileSync(join(place, 'a.pdf'), 'old');
    const script = `
      import { writeBeside } from ${JSON.stringify(`${source}book/write-beside.ts`)};
      import { machineFault } from ${JSON.stringify(`${source}machine-fault.ts`)};
      try { writeBeside(${JSON.stringify(join(place, 'a.pdf'))}, Buffer.alloc(1 << 22)); }
      catch (error) { console.log(machineFault(error)); }`;
    const { stdout } = spawnSync(
      'bash',
      [
        '-c',
        'ulimit -f 1024; exec "$0" "$@"',
        process.execPath,
        ...withSources,
        '--input-type=module',
        '-e',
        script,
      ],
      { encoding: 'utf8' },
    );
    expect(oneLine(stdout)).toMatch(/limited\/a\.pdf: the file is too large for the system/);
    expect(readdirSync(place)).toEqual(['a.pdf']);
    expect(readFileSync(join(place, 'a.pdf'), 'utf8')).toBe('old');
  });

  it('a working folder that is gone: exit 3, one line', async () => {
    const before = process.cwd();
    const gone = join(folder, 'gone');
    mkdirSync(gone);
    process.chdir(gone);
    rmdirSync(gone);
    const { code, stderr } = await runCaptured(['layouts']).finally(() => process.chdir(before));
    expect(code).toBe(3);
    expect(oneLine(stderr)).toContain('the working folder is gone');
  });

  it('a full disk under the output: exit 3, one line', () => {
    const full = openSync('/dev/full', 'w');
    const { status, stderr } = spawnSync(
      process.execPath,
      [...withSources, `${source}cli/main.ts`, 'layouts', '--schema'],
      { stdio: ['ignore', full, 'pipe'], encoding: 'utf8' },
    );
    expect(status).toBe(3);
    expect(oneLine(stderr)).toContain('the output: the disk is full');
  });

  it('a reader that goes away ends the run quietly', { tags: 'long' }, async () => {
    const child = spawn(process.execPath, [
      ...withSources,
      `${source}cli/main.ts`,
      'layouts',
      '--schema',
    ]);
    child.stdout.destroy();
    let said = '';
    child.stderr.on('data', (piece) => {
      said += String(piece);
    });
    const code = await new Promise((resolve) => child.on('close', resolve));
    expect([code, said]).toEqual([0, '']);
  });
});

describe('a signal', () => {
  it.each(['SIGINT', 'SIGTERM', 'SIGHUP'] as const)(
    '%s ends the run with a word',
    async (signal) => {
      const script = `
      import { endBySignals } from ${JSON.stringify(`${source}cli/signals.ts`)};
      endBySignals();
      console.log('ready');
      setInterval(() => {}, 1000);`;
      const child = spawn(process.execPath, [...withSources, '--input-type=module', '-e', script]);
      let said = '';
      child.stderr.on('data', (piece) => {
        said += String(piece);
      });
      child.stdout.once('data', () => child.kill(signal));
      const ended = await new Promise((resolve) => child.on('close', (_, by) => resolve(by)));
      expect([ended, said]).toEqual([signal, `runnel: stopped by ${signal}\n`]);
    },
  );
});

describe('what is named is looked at before it is opened', () => {
  const lines = (path: string): readonly (readonly string[])[] => [
    ['check', path],
    ['new', join(folder, 'fresh'), '--map', path],
    ['book', course, '--layout', path],
    ['holes', course, '--locations', path],
    ['survey', path],
    ['survey', survey, '--outline', path],
    ['compare', path, survey],
    ['compare', survey, path],
    ['putt', '--survey', path, '--from', '0,0', '--hole', '0,3', '--stimp', '10'],
  ];

  it.each([
    ['pipe', 'this is a pipe, not a file'],
    ['folder', 'this is a folder, not a file'],
    ['device', 'this is a device, not a file'],
  ])('a %s is refused for every argument: exit 2, one line', async (kind, words) => {
    const path = kind === 'device' ? '/dev/zero' : join(folder, kind);
    if (kind === 'pipe') execFileSync('mkfifo', [path]);
    if (kind === 'folder') mkdirSync(path);
    for (const argv of lines(path)) {
      const { code, stdout, stderr } = await runCaptured(argv);
      expect([argv.join(' '), code, stdout]).toEqual([argv.join(' '), 2, '']);
      expect(oneLine(stderr)).toContain(`${path}: ${words}`);
    }
    expect(existsSync(join(folder, 'fresh'))).toBe(false);
  });

  it('a pipe in the place of a product is not replaced', () => {
    const path = join(folder, 'drawing.svg');
    execFileSync('mkfifo', [path]);
    expect(() => writeBeside(path, '<svg/>')).toThrow('this is a pipe, not a file');
    expect(readdirSync(folder).filter((name) => name.includes('part'))).toEqual([]);
  });
});

describe('progress', () => {
  it.each([
    [{ TERM: 'dumb', NO_COLOR: '' }, 'green 7 · 7 of 19\n'],
    [{ TERM: 'xterm', NO_COLOR: '1' }, 'green 7 · 7 of 19\n'],
    [{ TERM: 'xterm', NO_COLOR: '' }, '\r\x1b[2Kgreen 7 · 7 of 19'],
  ])('%j', (environment, shown) => {
    const { isTTY } = process.stderr;
    const written: string[] = [];
    for (const [key, value] of Object.entries(environment)) vi.stubEnv(key, value);
    const write = vi.spyOn(process.stderr, 'write').mockImplementation((piece) => {
      written.push(String(piece));
      return true;
    });
    process.stderr.isTTY = true;
    showProgress('green 7', 7, 19);
    process.stderr.isTTY = isTTY;
    expect(written.join('')).toBe(shown);
    endProgress();
    write.mockRestore();
    vi.unstubAllEnvs();
  });
});

describe('a set that a killed run was renaming', () => {
  /** A process that has ended: its number is of no living run. */
  const dead = spawnSync(process.execPath, ['-e', '']).pid;
  const place = (): string => mkdtempSync(join(tmpdir(), 'set-'));
  const left = (at: string, names: readonly string[], pid = dead): void => {
    writeFileSync(join(at, 'a.pdf'), 'new');
    writeFileSync(join(at, 'b.pdf'), 'old');
    writeFileSync(join(at, `b.pdf.${pid}.runnel-part`), 'new');
    writeFileSync(join(at, `.${pid}.runnel-set`), JSON.stringify(names));
  };
  /** As if written so many seconds before this process began. */
  const aged = (at: string, seconds: number): void => {
    const then = performance.timeOrigin / 1000 - seconds;
    for (const name of readdirSync(at)) utimesSync(join(at, name), then, then);
  };

  it('is completed by the next that looks, and nothing is left', () => {
    const at = place();
    left(at, ['a.pdf', 'b.pdf']);
    sweep(at);
    expect(readFileSync(join(at, 'b.pdf'), 'utf8')).toBe('new');
    expect(readdirSync(at).sort()).toEqual(['a.pdf', 'b.pdf']);
  });

  it('is completed where the run had the number that this one has, or one that another process has by now', () => {
    for (const [pid, seconds] of [
      [process.pid, 0.1],
      [process.ppid, 100],
    ]) {
      const at = place();
      left(at, ['a.pdf', 'b.pdf'], pid);
      aged(at, seconds);
      sweep(at);
      expect(readFileSync(join(at, 'b.pdf'), 'utf8')).toBe('new');
      expect(readdirSync(at).sort()).toEqual(['a.pdf', 'b.pdf']);
    }
  });

  it('is left alone while a run may still have it in hand', () => {
    for (const pid of [process.pid, process.ppid]) {
      const at = place();
      left(at, ['a.pdf', 'b.pdf'], pid);
      const before = readdirSync(at);
      sweep(at);
      expect(readdirSync(at)).toEqual(before);
    }
  });

  const TURN = '.runnel-turn';
  const pdfs = (text: string) =>
    ['a.pdf', 'b.pdf'].map((file) => ({ file, bytes: Buffer.from(text) }));

  it('waits for its turn while another run renames', {
    tags: 'long',
    timeout: 60_000,
  }, async () => {
    const at = place();
    writeAll(at, pdfs('old'));
    writeFileSync(join(at, TURN), String(process.pid));
    const script = `
      import { writeAll } from ${JSON.stringify(new URL('../../src/book/write-beside.ts', import.meta.url).href)};
      const files = ['a.pdf', 'b.pdf'].map((file) => ({ file, bytes: Buffer.from('new') }));
      writeAll(${JSON.stringify(at)}, files);`;
    const argv = ['--import', import.meta.resolve('tsx'), '--input-type=module', '-e', script];
    const run = spawn(process.execPath, argv, { stdio: 'ignore' });
    const ended = new Promise((resolve) => run.once('close', resolve));
    const texts = (): string[] =>
      ['a.pdf', 'b.pdf'].map((name) => readFileSync(join(at, name), 'utf8'));
    const parts = (): number => readdirSync(at).filter((name) => name.endsWith('-part')).length;
    while (parts() < 2 && run.exitCode === null) await new Promise((next) => setTimeout(next, 5));
    await new Promise((next) => setTimeout(next, 200));
    expect([parts(), texts()]).toEqual([2, ['old', 'old']]);
    rmSync(join(at, TURN));
    expect(await ended).toBe(0);
    expect(texts()).toEqual(['new', 'new']);
    expect(readdirSync(at).sort()).toEqual(['a.pdf', 'b.pdf']);
  });

  it('waits for no run that is gone', () => {
    for (const look of [(at: string) => writeAll(at, pdfs('new')), sweep]) {
      const at = place();
      writeFileSync(join(at, TURN), String(dead));
      look(at);
      expect(existsSync(join(at, TURN))).toBe(false);
    }
  });

  it('names nothing outside its folder', () => {
    const at = place();
    const inner = join(at, 'inner');
    mkdirSync(inner);
    left(inner, ['../c.pdf', '/tmp/c.pdf']);
    writeFileSync(join(at, `c.pdf.${dead}.runnel-part`), 'new');
    sweep(inner);
    expect(readdirSync(at).sort()).toEqual([`c.pdf.${dead}.runnel-part`, 'inner']);
    expect(readFileSync(join(inner, 'b.pdf'), 'utf8')).toBe('old');
  });

  it('is no set when its list was not yet written: the old products stay', () => {
    const at = place();
    writeFileSync(join(at, 'a.pdf'), 'old');
    writeFileSync(join(at, `a.pdf.${dead}.runnel-part`), 'new');
    sweep(at);
    expect(readdirSync(at)).toEqual(['a.pdf']);
    expect(readFileSync(join(at, 'a.pdf'), 'utf8')).toBe('old');
  });
});
