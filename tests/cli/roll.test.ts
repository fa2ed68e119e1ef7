import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { courseSurfaces } from '../../src/book/course-surfaces.js';
import { loadCourse } from '../../src/course/load-course.js';
import { outlineInFrame } from '../../src/event/day-locations.js';
import { pointOfNote } from '../../src/event/played-putts.js';
import type { Point } from '../../src/geometry.js';
import { STIMP_RELEASE_SPEED } from '../../src/putt/green-speed.js';
import { rollToRest } from '../../src/putt/roll.js';
import { puttGround } from '../../src/putt/workspace.js';
import { HX, HY } from '../../src/surface/surface.js';
import { shareFits } from '../fitted-demo.js';
import { runCaptured } from './run-captured.js';
import { type SmallCourse, smallCourse } from './small-course.js';

/** Green speed on the day, metres: 9.2 ft, where the course file says more. */
const STIMP = 2.8;

describe('runnel roll', () => {
  let course: SmallCourse;
  let file: string;
  const roll = (text: string, ...more: string[]) => {
    writeFileSync(file, text);
    return runCaptured(['roll', course.folder, file, '--out', course.out, ...more]);
  };
  let rolls = '';

  beforeAll(async () => {
    course = smallCourse([7]);
    shareFits(course.out);
    file = join(course.folder, 'rolls.yaml');
    const loaded = loadCourse(course.folder);
    const [{ surface }] = await courseSurfaces(loaded, loaded.holes, course.out);
    const outline = outlineInFrame(loaded.holes[0], loaded.file);
    const w = puttGround(surface, { stimp: STIMP, past: 0.3 });
    const jet = new Float64Array(10);
    const place = (on: number, left: number): Point => pointOfNote(outline, { on, left }, 'test');
    const lines = [
      [10, 6, 14, 6],
      [14, 6, 10, 6],
      [10, 9, 14, 8],
      [14, 8, 10, 9],
      [9, 8, 9, 5],
      [9, 5, 9, 8],
    ].map(([on, left, toOn, toLeft]) => {
      const [from, to] = [place(on, left), place(toOn, toLeft)];
      const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
      const [ux, uy] = [(to[0] - from[0]) / length, (to[1] - from[1]) / length];
      surface.at(from[0], from[1], jet);
      const flat = STIMP_RELEASE_SPEED / Math.hypot(1, jet[HX] * ux + jet[HY] * uy);
      const { end, status } = rollToRest(w, from, [flat * ux, flat * uy]);
      expect(status).toBe('short');
      const [dx, dy] = [end[0] - from[0], end[1] - from[1]];
      const side = dy * ux - dx * uy;
      const words = `${Math.abs(100 * side).toFixed(1)} cm ${side > 0 ? 'left' : 'right'}`;
      return `  - { from: { on: ${on}, left: ${left} }, toward: { on: ${toOn}, left: ${toLeft} }, rolled: ${(dx * ux + dy * uy).toFixed(3)} m, side: ${words} }`;
    });
    rolls = `hole: 7\nrolls:\n${lines.join('\n')}\n`;
  });
  afterAll(() => course.remove());

  it('finds the green speed by which the balls came to rest, and says what explains their misses', async () => {
    const { code, stdout, stderr } = await roll(rolls, '--json');
    expect(code, stderr).toBe(0);
    const told = JSON.parse(stdout);
    expect(told.green_speed.value_m).toBeCloseTo(STIMP, 2);
    expect(told.green_speed.low_m).toBeLessThan(STIMP);
    expect(told.green_speed.high_m).toBeGreaterThan(STIMP);
    expect(told.green_speed.high_m - told.green_speed.low_m).toBeLessThan(0.3);
    expect(Math.abs(told.turn_of_ramp.value_deg)).toBeLessThan(0.1);
    for (const ball of told.balls) {
      expect(ball.verdict).toBe('as-computed');
      expect(ball.length_sd_by_survey).toBeGreaterThan(0);
    }
    expect(told.worth.worth).toBe('tables');
    const words = await roll(rolls);
    expect(words.stdout).toContain('green speed 9.2 ft, slope taken out');
    expect(words.stdout).toContain('speed explains what was long or short');
    expect(words.stdout).toContain('greenSpeed: 9.2');
    expect(words.stdout).not.toMatch(/NaN|undefined|null/);
  });

  it.each([
    [
      'rolled: ',
      'rolled: about ',
      /line 3, rolls\[0\]\.rolled: "about .*" is no length; write as in/,
    ],
    ['side: ', 'side: some ', /rolls\[0\]\.side: "some .*" tells no side/],
    ['hole: 7', 'hole: 77', /line 1, hole: the course has no hole 77/],
    ['hole: 7\n', 'hole: 7\nrelease: quick\n', /line 2, release: "quick" is no speed/],
    ['hole: 7\n', 'hole: 7\nspeed: 35ft\n', /line 2, speed: "35ft" is no green speed/],
    ['toward: { on: 14, left: 6 }', 'toward: { on: 10, left: 6 }', /tells no direction/],
    ['rolled: ', 'rolled: 400 m } # ', /line 3, rolls\[0\]\.rolled: the ball lies off the green/],
    [
      'toward: { on: 14, left: 6 }',
      'toward: Q',
      /rolls\[0\]\.toward: hole 7 has no hole location "Q"/,
    ],
  ])('refuses %j written as %j in one line', async (from, to, line) => {
    const { code, stdout, stderr } = await roll(rolls.replace(from, to));
    expect(code).toBe(2);
    expect(stdout).toBe('');
    expect(stderr).toMatch(line);
    expect(stderr.trim().split('\n')).toHaveLength(1);
  });
});
