import {
  mkdirSync,
  mkdtempSync,
  type openSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { createRequire, syncBuiltinESMExports } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { sweep, writeAll } from '../../src/book/write-beside.js';
import { readNamedFile } from '../../src/named-file.js';
import { withFile } from '../../src/survey/readers/byte-source.js';

/** Links that lead elsewhere in the middle of a run. */

/** Puts something right before the opening of one file, in all modules that Node gives its file system to. */
const fileSystem = createRequire(import.meta.url)('node:fs') as { openSync: typeof openSync };
const realOpen = fileSystem.openSync;
const beforeOpening = (path: string, act: () => void): void => {
  fileSystem.openSync = (...[opened, flags, mode]: Parameters<typeof openSync>) => {
    if (opened === path) act();
    return realOpen(opened, flags, mode);
  };
  syncBuiltinESMExports();
};
const openAsEver = (): void => {
  fileSystem.openSync = realOpen;
  syncBuiltinESMExports();
};

let folder: string;
const turn = (link: string, to: string): void => {
  rmSync(link, { force: true });
  symlinkSync(to, link);
};
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'runnel-links-'));
  for (const name of ['one', 'other']) mkdirSync(join(folder, name));
});
afterEach(() => {
  openAsEver();
  rmSync(folder, { recursive: true });
});

describe('a link that is turned elsewhere', () => {
  for (const [named, inner] of [
    ['out', ''],
    ['out/deep', 'deep'],
  ]) {
    it(`while products are written takes none of them along: ${named}`, () => {
      const link = join(folder, 'out');
      turn(link, 'one');
      const told: string[] = [];
      const products = ['a.pdf', 'svg/b.svg', 'c.txt'].map((file) => ({
        file,
        get bytes() {
          if (file === 'svg/b.svg') turn(link, 'other');
          return Buffer.from(file);
        },
      }));
      writeAll(join(folder, named), products, () => {
        told.push(...(readdirSync(join(folder, 'one'), { recursive: true }) as string[]));
        return { ledger: { file: '.runnel-made', bytes: Buffer.from('{}') }, stale: [] };
      });
      expect(told.filter((name) => name.endsWith('.runnel-part'))).toHaveLength(3);
      const first = join(folder, 'one', inner);
      const names = ['.runnel-made', 'a.pdf', 'c.txt', 'svg'];
      expect(readdirSync(first).sort()).toEqual(names);
      expect(readdirSync(join(first, 'svg'))).toEqual(['b.svg']);
      expect(readFileSync(join(first, 'c.txt'), 'utf8')).toBe('c.txt');
      expect(readdirSync(join(folder, 'other'))).toEqual([]);
    });
  }

  it('is no way out of the folder for what a killed run left', () => {
    const out = join(folder, 'one');
    turn(join(out, 'svg'), join(folder, 'other'));
    writeAll(out, [
      { file: 'a.pdf', bytes: Buffer.from('a') },
      { file: 'svg/b.svg', bytes: Buffer.from('b') },
    ]);
    sweep(out);
    expect(readdirSync(join(folder, 'other'))).toEqual(['b.svg']);
    expect(readdirSync(out).sort()).toEqual(['a.pdf', 'svg']);
  });

  it('between the look at a file and its opening is told, and nothing of the other file is read', async () => {
    writeFileSync(join(folder, 'one', 'x'), 'of the user');
    writeFileSync(join(folder, 'other', 'x'), 'secret');
    const link = join(folder, 'out');
    const path = join(link, 'x');
    const read = (): unknown => readNamedFile(path, 'name a file');
    turn(link, 'one');
    expect(String(read())).toBe('of the user');
    beforeOpening(path, () => turn(link, 'other'));
    expect(read).toThrow(/another file took its place while it was opened/);
    turn(link, 'one');
    await expect(withFile(path, path, async ({ size }) => size)).rejects.toThrow(/took its place/);
    beforeOpening(path, () => turn(path, '/dev/null'));
    rmSync(link);
    mkdirSync(link);
    writeFileSync(path, 'again of the user');
    expect(read).toThrow(/took its place/);
  });
});
