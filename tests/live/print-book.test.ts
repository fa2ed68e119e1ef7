import { spawnSync } from 'node:child_process';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openCourseCache } from '../../src/book/course-cache.js';
import { greensOfBook, prepareGreens } from '../../src/book/prepare-green.js';
import { courseFigures } from '../../src/course/course-figures.js';
import { readGround } from '../../src/course/ground.js';
import { loadCourse } from '../../src/course/load-course.js';
import { loadLayout } from '../../src/layout/layout-file.js';
import type { BreakTable, TableCell } from '../../src/putt/putt.js';
import { aimReading, paceChangeReading } from '../../src/putt/rounding.js';
import { METRES_PER_FOOT, METRES_PER_YARD } from '../../src/units.js';
import { runCaptured } from '../cli/run-captured.js';
import { type SmallCourse, smallCourse } from '../cli/small-course.js';
import { wordsOfSvg, wordsOfText } from '../print/page-words.js';
import { structTables } from './struct-tables.js';

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

  it('pdfinfo gives back the tables of the screen edition column by column, blank for blank', async () => {
    const tables = structTables(
      run('pdfinfo', '-struct-text', join(folder(), 'pocket.pdf')).stdout,
    );
    // Every row of a table has all its columns.
    for (const { rows } of tables) expect(new Set(rows.map(({ length }) => length)).size).toBe(1);
    const demo = loadCourse(course.folder);
    const layout = loadLayout('pocket');
    const [{ content }] = await prepareGreens(
      demo,
      greensOfBook(demo),
      layout,
      openCourseCache(course.out, 'links'),
    );
    const breaks = tables.filter(({ caption }) => / on, .* falls /.test(caption));
    expect(breaks.length).toBe(content.locations.length);
    let blanks = 0;
    content.locations.forEach(({ name, table, atSpeeds }, i) => {
      expect(breaks[i].caption.startsWith(`${name} `)).toBe(true);
      const columns = expectedColumns([table!, ...atSpeeds]);
      const given = columns.map((_, c) => breaks[i].rows.slice(2).map((row) => row[c]));
      expect(given).toEqual(columns);
      blanks += columns.flat().filter((cell) => cell === '').length;
    });
    expect(blanks).toBeGreaterThan(3);
    const card = tables.find(({ rows }) => rows[0].includes('par'))!;
    const [hole] = courseFigures(demo, await readGround(demo));
    expect(card.rows[1]).toEqual([
      hole.id,
      hole.name,
      `${hole.par}`,
      `${hole.strokeIndex}`,
      ...card.rows[0].slice(4).map((tee) => {
        const { length } = hole.tees.find((one) => one.name === tee)!;
        return `${Math.round(length / METRES_PER_YARD)}`;
      }),
    ]);
    // A sum has no number and no index.
    expect([card.rows.at(-1)![0], card.rows.at(-1)![3]]).toEqual(['', '']);
  });
});

/** What each column of a break table of two green speeds holds, from its putts: lengths, then aim, aim and pace by quadrant. */
const expectedColumns = (tables: readonly BreakTable[]): string[][] => {
  const [own] = tables;
  const cellOf = (table: BreakTable, quadrant: string, length: number) =>
    table.cells.find((cell) => cell.quadrant === quadrant && cell.length === length);
  const aim = (cell: TableCell | undefined): { figure: string; side: string } => {
    if (cell?.outcome === 'no-pace') return { figure: '\u2013', side: '' };
    if (cell?.outcome !== 'solved' || cell.putt === null) return { figure: '', side: '' };
    if (Math.abs(cell.putt.aimOffset) >= 20 * METRES_PER_FOOT) return { figure: 'lag', side: '' };
    const { figure, side } = aimReading(cell.putt.aimOffset, 'imperial');
    // The half hole of 4 1/4 in (Equipment Rules, Part 4): an aim less well known than that has a sign.
    const doubt = 1.96 * (cell.aimSd ?? 0) > 0.5 * 4.25 * 0.0254 ? '~' : '';
    return {
      figure: `${doubt}${figure.replace(' in', '\u2033').replace(' ft', '\u2032')}`,
      side: side === 'straight' ? '' : side === 'left' ? ' L' : ' R',
    };
  };
  const quadrants = ['below', 'above', 'left', 'right'].flatMap((quadrant) => {
    const columns = own.lengths.map((length) => {
      const [first, second] = tables.map((table) => cellOf(table, quadrant, length));
      if (first?.outcome === 'no-pace') return ['no pace', '', ''];
      if (first?.outcome !== 'solved' || first.putt === null) return ['', '', ''];
      const [a, b] = [aim(first), aim(second)];
      return [
        `${a.figure}${a.side}`,
        `${b.figure}${b.side === a.side ? '' : b.side}`,
        paceChangeReading(first.putt.pace, length, 'imperial'),
      ];
    });
    return [0, 1, 2].map((k) => columns.map((cells) => cells[k]));
  });
  return [own.lengths.map((length) => `${Math.round(length / METRES_PER_FOOT)}`), ...quadrants];
};
