import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { courseSurfaces } from '../../src/book/course-surfaces.js';
import { loadCourse } from '../../src/course/load-course.js';
import type { Point } from '../../src/geometry.js';
import { rollToRest } from '../../src/putt/roll.js';
import { puttGround } from '../../src/putt/workspace.js';
import type { Surface } from '../../src/surface/surface.js';
import { shareFits } from '../fitted-demo.js';
import { runCaptured } from './run-captured.js';
import { type SmallCourse, smallCourse } from './small-course.js';

interface StationJson {
  readonly hole_m: Point;
  readonly step_m: number;
  readonly stimp_m: number;
  readonly past_m: number;
  readonly fall: { readonly grade: number; readonly toward_m: Point };
  readonly edge: { readonly distance_m: number; readonly at_m: Point };
  readonly tees: readonly {
    readonly quadrant: string;
    readonly at_m: Point;
    readonly pace_m: number;
  }[];
  readonly checks_m: { readonly from_rim: number; readonly neighbours: number };
  readonly from_marker_m: Readonly<Record<string, number>>;
  readonly marker: {
    readonly verdict: string;
    readonly at_m: Point;
    readonly uphill_m: number;
    readonly putts: readonly { readonly quadrant: string; readonly velocity_mps: Point }[];
  };
  readonly walk_round: {
    readonly checks_m: { readonly neighbours: number };
    readonly tees: readonly { readonly clock: number; readonly at_m: Point }[];
  };
}

const away = (a: Point, b: Point): number => Math.hypot(a[0] - b[0], a[1] - b[1]);

describe('runnel station', () => {
  let course: SmallCourse;
  let surface: Surface;
  const station = (...more: string[]) =>
    runCaptured(['station', course.folder, '7', '--out', course.out, ...more]);
  const told = async (...more: string[]): Promise<StationJson> => {
    const { code, stdout, stderr } = await station('--json', ...more);
    expect(code, stderr).toBe(0);
    return JSON.parse(stdout) as StationJson;
  };

  beforeAll(async () => {
    course = smallCourse([7]);
    shareFits(course.out);
    const loaded = loadCourse(course.folder);
    surface = (await courseSurfaces(loaded, loaded.holes, course.out))[0].surface;
  });
  afterAll(() => course.remove());

  it('tells four tees, the marker, the place and the checks in words, and makes the page', async () => {
    const { code, stdout, stderr } = await station(
      '--location',
      'a',
      '--step',
      '6ft',
      '--units',
      'metric',
    );
    expect(code, stderr).toBe(0);
    for (const words of [
      '2 paces to each tee',
      'below',
      'above',
      'toward the',
      'neighbours 2.59 m',
    ]) {
      expect(stdout).toContain(words);
    }
    expect(stdout).toMatch(/marker +.*\d cm above/);
    expect(stdout).not.toMatch(/NaN|undefined|null|-0\b/);
    const page = readFileSync(join(course.out, 'links', 'practice-large-station-7.pdf'));
    expect(page.subarray(0, 5).toString()).toBe('%PDF-');
  });

  it('gives the same as figures: tees a pace from the hole, and a marker by which all four balls drop', async () => {
    const json = await told('--on', '16', '--left', '9', '--speed', '10.5', '--round', '12');
    expect(json.step_m).toBe(0.9144);
    expect(json.stimp_m).toBeCloseTo(3.2004, 6);
    for (const { at_m } of json.tees) expect(away(at_m, json.hole_m)).toBeCloseTo(0.9144, 3);
    expect(away(json.tees[0].at_m, json.tees[2].at_m)).toBeCloseTo(json.checks_m.neighbours, 3);
    expect(json.checks_m.from_rim).toBeCloseTo(0.9144 - 0.054, 4);
    expect(away(json.edge.at_m, json.hole_m)).toBeCloseTo(json.edge.distance_m, 2);
    const { marker } = json;
    expect(marker.verdict).toBe('serves');
    const { hole_m, fall } = json;
    const up =
      (marker.at_m[0] - hole_m[0]) * -fall.toward_m[0] +
      (marker.at_m[1] - hole_m[1]) * -fall.toward_m[1];
    expect(up).toBeCloseTo(marker.uphill_m, 3);
    const w = puttGround(surface, { stimp: json.stimp_m, past: json.past_m });
    for (const { quadrant, velocity_mps } of marker.putts) {
      const tee = json.tees.find((one) => one.quadrant === quadrant)!.at_m;
      expect(rollToRest(w, tee, velocity_mps, hole_m).status, quadrant).toBe('holed');
      expect(json.from_marker_m[quadrant]).toBeCloseTo(away(tee, marker.at_m), 3);
    }
    const { tees, checks_m } = json.walk_round;
    expect(tees.map(({ clock }) => clock)).toEqual([12, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11]);
    expect(away(tees[0].at_m, tees[1].at_m)).toBeCloseTo(checks_m.neighbours, 3);
    expect(away(tees[0].at_m, json.tees[1].at_m)).toBeLessThan(1e-3);
    expect(away(tees[3].at_m, json.tees[3].at_m)).toBeLessThan(1e-3);
  });

  it.each([
    [['--left', '5'], /--on: the place of the hole is not named/],
    [['--on', '16'], /give paces on and paces in/],
    [['--on', '16', '--left', '5', '--right', '4'], /from one side/],
    [['--on', '90', '--left', '5'], /off its green/],
    [['--on', 'x', '--left', '5'], /NaN|number/],
    [['--location', 'Z'], /no hole location "Z".*it has A/],
    [['--location', 'A', '--on', '5'], /named twice/],
    [['--on', '16', '--left', '9', '--step', '9m'], /9\.8 paces from the hole are no station/],
    [['--on', '16', '--left', '9', '--round', '7'], /8 or 12/],
    [['--on', '16', '--left', '9', '--layout', 'pocket'], /no pages of stations/],
    [['--on', '16', '--left', '9', '--past', '3m'], /--past: 3.00 m past arrives/],
  ] as const)('refuses %j in one line and writes nothing', async (more, words) => {
    const out = join(course.root, 'refused');
    const { code, stdout, stderr } = await runCaptured([
      ...['station', course.folder, '7', '--out', out],
      ...more,
    ]);
    expect(code).toBe(2);
    expect(stdout).toBe('');
    expect(stderr.trim().split('\n').at(-1)).toMatch(words);
    expect(existsSync(join(out, 'links')) ? readdirSync(join(out, 'links')) : []).toEqual([]);
  });

  it('gives no station on a green that is fit for arrows only', async () => {
    const arrows = smallCourse([7]);
    shareFits(arrows.out);
    arrows.write(
      arrows
        .read()
        .replace(
          /( *)- hole: 7\n/,
          '$1- hole: 7\n$1  trust: { printAs: arrows, because: a doubtful survey }\n',
        ),
    );
    const { code, stderr } = await runCaptured([
      ...['station', arrows.folder, '7', '--on', '16', '--left', '9', '--out', arrows.out],
    ]);
    arrows.remove();
    expect(code).toBe(2);
    expect(stderr).toMatch(/no station: the green of hole 7 is fit for fall arrows only/);
  });
});
