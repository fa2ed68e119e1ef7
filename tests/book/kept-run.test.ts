import {
  mkdirSync,
  mkdtempSync,
  renameSync,
  rmSync,
  symlinkSync,
  truncateSync,
  unlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type AskedRun, digestOfRun } from '../../src/book/kept-run.js';

describe('the digest of all that a run depends on', () => {
  let root: string;
  let asked: AskedRun;
  const at = (...path: string[]): string => join(root, ...path);
  beforeEach(() => {
    root = mkdtempSync(join(tmpdir(), 'runnel-run-'));
    mkdirSync(at('links', 'surveys'), { recursive: true });
    writeFileSync(at('links', 'course.yaml'), 'title: Links\n');
    writeFileSync(at('links', 'surveys', '1.csv'), '1,2,3\n');
    writeFileSync(at('own.yaml'), 'name: own\n');
    asked = {
      course: at('links'),
      layout: at('own.yaml'),
      out: at('out'),
      rest: [undefined, 'imperial', false],
    };
  });
  afterEach(() => rmSync(root, { recursive: true, force: true }));

  it('is the same of the same files, by the folder or by a file in it', () => {
    const first = digestOfRun(asked);
    expect(first).toMatch(/^[0-9a-f]{64}$/);
    expect(digestOfRun({ ...asked })).toBe(first);
    expect(digestOfRun({ ...asked, course: at('links', 'course.yaml') })).toMatch(/^[0-9a-f]{64}$/);
  });

  it.each<[string, () => void]>([
    ['a byte of a survey', () => writeFileSync(at('links', 'surveys', '1.csv'), '1,2,4\n')],
    ['a file that comes', () => writeFileSync(at('links', 'surveys', '1.prj'), 'x')],
    ['a file that goes', () => unlinkSync(at('links', 'surveys', '1.csv'))],
    ['a name', () => renameSync(at('links', 'surveys', '1.csv'), at('links', 'surveys', '2.csv'))],
    ['an empty folder', () => mkdirSync(at('links', 'notes.yaml'))],
    ['the layout', () => writeFileSync(at('own.yaml'), 'name: mine\n')],
  ])('changes with %s', (_, change) => {
    const before = digestOfRun(asked);
    change();
    expect(digestOfRun(asked)).not.toBe(before);
    expect(digestOfRun(asked)).not.toBeNull();
  });

  it('changes with what is asked', () => {
    const others: AskedRun[] = [
      { ...asked, out: at('elsewhere') },
      { ...asked, rest: [undefined, 'metric', false] },
      { ...asked, rest: ['imperial', undefined, false] },
      { ...asked, course: `${at('links')}/` },
    ];
    const digests = [asked, ...others].map(digestOfRun);
    expect(new Set(digests).size).toBe(digests.length);
  });

  it('is none where files may come from elsewhere, go back into the folder, or are many', () => {
    expect(digestOfRun({ ...asked, out: at('links', 'out') })).toBeNull();
    expect(digestOfRun({ ...asked, out: at('links') })).toBeNull();
    expect(digestOfRun({ ...asked, course: at('none') })).toBeNull();
    expect(digestOfRun({ ...asked, layout: at('links') })).toBeNull();
    const big = at('links', 'big.las');
    writeFileSync(big, '');
    truncateSync(big, 70 * 1024 * 1024);
    expect(digestOfRun(asked)).toBeNull();
    unlinkSync(big);
    expect(digestOfRun(asked)).not.toBeNull();
    symlinkSync(at('own.yaml'), at('links', 'linked.yaml'));
    expect(digestOfRun(asked)).toBeNull();
  });
});
