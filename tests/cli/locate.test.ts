import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { courseSurfaces } from '../../src/book/course-surfaces.js';
import { loadCourse } from '../../src/course/load-course.js';
import { assessLocation, siteFor } from '../../src/event/assess-location.js';
import { readDayFile } from '../../src/event/day-file.js';
import { locationsByDay } from '../../src/event/day-locations.js';
import { GUIDANCE } from '../../src/event/guidance.js';
import { METRES_PER_PACE } from '../../src/units.js';
import { atDepth } from '../depth.js';
import { UNTOLD } from '../event/no-today.js';
import { SHARED_OUT, shareFits } from '../fitted-demo.js';
import { runCaptured } from './run-captured.js';
import { smallCourse } from './small-course.js';

const DEMO = 'course-data/vellamoor';

interface JsonPlace {
  readonly keeps_guidance: boolean;
  readonly on: number;
  readonly in: number;
  readonly side: 'left' | 'right';
  readonly edge_m: { readonly value: number };
  readonly steepest_grade: { readonly value: number; readonly kept: boolean };
  readonly runs_past_m: { readonly value: number | null };
}

describe('runnel locate on two greens', () => {
  const course = smallCourse([12, 16]);
  shareFits(course.out);
  afterAll(() => course.remove());
  const locate = (...args: string[]) =>
    runCaptured(['locate', course.folder, ...args, '--out', course.out]);

  beforeAll(async () => {
    await locate('12', '--day', '1');
  });

  it('ranks areas, and says of each refused one why', async () => {
    const { code, stdout } = await locate('16', '--day', '1', '--json');
    expect(code).toBe(0);
    const { areas, advice } = JSON.parse(stdout);
    expect(advice).toMatch(/the Committee decides/);
    expect(areas.length).toBe(6);
    const refused = areas.filter((area: { refused: boolean }) => area.refused);
    expect(refused.map((area: { area: string }) => area.area).sort()).toEqual([
      'middle left',
      'middle right',
    ]);
    expect(refused[0].refused_by.grade).toBeGreaterThan(50);
    const best: JsonPlace = areas[0].best;
    expect(best.keeps_guidance).toBe(true);
    expect(best.edge_m.value).toBeGreaterThanOrEqual(3.95 * METRES_PER_PACE);
    const words = await locate('16', '--day', '1');
    expect(words.stdout).toMatch(/middle right: refused; nearest to the guidance is/);
    expect(words.stdout).toMatch(/from 10 ft above: /);
    expect(words.stdout).toMatch(/This is advice by published guidance; the Committee decides\./);
  });

  it('judges one place, and the faster the green the less it forgives', async () => {
    const judged = async (speed: string): Promise<JsonPlace> =>
      JSON.parse(
        (await locate('12', '--day', '1', '--at', '4,4,left', '--speed', speed, '--json')).stdout,
      );
    const [slow, fast] = [await judged('8'), await judged('13')];
    expect(slow.keeps_guidance).toBe(false);
    expect(slow.steepest_grade.kept).toBe(false);
    expect(fast.runs_past_m.value!).toBeGreaterThan(slow.runs_past_m.value!);
    const words = await locate('12', '--day', '1', '--at', '4,4,left', '--units', 'metric');
    expect(words.stdout).toMatch(
      /refused: 2\.5 paces from the edge \(3 asked\); grade up to 3\.\d %/,
    );
  });

  it('keeps away from the holes of earlier days', async () => {
    const csv = join(course.root, 'earlier.csv');
    writeFileSync(csv, 'hole,day,on,in,side\n12,1,13,8,right\n');
    const args = ['12', '--locations', csv, '--at', '13,6,right', '--day'];
    expect((await locate(...args, '2')).stdout).toMatch(
      /refused: 2 paces from the hole of day 1 \(5 asked\)/,
    );
    expect((await locate(...args, '1')).stdout).toMatch(/keeps the guidance/);
    // Without --day it is the day after the last that has a hole.
    expect((await locate('12', '--locations', csv)).stdout).toMatch(
      /areas for day 2 .* away from 1 earlier hole,/,
    );
  });

  it('says on which green a rota cannot keep the guidance, and why', async () => {
    const { code, stdout } = await locate('--rota', '9', '--day', '1', '--apart', '8');
    expect(code).toBe(0);
    expect(stdout).toMatch(/\* The guidance cannot be kept:/);
    expect(stdout).toMatch(
      /hole 12, Thimble: of \d+ places \d+ keep it, of which .*\d can lie 8 paces apart \(refused by edge \d+/,
    );
    expect(stdout).toMatch(/ {4}day \d, [^:]+: .*\((8|3) asked\)/);
    const easy = await locate('--rota', '2', '--day', '1', '--json');
    const rota = JSON.parse(easy.stdout);
    expect(rota.guidance_kept_on_all).toBe(true);
    for (const { worth } of rota.holes) expect(worth.worth).toBe('tables');
  });

  it.each([
    [[], /no hole is named; name one, or ask for a rota/],
    [['12', '--rota', '4'], /a rota is made for the whole course/],
    [['--rota', '0'], /--rota: a rota of 0 days cannot be made/],
    [['--rota', '4', '--at', '1,2,left'], /--at: a single place is not judged/],
    [['12', '--write', 'x.csv'], /--write: only a rota is written/],
    [['12', '--at', '4,left'], /--at: "4,left" is no hole location/],
    [['12', '--at', '4,40,left'], /--at: .* is off its green/],
    [['12', '--speed', '40'], /--speed: "40" is no stimp reading/],
    [['12', '--edge', '-1'], /--edge: -1 is out of range/],
    [['12', '--within', '6in'], /--within: no ball stops within/],
    [['12', '--day', '0'], /--day: 0 is no day/],
    [['13'], /has no hole 13/],
  ])('%j is refused in one line', async (args, words) => {
    const { code, stdout, stderr } = await locate(...args);
    expect([code, stdout]).toEqual([2, '']);
    expect(stderr).toMatch(words);
    expect(stderr.trim().split('\n').length).toBe(1);
  });
});

describe.runIf(atDepth(false, true))(
  'a rota of four days on the surveys of the demo',
  { tags: 'deep' },
  () => {
    const root = mkdtempSync(join(tmpdir(), 'runnel-rota-'));
    afterAll(() => rmSync(root, { recursive: true, force: true }));
    const file = join(root, 'rota.csv');
    let result: {
      guidance_kept_on_all: boolean;
      balance: Record<string, number>[];
      holes: { hole: string; cannot_keep: string[]; locations: (JsonPlace & { day: number })[] }[];
    };

    beforeAll(async () => {
      const { code, stdout } = await runCaptured([
        ...['locate', DEMO, '--rota', '4', '--day', '1', '--out', SHARED_OUT],
        ...['--write', file, '--json'],
      ]);
      expect(code).toBe(0);
      result = JSON.parse(stdout);
    });

    it('keeps the guidance on all 18 greens, or says on which it cannot, and why', () => {
      expect(result.holes.length).toBe(18);
      for (const { locations, cannot_keep } of result.holes) {
        const all = locations.every((one) => one.keeps_guidance);
        expect(all).toBe(cannot_keep.length === 0);
      }
      // On this course it can on every green.
      expect(result.guidance_kept_on_all).toBe(true);
    });

    it('is balanced over front, middle, back, left and right', () => {
      for (const { front, middle, back, left, right } of result.balance) {
        for (const part of [front, middle, back]) expect(Math.abs(part - 6)).toBeLessThanOrEqual(1);
        expect(Math.abs(left - right)).toBeLessThanOrEqual(2);
      }
    });

    it('is written as a file that `runnel holes` reads, and never over one of the user', async () => {
      const course = loadCourse(DEMO);
      const days = locationsByDay(
        course,
        readDayFile(readFileSync(file, 'utf8'), file),
        file,
        UNTOLD,
      );
      expect(days.length).toBe(72);
      const before = readFileSync(file, 'utf8');
      const again = await runCaptured(['locate', DEMO, '--rota', '4', '--write', file]);
      expect(again.code).toBe(2);
      expect(again.stderr).toMatch(/rota\.csv: the file exists already/);
      expect(readFileSync(file, 'utf8')).toBe(before);
      expect(existsSync(`${file}.tmp`)).toBe(false);
    });

    it('agrees with the demo’s own four days: each keeps the guidance beside the others', async () => {
      const course = loadCourse(DEMO);
      const path = `${DEMO}/${course.dayFile}`;
      const days = locationsByDay(
        course,
        readDayFile(readFileSync(path, 'utf8'), path),
        path,
        UNTOLD,
      );
      expect(days.length).toBe(72);
      const holes = course.holes.filter((hole) => hole.id !== 'practice');
      const surfaces = (await courseSurfaces(course, holes, SHARED_OUT)).map(
        ({ surface }) => surface,
      );
      holes.forEach((hole, h) => {
        const site = siteFor(surfaces[h], hole.green!.stimp, GUIDANCE);
        const own = days.filter((one) => one.holeId === hole.id);
        for (const one of own) {
          const others = own
            .filter((other) => other !== one)
            .map((other) => ({ at: other.location.at, name: `day ${other.day}` }));
          const { kept } = assessLocation(site, one.location.at, others);
          expect(kept, `hole ${hole.id}, day ${one.day}`).toBe(true);
        }
      });
    });
  },
);
