import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { openCache } from '../../src/book/cache.js';
import type { RefusedPages } from '../../src/book/green-job.js';
import { checkedEarly } from '../../src/book/passed-early.js';

const PASSED: RefusedPages = { green: null, tables: null };
const FAILED: RefusedPages = {
  green: null,
  tables: { where: { file: 'a layout' }, problem: 'too small', cure: 'larger' },
};

const opened = (folder: string | null) => (folder === null ? { folder } : openCache(folder));

/** Asks one after the other; how often pages were drawn, and what was told. */
const asked = async (
  folder: string | null,
  ...rounds: readonly (readonly [like: string, answer: RefusedPages])[]
) => {
  const drawn: string[] = [];
  const told: RefusedPages[] = [];
  for (const [like, answer] of rounds) {
    const check = async (): Promise<RefusedPages> => {
      drawn.push(like);
      return answer;
    };
    told.push(await checkedEarly(opened(folder), like, check));
  }
  return { drawn, told };
};

const newFolder = (): string => mkdtempSync(join(tmpdir(), 'early-'));

describe('pages that are drawn before anything is solved', () => {
  it('are drawn once where they pass, in whatever run', async () => {
    const { drawn, told } = await asked(newFolder(), ['a', PASSED], ['a', FAILED], ['b', PASSED]);
    expect(drawn).toEqual(['a', 'b']);
    expect(told).toEqual([PASSED, PASSED, PASSED]);
  });

  it('are drawn again where they fail, or nothing is kept', async () => {
    const failing = await asked(newFolder(), ['a', FAILED], ['a', FAILED]);
    expect(failing).toEqual({ drawn: ['a', 'a'], told: [FAILED, FAILED] });
    const { drawn } = await asked(null, ['a', PASSED], ['a', PASSED]);
    expect(drawn).toEqual(['a', 'a']);
  });
});
