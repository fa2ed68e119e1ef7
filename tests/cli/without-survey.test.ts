import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { readBook } from '../../src/check/read-book.js';
import { sidesAt } from '../../src/course/frame.js';
import { loadCourse } from '../../src/course/load-course.js';
import { outlineGreens } from '../../src/course/outline-green.js';
import { boxOf } from '../../src/geometry.js';
import { tidyCourse } from '../course/untidy-course.js';
import { writtenAs } from '../course/untidy-writers.js';
import { atDepth } from '../depth.js';
import { runCaptured } from './run-captured.js';

const PACE = 0.9144;
const root = mkdtempSync(join(tmpdir(), 'without-survey-'));
afterAll(() => rmSync(root, { recursive: true, force: true }));
const map = join(root, 'extract.osm');
const folder = join(root, 'tarn');
const file = join(folder, 'course.yaml');
const out = join(root, 'out');
writeFileSync(map, writtenAs('osm', tidyCourse({ seed: 41001, holes: 2 })));

// One story: what is told last wants what was made first.
describe('a course without any survey', { tags: 'deep' }, () => {
  test('from an extract to a book that our own check passes, in three commands', async () => {
    expect((await runCaptured(['new', folder, '--map', map])).code).toBe(0);
    expect((await runCaptured(['book', folder, '--out', out])).code).toBe(0);
    const checked = await runCaptured(['check', join(out, 'tarn', 'pocket.pdf')]);
    expect(checked.code, checked.stdout + checked.stderr).toBe(0);
  });

  test('places its holes by paces: holes, green and locate tell of them', async () => {
    const text = readFileSync(file, 'utf8');
    const placed = '  - hole: 1\n    locations: { A: { on: 12, left: 12 } }\n    days: { 1: A }\n';
    writeFileSync(file, text.replace('  - hole: 1\n', placed));
    // Hole locations are no reading of the green: a committee edition holds them.
    const committee = await runCaptured(['book', folder, '--layout', 'committee', '--out', out]);
    expect(committee.code, committee.stderr).toBe(0);
    const holes = await runCaptured(['holes', folder]);
    expect(holes.stdout).toMatch(/^1 .*day 1 .*12 on, 12 from left/);
    const green = await runCaptured(['green', folder, '1', '--json', '--out', out]);
    const told = JSON.parse(green.stdout);
    const box = boxOf(outlineGreens(loadCourse(folder))[0].outline);
    expect(told.surveyed).toBe(false);
    expect(Math.abs(told.depth_m - box.maxY)).toBeLessThan(2);
    expect(told.hole_locations[0]).toMatchObject({ name: 'A', on: 12, in: 12, side: 'left' });

    const at = async (place: string) =>
      (await runCaptured(['locate', folder, '1', '--day', '1', '--at', place])).stdout;
    expect(await at('12,12,left')).toMatch(/far enough[\s\S]*not surveyed/);
    expect(await at('2,2,left')).toMatch(/refused: too near/);
    const later = await runCaptured(['locate', folder, '1', '--day', '2', '--at', '12,12,left']);
    expect(later.stdout).toMatch(/refused: too near\n.*0\.0 paces from an earlier hole/);
  });

  test('has its holes on the sheet of the day, with distances and paces, and no putt', async () => {
    const folderOut = ['--out', out, '--json'];
    const day = await runCaptured(['day', folder, '--day', '1', ...folderOut]);
    expect(day.code, day.stderr).toBe(0);
    expect(day.stderr).toMatch(/without a survey, by the outline alone, no putts: 1/);
    const told = JSON.parse(day.stdout);
    expect(told.holes).toEqual([]);
    expect(told.pages).toHaveLength(1);
    const [{ hole, distances }] = told.outlines;
    expect(hole).toBe('1');
    const far = await runCaptured(['distances', folder, '1', '--json']);
    const [longest] = JSON.parse(far.stdout).places;
    // From the same tees, within what the hole's place on the green makes.
    expect(Math.abs(distances.front_m - longest.front.length_m)).toBeLessThan(15);
    expect(distances.hole_m).toBeGreaterThan(distances.front_m);
    expect(distances.hole_m).toBeLessThan(distances.back_m);
    const { pages } = await readBook(readFileSync(join(out, 'tarn', 'day-1.pdf')), 'day-1.pdf');
    const words = pages.flatMap(({ drawn }) => drawn.texts.map((one) => one.text)).join(' ');
    expect(words).toMatch(/12 on 12 left \d+ back, \d+ right/);
    expect(words).toMatch(/outline alone: fall not known/);
    expect(words).not.toMatch(/speed|drainage/);
    expect((await runCaptured(['check', join(out, 'tarn', 'day-1.pdf')])).code).toBe(0);
  });

  test('has areas and a rota by the distances alone, which the days then read', async () => {
    const areas = await runCaptured(['locate', folder, '2', '--day', '1', '--json']);
    const told = JSON.parse(areas.stdout);
    expect(told.surveyed).toBe(false);
    expect(told.areas.length).toBeGreaterThan(3);
    for (const { best, refused } of told.areas) {
      expect(refused).toBe(best.edge_m.value < best.edge_m.limit - 0.05);
      expect([best.steepest_grade, best.runs_past_m, best.putt_from_above]).toEqual([
        null,
        null,
        null,
      ]);
    }
    const days = join(root, 'rota.csv');
    const rota = await runCaptured([
      'locate',
      folder,
      '--rota',
      '3',
      '--day',
      '1',
      '--write',
      days,
    ]);
    expect(rota.code, rota.stderr).toBe(0);
    expect(rota.stdout).toMatch(
      /No survey tells of their ground, judged by their distances alone: 1, 2\./,
    );
    const holes = await runCaptured(['holes', folder, '--locations', days, '--json']);
    const { locations } = JSON.parse(holes.stdout);
    expect(locations).toHaveLength(6);
    for (const id of ['1', '2']) {
      const [a, b, c] = locations.filter((one: { hole: string }) => one.hole === id);
      for (const [p, q] of [
        [a, b],
        [a, c],
        [b, c],
      ]) {
        const apart = Math.hypot(p.at_m[0] - q.at_m[0], p.at_m[1] - q.at_m[1]);
        expect(apart).toBeGreaterThan(5 * 0.9144 - 0.05);
      }
    }
  });

  test('counts what the notes measured among its distances', async () => {
    const notes = join(folder, 'notes.yaml');
    const before = await runCaptured(['distances', folder, '1', '--from', 'Back']);
    expect(before.stdout).not.toMatch(/pit/);
    const pit = '{ kind: bunker, name: pit, from: Back, on: 210, left: 15, date: 2026-05-03 }';
    const pageOf = async (): Promise<number> => {
      const green = await runCaptured(['green', folder, '1', '--out', out]);
      expect(green.code, green.stderr).toBe(0);
      const bytes = readFileSync(join(out, 'tarn', 'pocket-green-1.pdf'));
      return (await readBook(bytes, 'pocket-green-1.pdf')).pages[0].drawn.paints.length;
    };
    const drawn = await pageOf();
    const beside = '{ kind: bunker, from: green, on: 2, left: 22, date: 2026-05-03 }';
    writeFileSync(notes, `notes:\n  - hole: 1\n    measured: [${pit}, ${beside}]\n`);
    expect(await pageOf()).toBeGreaterThan(drawn);
    const run = await runCaptured(['distances', folder, '1', '--from', 'Back']);
    rmSync(notes);
    // Its middle lies 210 paces on and 15 to the left.
    const [, reach, carry] = /bunker left, pit: reach (\d+), carry (\d+)/.exec(run.stdout) ?? [];
    const middle = Math.hypot(210, 15);
    expect(Math.abs((Number(reach) + Number(carry)) / 2 - middle)).toBeLessThan(2);
    expect(Number(carry)).toBeGreaterThan(Number(reach));
  });

  test('a location off a green without a survey is refused', async () => {
    const text = readFileSync(file, 'utf8');
    writeFileSync(file, text.replace('on: 12, left: 12', 'on: 120, left: 12'));
    const run = await runCaptured(['holes', folder]);
    expect(run.code).toBe(2);
    expect(run.stderr).toMatch(/course\.yaml/);
    writeFileSync(file, text);
  });

  test('takes heights levelled at paced places, and judges them alike in every command', async () => {
    const before = readFileSync(file, 'utf8');
    const [green] = outlineGreens(loadCourse(folder));
    /** Places on a grid of paces, on a slope of 2.5 cm a metre on and 1 cm a metre to the right, to the centimetre. */
    const sheet = (step: number): string => {
      const rows = ['on,in,side,height cm'];
      for (let on = 1; on * PACE < boxOf(green.outline).maxY - 1; on += step) {
        const [left, right] = sidesAt(green.outline, on * PACE)!;
        for (let k = 1; k < (right - left) / PACE - 0.5; k += step) {
          const [x, y] = [left + k * PACE, on * PACE];
          const wave = 3 * Math.sin(on * 7 + k * 13) * 0.2;
          rows.push(`${on},${k},left,${Math.round(2.5 * y + x + wave)}`);
        }
      }
      return `${rows.join('\n')}\n`;
    };
    const hand = join(root, 'hand.csv');
    const judged = async (step: number): Promise<string> => {
      writeFileSync(hand, sheet(step));
      const run = await runCaptured(['survey', hand, '--course', folder, '--hole', '1', '--json']);
      expect(run.code, run.stderr).toBe(0);
      return JSON.parse(run.stdout).verdict;
    };
    // Without the course no one knows where the paces start; with it, they are read before a survey is named there.
    writeFileSync(hand, sheet(30));
    const alone = await runCaptured(['survey', hand]);
    expect([alone.code, alone.stderr]).toEqual([2, expect.stringMatching(/--course C --hole H/)]);
    const few = await runCaptured(['survey', hand, '--course', folder, '--hole', '1']);
    expect([few.code, few.stderr]).toEqual([2, expect.stringMatching(/place is too few/)]);
    if (atDepth(true, false)) return;

    expect(await judged(7)).toBe('outline');
    expect(await judged(3)).toBe('fall-arrows');
    mkdirSync(join(folder, 'surveys'), { recursive: true });
    writeFileSync(join(folder, 'surveys', 'hand.csv'), sheet(3));
    writeFileSync(
      file,
      before.replace('  - hole: 1\n', '  - hole: 1\n    survey: surveys/hand.csv\n'),
    );
    const told = await runCaptured(['green', folder, '1', '--json', '--out', out]);
    expect(told.code, told.stderr).toBe(0);
    const figures = JSON.parse(told.stdout);
    expect(figures.worth.worth).toBe('arrows');
    const book = await runCaptured(['book', folder, '--json', '--out', out]);
    expect(book.code, book.stderr).toBe(0);
    const made = JSON.parse(book.stdout);
    expect(made.greens).toEqual([expect.objectContaining({ hole: '1', worth: 'arrows' })]);
    expect(made.pages.map(({ id }: { id: string }) => id)).toContain('green-2');
    writeFileSync(file, before);
  });

  test('tells of a green whose survey is fit for the outline only no more than its outline', async () => {
    const before = readFileSync(file, 'utf8');
    const places = [3, 11, 19].flatMap((on) => [4, 12].map((k) => `${on},${k},left,${on + k}`));
    mkdirSync(join(folder, 'surveys'), { recursive: true });
    writeFileSync(
      join(folder, 'surveys', 'few.csv'),
      `on,in,side,height cm\n${places.join('\n')}\n`,
    );
    writeFileSync(
      file,
      before.replace('  - hole: 1\n', '  - hole: 1\n    survey: surveys/few.csv\n'),
    );
    const green = await runCaptured(['green', folder, '1', '--geojson', '--json', '--out', out]);
    expect(green.code, green.stderr).toBe(0);
    const figures = JSON.parse(green.stdout);
    expect(figures).toMatchObject({ hole: '1', surveyed: false, worth: { worth: 'outline' } });
    for (const key of ['bands', 'points', 'drainage', 'outlets']) {
      expect(figures).not.toHaveProperty(key);
    }
    const map = JSON.parse(readFileSync(join(out, 'tarn', 'green-1.geojson'), 'utf8'));
    expect(map.features.map((one: Told) => one.properties.feature)).toEqual(['green']);
    const areas = await runCaptured(['locate', folder, '1', '--out', out]);
    expect([areas.code, areas.stdout]).toEqual([
      0,
      expect.stringMatching(/by their distances alone[\s\S]*survey is fit for the outline only/),
    ]);
    const rota = await runCaptured(['locate', folder, '--rota', '2', '--out', out]);
    expect([rota.code, rota.stdout]).toEqual([
      0,
      expect.stringMatching(
        /No survey tells of their ground, judged by their distances alone: 1, 2/,
      ),
    ]);
    writeFileSync(file, before);
  });
});

interface Told {
  readonly properties: { readonly feature: string };
}
