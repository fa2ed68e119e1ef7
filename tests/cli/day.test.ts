import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { Readable } from 'node:stream';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { openCourseCache } from '../../src/book/course-cache.js';
import { greensOfDay, loadDays } from '../../src/book/course-days.js';
import { prepareGreens } from '../../src/book/prepare-green.js';
import { loadCourse } from '../../src/course/load-course.js';
import { loadLayout } from '../../src/layout/layout-file.js';
import { composeDay } from '../../src/page/day/day-pages.js';
import { textMarksOf } from '../../src/page/marks/mark-texts.js';
import type { GroupMark, Page } from '../../src/page/marks/marks.js';
import { measureWith, openFonts } from '../../src/print/fonts.js';
import { aimReading, lengthReading, paceChangeReading } from '../../src/putt/rounding.js';
import { solvePutt } from '../../src/putt/solve.js';
import { quadrantDirection } from '../../src/putt/table.js';
import { surfaceOfStored } from '../../src/surface/stored-surface.js';
import { feetToMetres } from '../../src/units.js';
import { NO_TODAY, UNTOLD } from '../event/no-today.js';
import { shareFits } from '../fitted-demo.js';
import { runCaptured } from './run-captured.js';
import { type SmallCourse, smallCourse } from './small-course.js';
import { writeTinyLayout } from './tiny-layout.js';

const HOLES = [7, 12];
const SPEED = 11.5;

interface DayHole {
  readonly hole: string;
  readonly plane_m: readonly [number, number];
  readonly words: string;
  readonly putts: readonly {
    readonly outcome: string;
    readonly ball_plane_m: readonly [number, number];
    readonly aim_offset_m?: number;
    readonly pace_m?: number;
  }[];
}

const groupsOf = (page: Page, role: GroupMark['role']): GroupMark[] =>
  page.marks.filter((mark): mark is GroupMark => mark.kind === 'group' && mark.role === role);

describe('runnel day', () => {
  let course: SmallCourse;
  let told: { holes: DayHole[]; files: { file: string; bytes: number }[]; pages: object[] };
  const day = (...more: string[]) =>
    runCaptured(['day', course.folder, '--day', '2', '--out', course.out, ...more]);

  beforeAll(async () => {
    course = smallCourse(HOLES);
    shareFits(course.out);
    // The demo's file has all holes; a course with some of them is given their lines.
    const days = join(course.folder, 'days.csv');
    const lines = readFileSync(days, 'utf8').split('\n');
    const kept = lines.filter((line, i) => i === 0 || HOLES.includes(Number(line.split(',')[0])));
    writeFileSync(days, `${kept.join('\n')}\n`);
    const first = await day('--speed', `${SPEED}`, '--json');
    expect(first.code, first.stderr).toBe(0);
    told = JSON.parse(first.stdout);
  });
  afterAll(() => course.remove());

  it('makes the pages for a screen, as slips and as a fold, for Letter and A4', () => {
    expect(readdirSync(join(course.out, 'links')).sort()).toEqual([
      '.runnel-made',
      'day-2-a4-fold.pdf',
      'day-2-a4-slips.pdf',
      'day-2-letter-fold.pdf',
      'day-2-letter-slips.pdf',
      'day-2.pdf',
    ]);
    for (const { file, bytes } of told.files) expect(readFileSync(file).length).toBe(bytes);
    expect(told.pages).toHaveLength(2);
    expect(told.holes.map(({ hole }) => hole)).toEqual(HOLES.map(String));
  });

  it('gives the same bytes again', async () => {
    const before = told.files.map(({ file }) => readFileSync(file));
    const again = await day('--speed', `${SPEED}`);
    expect(again.code, again.stderr).toBe(0);
    told.files.forEach(({ file }, i) => {
      expect(readFileSync(file).equals(before[i]), file).toBe(true);
    });
  });

  it('puts on its pages the figures that the solver gives, cell by cell', async () => {
    const loaded = loadCourse(course.folder);
    const layout = loadLayout('day');
    const stimp = feetToMetres(SPEED);
    const locations = loadDays(loaded, { note: UNTOLD }).filter((one) => one.day === 2);
    const greens = await prepareGreens(
      loaded,
      greensOfDay(loaded, locations, stimp),
      layout,
      openCourseCache(course.out, 'links'),
    );
    const pages = composeDay(
      {
        title: loaded.title,
        setting: loaded.setting,
        use: layout.use,
        units: 'imperial',
        stimp,
        past: layout.tables.past,
        greens: greens.map(({ content }) => content),
        day: 2,
        today: NO_TODAY,
      },
      layout,
      measureWith(openFonts()),
    );
    // The sheet's own small table is of no single hole.
    const tables = pages
      .filter(({ id }) => id.startsWith('day-tables'))
      .flatMap((page) => groupsOf(page, 'table'))
      .filter(({ shows }) => shows === 'putts');
    expect(tables).toHaveLength(HOLES.length);
    tables.forEach((table, i) => {
      const { content, fit } = greens[i];
      const surface = surfaceOfStored(fit.surface);
      const hole = content.locations[0].at;
      const { fall, cells } = content.locations[0].table!;
      const expected: string[] = [];
      for (const length of layout.tables.lengths) {
        expected.push(lengthReading(length, 'imperial').replace(' ft', ''));
        for (const quadrant of ['below', 'above', 'left', 'right'] as const) {
          const [ux, uy] = quadrantDirection(quadrant, fall);
          const ball = [hole[0] + length * ux, hole[1] + length * uy] as const;
          const cell = cells.find((one) => one.quadrant === quadrant && one.length === length)!;
          if (cell.outcome === 'off-green') continue;
          const putt = solvePutt(surface, ball, hole, { stimp, past: layout.tables.past });
          if (putt.status === 'leaves-green') continue;
          if (putt.status !== 'holed') {
            expected.push('no pace');
            continue;
          }
          const aim = aimReading(putt.aimOffset, 'imperial');
          expected.push(aim.figure.replace(' in', '″').replace(' ft', '′'));
          if (aim.side !== 'straight') expected.push(aim.side === 'left' ? 'L' : 'R');
          const faster = { stimp: stimp + feetToMetres(1), past: layout.tables.past };
          const other = solvePutt(surface, ball, hole, faster);
          expect(other.status).toBe('holed');
          const second = aimReading(other.aimOffset, 'imperial');
          expected.push(second.figure.replace(' in', '″').replace(' ft', '′'));
          if (second.side !== 'straight' && second.side !== aim.side) {
            expected.push(second.side === 'left' ? 'L' : 'R');
          }
          expected.push(paceChangeReading(putt.pace, length, 'imperial'));
        }
      }
      const shown = textMarksOf(table.marks).map(({ text }) => text.replace('~', ''));
      expect(shown.slice(-expected.length)).toEqual(expected);
      expect(shown[0]).toBe(`${HOLES[i]}`);
    });
  });

  it('tells the figures of runnel putt for the same ball, hole and speed', async () => {
    for (const hole of told.holes) {
      const solved = hole.putts.filter(({ outcome }) => outcome === 'solved');
      for (const putt of [solved[0], solved[Math.floor(solved.length / 2)], solved.at(-1)!]) {
        const { code, stdout, stderr } = await runCaptured([
          'putt',
          '--course',
          course.folder,
          '--green',
          hole.hole,
          '--out',
          course.out,
          `--from=${putt.ball_plane_m.join(',')}`,
          `--hole=${hole.plane_m.join(',')}`,
          '--stimp',
          `${SPEED}ft`,
          '--json',
        ]);
        expect(code, stderr).toBe(0);
        const found = JSON.parse(stdout);
        expect(found.status).toBe('holed');
        expect(Math.abs(found.aim_offset_m - putt.aim_offset_m!)).toBeLessThan(1e-5);
        expect(Math.abs(found.pace_m - putt.pace_m!)).toBeLessThan(1e-5);
      }
    }
  });

  it('takes lines that are pasted, tees, date and wind, and another day’s odd line in its stride', async () => {
    const typed = HOLES.map((hole) => `${hole} 12 on, 8 left`).join('\n');
    const stdin = vi
      .spyOn(process, 'stdin', 'get')
      .mockReturnValue(Readable.from([Buffer.from(typed)]) as typeof process.stdin);
    const quick = ['--layout', writeTinyLayout(course.root)];
    const pasted = await day(
      ...quick,
      '--paste',
      '--json',
      '--tees',
      'Moor,7:+10',
      '--wind',
      '12mph,W',
    );
    stdin.mockRestore();
    expect(pasted.code, pasted.stderr).toBe(0);
    const file = join(course.root, 'sunday.csv');
    const lines = HOLES.map((hole) => `${hole},2,12,8,left`).join('\n');
    writeFileSync(file, `hole,day,on,in,side\n${lines}\n7,4,over there\n`);
    const named = await day(...quick, '--locations', file, '--json', '--date', 'Friday 13');
    expect(named.code, named.stderr).toBe(0);
    const [a, b] = [pasted, named].map(({ stdout }) => JSON.parse(stdout).holes);
    expect(a.map(({ at_m }: { at_m: object }) => at_m)).toEqual(
      b.map(({ at_m }: { at_m: object }) => at_m),
    );
    for (const [i, hole] of a.entries()) {
      expect(hole.distances.tees).toBe('Moor');
      expect(hole.distances.front_m).toBeLessThan(hole.distances.hole_m);
      expect(hole.distances.back_m).toBeGreaterThan(hole.distances.hole_m);
      expect(b[i].distances.tees).not.toBe('Moor');
    }
    const stray = await day('--tees', 'Meadow');
    expect(stray.code).toBe(2);
    expect(stray.stderr).toMatch(/the course has no tees "Meadow"; its tees are /);
  });

  it('passes the check of every file that it makes', async () => {
    for (const { file } of told.files) {
      const { code, stdout, stderr } = await runCaptured(['check', file]);
      expect(code, stdout + stderr).toBe(0);
    }
  });

  it('writes nothing that would fail its own check', async () => {
    const layout = join(course.root, 'tight.yaml');
    const own = readFileSync(new URL('../../layouts/day.yaml', import.meta.url), 'utf8');
    writeFileSync(layout, own.replace('name: day', 'name: tight').replace('top: 5,', 'top: 1,'));
    const { code, stdout, stderr } = await day('--layout', layout);
    expect([code, stdout]).toEqual([2, '']);
    expect(stderr).toMatch(
      /^runnel: tight-2\.pdf, page 1: it would fail its own check \(margins\): ".*" is less than 3 mm inside the trim; it is not written/,
    );
    expect(stderr.trim().split('\n')).toHaveLength(1);
    const made = readdirSync(join(course.out, 'links'));
    expect(made.filter((name) => name.startsWith('tight'))).toEqual([]);
  });

  it('keeps the old pages, byte for byte, when the new ones are refused', async () => {
    const before = told.files.map(({ file }) => readFileSync(file));
    const layout = join(course.root, 'day.yaml');
    const own = readFileSync(new URL('../../layouts/day.yaml', import.meta.url), 'utf8');
    writeFileSync(layout, own.replace('top: 5,', 'top: 1,'));
    const locations = join(course.root, 'away.csv');
    writeFileSync(locations, `hole,day,on,in,side\n${HOLES[0]},2,90,5,left\n`);
    for (const more of [
      ['--layout', layout],
      ['--locations', locations],
      ['--speed', '3.5'],
    ]) {
      const { code, stderr } = await day(...more);
      expect(code, stderr).toBe(2);
    }
    const made = readdirSync(join(course.out, 'links')).filter((name) => /^day/.test(name));
    expect(made).toHaveLength(told.files.length);
    told.files.forEach(({ file }, i) => {
      expect(readFileSync(file).equals(before[i]), file).toBe(true);
    });
  });

  it('draws no green larger than 1:480', async () => {
    const { stdout } = await runCaptured([
      'check',
      join(course.out, 'links', 'day-2.pdf'),
      '--json',
    ]);
    const scales = [...stdout.matchAll(/"scale": ([\d.]+)/g)].map((match) => Number(match[1]));
    expect(scales.length).toBe(HOLES.length);
    // Places in the file are rounded.
    for (const scale of scales) expect(scale).toBeGreaterThan(479.99);
  });

  it.each([
    [['--speed', '25'], /--speed.*no stimp reading/],
    [['--speed', '3.5'], /--speed: "3.5" could be metres \(11.5 ft\) or feet; write 3.5m or 3.5ft/],
    [['--wind', 'strong'], /--wind: "strong" is no wind/],
    [['--days', '2'], /did you mean "--day"/],
    [['--speed', 'fast'], /--speed.*is not a green speed/],
    [['--day', '9'], /no hole location for day 9; there are locations for day 1, 2, 3, 4/],
    [['--day', 'one'], /--day is not a number; write digits/],
    [['--layout', 'nowhere'], /no such layout/],
  ])('says in one line what is wrong with %s', async (more, words) => {
    const args = more[0] === '--day' ? more : ['--day', '2', ...more];
    const { code, stdout, stderr } = await runCaptured([
      'day',
      course.folder,
      '--out',
      course.out,
      ...args,
    ]);
    expect(code).toBe(2);
    expect(stdout).toBe('');
    expect(stderr.trimEnd().split('\n')).toHaveLength(1);
    expect(stderr).toMatch(words);
  });

  it('names the line of a day file whose location is off its green', async () => {
    const file = join(course.root, 'off.csv');
    writeFileSync(file, 'hole,day,on,in,side\n12,2,10,5,left\n7,2,90,5,left\n');
    const { code, stderr } = await day('--locations', file);
    expect(code).toBe(2);
    expect(stderr).toMatch(/off\.csv, line 3: .*off its green/);
  });
});
