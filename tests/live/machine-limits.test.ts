import { type ChildProcess, type SpawnSyncReturns, spawn, spawnSync } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type SmallCourse, smallCourse } from '../cli/small-course.js';
import { writeTinyCourse } from '../cli/tiny-course.js';
import { writeTinyLayout } from '../cli/tiny-layout.js';
import { type BuiltProgram, buildProgram } from './built-program.js';
import { addressesOf, askAll, askFor } from './crowd.js';

/** What a run in a shell of its own gave, and what it left. */
interface Ended {
  readonly status: number | null;
  readonly said: readonly string[];
  /** Digests of the products that stand there after it, by name. */
  readonly products: Readonly<Record<string, string>>;
  readonly parts: readonly string[];
}

/** Lists the parts that a run has left in a folder. */
const PARTS = 'list() { find "$1" -name \'*.runnel-part\'; }; list';

/** Names and digests of what `sha256sum` told: a folder is gone with the shell that mounted it. */
const productsOf = (told: string): Record<string, string> =>
  Object.fromEntries(
    told.split('\n').flatMap((line) => {
      const found = /^([0-9a-f]{64}) {2}.*\/([^/]+)$/.exec(line);
      return found === null ? [] : [[found[2], found[1]]];
    }),
  );

const partsOf = (told: string): string[] =>
  told.split('\n').filter((line) => line.endsWith('.runnel-part'));

const canMount = spawnSync('unshare', ['--mount', 'true']).status === 0;

let program: BuiltProgram;

beforeAll(() => {
  program = buildProgram();
});
afterAll(() => program.remove());

describe('limits of the machine, met by the built program', () => {
  let root = '';
  let old: Readonly<Record<string, string>> = {};
  const inShell = (script: string, ...names: string[]): SpawnSyncReturns<string> =>
    spawnSync('bash', ['-c', script, process.execPath, program.main, ...names], {
      cwd: root,
      encoding: 'utf8',
    });
  const book = (speed: string, out: string): string =>
    `"$0" "$1" book ${speed}/links --layout tiny.yaml --out ${out}`;

  beforeAll(() => {
    root = mkdtempSync(join(tmpdir(), 'limits-'));
    for (const speed of ['10', '11']) {
      mkdirSync(join(root, speed));
      writeTinyCourse(join(root, speed, 'links'), speed);
    }
    writeTinyLayout(root);
    expect(inShell(book('10', 'old')).status).toBe(0);
    old = productsOf(inShell('sha256sum old/links/*').stdout);
  });
  afterAll(() => rmSync(root, { recursive: true, force: true }));

  it.each([19, 22, 23, 40])('%i open files: one line, exit 3', (files) => {
    const { status, stdout, stderr } = inShell(`ulimit -n ${files}; ${book('10', 'few')}`);
    expect([status, stdout]).toEqual([3, '']);
    expect(stderr).toMatch(/^runnel: .*too many files are open; raise the limit of open files\n$/);
  });

  it('files of so many bytes only: the file by its path, the old products whole, no part left', () => {
    cpSync(join(root, 'old'), join(root, 'cut'), { recursive: true });
    // Blocks of 1,024 bytes: under the packed contents and the kept book.
    for (const blocks of [4, 60]) {
      const { status, stderr } = inShell(`ulimit -f ${blocks}; ${book('11', 'cut')}`);
      expect([blocks, status], stderr).toEqual([blocks, 3]);
      expect(stderr).toMatch(/^runnel: cut\/\S+: the file is too large for the system; [^\n]*\n$/);
      const left = inShell(`sha256sum cut/links/*; ${PARTS} cut`).stdout;
      expect(productsOf(left)).toEqual(old);
      expect(partsOf(left)).toEqual([]);
    }
  });

  /** A book of another speed onto a disk that holds the old one and has so much room, mounted for this shell alone. */
  const onFullDisk = (kilobytes: number): Ended => {
    const script = `
      mkdir -p disk; mount -t tmpfs -o size=16m none disk && cp -r old/. disk || exit 99
      used=$(df -k disk | tail -1 | awk '{ print $3 }')
      mount -o remount,size=$((used + ${kilobytes}))k disk || exit 98
      ${book('11', 'disk')}; code=$?
      sha256sum disk/links/*; ${PARTS} disk; exit $code`;
    const argv = ['--mount', 'bash', '-c', script, process.execPath, program.main];
    const { status, stdout, stderr } = spawnSync('unshare', argv, { cwd: root, encoding: 'utf8' });
    return {
      ...{ status, said: stderr.trim().split('\n') },
      ...{ products: productsOf(stdout), parts: partsOf(stdout) },
    };
  };

  it('a full disk, wherever it fills: its path, the old products whole, no part left', (context) => {
    if (!canMount) context.skip();
    const whole = onFullDisk(4096);
    expect(whole.status, whole.said.join('\n')).toBe(0);
    expect(Object.keys(whole.products)).toEqual(Object.keys(old));
    expect(whole.products['tiny.pdf']).not.toBe(old['tiny.pdf']);
    // Under the putts, what is kept of the pages, the kept book and the products.
    const ends = [8, 48, 150, 220].map(onFullDisk);
    for (const { status, said, products, parts } of ends) {
      expect([status, said.length], said.join('\n')).toEqual([3, 1]);
      expect(said[0]).toMatch(
        /^runnel: disk\/\S+: the disk is full; make room, then run it again$/,
      );
      expect([products, parts]).toEqual([old, []]);
    }
    // Not all at the same file.
    const kinds = ends.map(({ said: [line] }) => /\.\w+:/.exec(line)?.[0]);
    expect(new Set(kinds).size).toBeGreaterThan(2);
  });
});

describe('many that ask the proof at once', () => {
  let course: SmallCourse;
  let server: ChildProcess;
  let url = '';
  let said = '';

  beforeAll(async () => {
    course = smallCourse([2, 12]);
    const argv = [program.main, 'proof', course.folder, '--out', course.out, '--port', '0'];
    server = spawn(process.execPath, argv, { stdio: ['ignore', 'ignore', 'pipe'] });
    url = await new Promise<string>((resolve, reject) => {
      server.stderr?.on('data', (chunk) => {
        said += String(chunk);
        const found = /^(http:\S+) /m.exec(said);
        if (found !== null) resolve(found[1]);
      });
      server.once('close', (code) => reject(new Error(`proof ended with ${code}: ${said}`)));
    });
  });
  afterAll(() => {
    server.kill('SIGTERM');
    course.remove();
  });

  it('are each told what they asked or that it is busy, and the next one is answered', async () => {
    const told = await askAll(url, addressesOf(['2', '12'], 100, 198200));
    expect(new Set(told.map(({ path }) => path.split('?')[0])).size).toBeGreaterThan(7);
    // Nothing else, and nobody is left without an answer.
    expect(told.filter(({ status }) => status !== 200 && status !== 503)).toEqual([]);
    const answered = told.filter(({ status }) => status === 200);
    // What costs nothing is always given; of the rest each thread has begun something.
    const given = told.filter(({ path }) => path === '/proof.css');
    expect(given.length).toBeGreaterThan(2);
    for (const { path, status } of given) expect([path, status]).toEqual([path, 200]);
    expect(answered.length).toBeGreaterThan(given.length + 1);
    for (const { path, bytes } of answered) expect([path, bytes > 100]).toEqual([path, true]);
    for (const path of ['/?hole=2', '/putt?green=12&ball=0,9&hole=0,12', '/proof.css']) {
      expect(await askFor(url, path)).toMatchObject({ path, status: 200 });
    }
    expect([server.exitCode, said]).toEqual([null, expect.not.stringContaining('fault')]);
  });
});
