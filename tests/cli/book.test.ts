import { existsSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { shareFits } from '../fitted-demo.js';
import { type Captured, runCaptured } from './run-captured.js';
import { type SmallCourse, smallCourse } from './small-course.js';

const productsOf = (folder: string): Record<string, string> =>
  Object.fromEntries(
    readdirSync(folder)
      .filter((name) => name.endsWith('.pdf'))
      .sort()
      .map((name) => [name, readFileSync(join(folder, name)).toString('base64')]),
  );

describe('runnel book', () => {
  let course: SmallCourse;
  let made: Record<string, string>;
  let good: string;
  let first: Captured;
  const products = (): string => join(course.out, 'links');

  beforeAll(async () => {
    course = smallCourse([2]);
    shareFits(course.out);
    good = course.read();
    first = await runCaptured(['book', course.folder, '--out', course.out]);
    expect(first.code, first.stderr).toBe(0);
    expect(first.stdout).toBe('');
    made = productsOf(products());
  });
  afterAll(() => course.remove());

  it('makes the book and its sheets for Letter and A4', () => {
    expect(Object.keys(made)).toEqual(
      expect.arrayContaining(['pocket.pdf', 'pocket-letter-2up.pdf', 'pocket-a4-2up.pdf']),
    );
  });

  it('writes and tells the same again where nothing has changed', async () => {
    rmSync(join(products(), 'pocket.pdf'));
    const second = await runCaptured(['book', course.folder, '--out', course.out]);
    expect(second).toEqual(first);
    expect(productsOf(products())).toEqual(made);
  });

  it('gives the same bytes again, and a manifest of them on stdout', { tags: 'long' }, async () => {
    const out = join(course.root, 'again');
    const { code, stdout, stderr } = await runCaptured([
      'book',
      course.folder,
      '--out',
      out,
      '--json',
    ]);
    expect(code).toBe(0);
    expect(stderr).toBe('');
    const manifest = JSON.parse(stdout);
    expect(manifest.greens.map((green: { hole: string }) => green.hole)).toEqual(['2']);
    expect(productsOf(join(out, 'links'))).toEqual(made);
    for (const { file, bytes } of manifest.files) expect(readFileSync(file).length).toBe(bytes);
  });

  /** One clear line with file and key, exit 2, the old book as it was, no part of a new one. */
  const refuses = async (words: readonly (string | RegExp)[]): Promise<void> => {
    const { code, stdout, stderr } = await runCaptured([
      'book',
      course.folder,
      '--out',
      course.out,
    ]);
    expect(code).toBe(2);
    expect(stdout).toBe('');
    expect(stderr.trimEnd().split('\n')).toHaveLength(1);
    for (const word of words) expect(stderr).toMatch(word);
    expect(productsOf(products())).toEqual(made);
    expect(readdirSync(products()).filter((name) => name.includes('runnel-part'))).toEqual([]);
  };

  it('names a missing survey', async () => {
    const survey = join(course.folder, 'surveys/green-02.csv');
    const kept = readFileSync(survey);
    rmSync(survey);
    await refuses(['course.yaml', 'survey', 'green-02.csv']);
    writeFileSync(survey, kept);
  });

  it('names a wrong key and the right one', async () => {
    course.write(good.replace('par: 4', 'pra: 4'));
    await refuses(['course.yaml', /line \d+/, 'pra', 'par']);
    course.write(good);
  });

  it('names a hole location off its green', async () => {
    course.write(good.replace('A: { on: 4,', 'A: { on: 90,'));
    await refuses(['course.yaml', /locations/, 'off its green']);
    course.write(good);
  });

  it('names the line of a survey that is damaged', async () => {
    const survey = join(course.folder, 'surveys/green-02.csv');
    const kept = readFileSync(survey, 'utf8');
    writeFileSync(survey, kept.replace(/\n1007,([\d.]+),/, '\n1007,$1,abc'));
    await refuses(['green-02.csv', /line 8/]);
    writeFileSync(survey, kept);
  });

  it('is quiet in a pipe and leaves no stray file', () => {
    expect(existsSync(course.out)).toBe(true);
    expect(readdirSync(course.out).filter((name) => name.includes('part'))).toEqual([]);
  });
});
