import { spawnSync } from 'node:child_process';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { runCaptured } from '../cli/run-captured.js';
import { type SmallCourse, smallCourse } from '../cli/small-course.js';
import { wordsOfSvg, wordsOfText } from '../print/page-words.js';

/** A real book of one hole of the demo, read by qpdf, poppler and Ghostscript. */
describe('a book, read by programs from outside', () => {
  let course: SmallCourse;
  const folder = (): string => join(course.out, 'links');
  const files = (): string[] =>
    readdirSync(folder())
      .filter((name) => name.endsWith('.pdf'))
      .map((name) => join(folder(), name));
  const run = (program: string, ...args: string[]) => {
    const { status, stdout, stderr, error } = spawnSync(program, args, {
      encoding: 'utf8',
      maxBuffer: 1 << 28,
    });
    if (error !== undefined) throw error;
    return { status, stdout, stderr };
  };

  beforeAll(async () => {
    course = smallCourse([1]);
    const { code, stderr } = await runCaptured([
      'book',
      course.folder,
      '--out',
      course.out,
      '--svg',
    ]);
    expect(code, stderr).toBe(0);
  });
  afterAll(() => course.remove());

  it('qpdf --check, pdffonts and Ghostscript say nothing against any file', () => {
    expect(files().length).toBeGreaterThan(5);
    for (const file of files()) {
      const checked = run('qpdf', '--check', file);
      expect([checked.status, checked.stderr]).toEqual([0, '']);
      const fonts = run('pdffonts', file);
      expect(fonts.stderr).toBe('');
      const lines = fonts.stdout
        .split('\n')
        .slice(2)
        .filter((line) => line !== '');
      for (const line of lines) expect(line).toMatch(/Identity-H\s+yes yes yes/);
      const drawn = run(
        'gs',
        ...['-q', '-dBATCH', '-dNOPAUSE', '-sDEVICE=pnggray', '-r36', '-o', '/dev/null'],
        `--permit-file-read=${file}`,
        file,
      );
      expect([drawn.status, drawn.stdout, drawn.stderr]).toEqual([0, '', '']);
    }
  });

  it.each(['pocket.pdf', 'pocket-press.pdf'])(
    'pdftotext takes the tables out of %s as they are',
    (name) => {
      const pages = run('pdftotext', '-raw', join(folder(), name), '-')
        .stdout.split('\f')
        .map(wordsOfText);
      const tables = readdirSync(join(folder(), 'pocket-svg')).filter((f) =>
        /^(tables|card|conversions)/.test(f),
      );
      expect(tables.length).toBeGreaterThan(2);
      for (const file of tables) {
        const words = wordsOfSvg(readFileSync(join(folder(), 'pocket-svg', file), 'utf8'));
        expect(words.length).toBeGreaterThan(20);
        expect(pages).toContainEqual(words);
      }
    },
  );
});
