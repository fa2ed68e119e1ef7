import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { runCaptured } from '../cli/run-captured.js';
import { writeTinyCourse } from '../cli/tiny-course.js';
import { wordsOfSvg } from '../print/page-words.js';

/** One table a page; no words on a page but what it tells of its hole location. */
const LAYOUT = `name: parts
title: A table a page
use: practice
page: { width: 180, height: 177.8, margins: { top: 6, bottom: 5.5, inner: 8.5, outer: 6 } }
grid: { columns: 12, rows: 36, gutter: 2 }
tables: { lengths: [3, 6], past: 12, speeds: [8, 12] }
binding: { method: loose }
pages:
  tables:
    - { module: tables, columns: [1, 12], rows: [5, 11] }
    - { module: table-key, columns: [1, 12], rows: [30, 36] }
`;
const LOCATIONS = { A: '{ on: 5, left: 4 }', B: '{ on: 6, left: 3 }', C: '{ on: 4, right: 3 }' };

/** Words of the first list that the second lacks, each as often as it is lacking, and what the second has besides. */
const wordsGone = (
  all: readonly string[],
  some: readonly string[],
): { readonly words: string[]; readonly left: string[] } => {
  const left = [...some];
  const words = all.filter((word) => {
    const at = left.indexOf(word);
    if (at >= 0) left.splice(at, 1);
    return at < 0;
  });
  return { words, left };
};

describe('a green whose tables take several pages', () => {
  const root = mkdtempSync(join(tmpdir(), 'runnel-parts-'));
  const folder = join(root, 'links');
  const layout = join(root, 'parts.yaml');
  /** The words of each page, in the order of the book. */
  const pagesOf = async (names: readonly (keyof typeof LOCATIONS)[]): Promise<string[][]> => {
    const file = join(folder, 'course.yaml');
    const text = readFileSync(file, 'utf8').replace(/ {4}locations:[\s\S]*$/, '');
    const lines = names.map((name) => `      ${name}: ${LOCATIONS[name]}\n`).join('');
    writeFileSync(file, `${text}    locations:\n${lines}`);
    const out = join(root, 'out');
    rmSync(join(out, 'links'), { recursive: true, force: true });
    const made = await runCaptured(['book', folder, '--layout', layout, '--svg', '--out', out]);
    expect(made.code, made.stderr).toBe(0);
    const svgs = join(out, 'links', 'parts-svg');
    return readdirSync(svgs)
      .sort(
        (a, b) => (Number(/(\d+)\.svg/.exec(a)![1]) % 12) - (Number(/(\d+)\.svg/.exec(b)![1]) % 12),
      )
      .map((name) => wordsOfSvg(readFileSync(join(svgs, name), 'utf8')));
  };
  beforeAll(() => {
    writeTinyCourse(folder, '10ft');
    writeFileSync(layout, LAYOUT);
  });
  afterAll(() => rmSync(root, { recursive: true, force: true }));

  it('names on each page its own hole location, with its own figures at every green speed', {
    tags: 'long',
  }, async () => {
    const alone = [await pagesOf(['A']), await pagesOf(['B']), await pagesOf(['C'])];
    for (const pages of alone) expect(pages.length).toBe(1);
    expect(new Set(alone.map(([words]) => words.join(' '))).size).toBe(3);
    const together = await pagesOf(['A', 'B', 'C']);
    // What a step of green speed changes stands once, on a page behind; all else as on the page of one alone.
    expect(together).toHaveLength(4);
    expect(together[3]).toContain('faster:');
    for (const k of [0, 1, 2]) {
      const { left, words } = wordsGone(alone[k][0], together[k]);
      expect(left).toEqual([]);
      expect(words).toContain('faster:');
      expect(words.length).toBeLessThan(30);
    }
  });
});
