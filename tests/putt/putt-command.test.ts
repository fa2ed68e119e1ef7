import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { runCaptured } from '../cli/run-captured.js';

let folder: string;
let plane: string;
let steep: string;

const survey = (height: (x: number, y: number) => number, east: number, north: number): string => {
  const lines = ['x,y,z'];
  for (let x = -9; x <= 9; x += 0.75) {
    for (let y = -9; y <= 9; y += 0.75)
      lines.push(`${east + x},${north + y},${height(x, y).toFixed(7)}`);
  }
  return `${lines.join('\n')}\n`;
};

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'runnel-putt-'));
  plane = join(folder, 'plane.csv');
  steep = join(folder, 'steep.csv');
  writeFileSync(
    plane,
    survey((_x, y) => 42 + 0.02 * y, 612300, 4210500),
  );
  writeFileSync(
    steep,
    survey((_x, y) => 0.1 * y, 0, 0),
  );
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const putt = (file: string, from: string, ...more: string[]) =>
  runCaptured(['putt', '--survey', file, '--from', from, ...more]);

describe('runnel putt', () => {
  it('prints the solved putt in the coordinates of the survey', async () => {
    // The worked case of the project's facts: 10 ft from the left of a 2 % plane, 12 in past, 10 ft.
    const { code, stdout } = await putt(
      plane,
      '612296.952,4210500',
      ...['--hole', '612300,4210500', '--stimp', '10', '--past', '12in', '--json'],
    );
    expect(code).toBe(0);
    const told = JSON.parse(stdout);
    expect(told.status).toBe('holed');
    expect(told.aim_offset_m / 0.0254).toBeCloseTo(11.8, 1);
    expect(told.pace_m / 0.3048).toBeCloseTo(11.0, 1);
    expect(told.aim_offset_m).toBeCloseTo(
      3.048 * Math.tan((told.aim_angle_deg * Math.PI) / 180),
      6,
    );
    expect(told.break_side).toBe('right');
    expect(told.entry_clock).toBeGreaterThan(6);
    expect(told.arrival_speed_mps).toBeCloseTo(0.5787, 3);
    expect(told.launch_speed_mps).toBeCloseTo(
      Math.sqrt((2 * told.pace_m * 1.83 ** 2) / 2 / 3.048),
      4,
    );
    expect(told.aim_window_deg[0]).toBeLessThan(told.aim_angle_deg);
    expect(told.speed_window_mps[1]).toBeGreaterThan(told.launch_speed_mps);
    expect(told.time_s).toBeGreaterThan(2);
    expect(told.path[0]).toEqual([612296.952, 4210500]);
    const [x, y] = told.path[told.path.length - 1];
    expect(Math.hypot(x - 612300, y - 4210500)).toBeLessThan(5e-4);
    expect(told.not_modelled.length).toBe(3);
  });

  it('takes lengths with their units, and shows metric figures on request', async () => {
    const asked = ['--hole', '612300,4210500', '--json'];
    const a = await putt(plane, '612297,4210498', '--stimp', '10ft', '--past', '1ft', ...asked);
    const b = await putt(
      plane,
      '612297,4210498',
      '--stimp',
      '3.048m',
      '--past',
      '30.48cm',
      ...asked,
    );
    expect(JSON.parse(a.stdout).aim_offset_m).toBeCloseTo(JSON.parse(b.stdout).aim_offset_m, 9);
    const c = await putt(
      plane,
      '612297,4210498',
      ...['--stimp', '10', '--hole', '612300,4210500', '--units', 'metric'],
    );
    expect(c.stdout).toMatch(/\d+ cm left of the hole/);
  });

  it('draws the putt, whole, with its words', async () => {
    const svg = join(folder, 'putt.svg');
    const { code } = await putt(
      plane,
      '612297,4210498',
      ...['--hole', '612300,4210500', '--stimp', '11', '--svg', svg],
    );
    expect(code).toBe(0);
    const drawn = readFileSync(svg, 'utf8');
    expect(drawn.startsWith('<svg')).toBe(true);
    expect(drawn.trimEnd().endsWith('</svg>')).toBe(true);
    expect(drawn).toContain('practice only');
  });

  it('says that no pace holds a putt down a slope past the critical grade', {
    tags: 'long',
  }, async () => {
    const { code, stdout } = await putt(steep, '0,5', '--hole', '0,-1', '--stimp', '10', '--json');
    expect(code).toBe(0);
    const told = JSON.parse(stdout);
    expect(told.status).toBe('never-stops');
    expect(told.would_roll_past_m).toBeNull();
    expect(told.arrival_speed_mps).toBeGreaterThan(1.2);
  });

  it('takes negative coordinates', async () => {
    const { code, stdout } = await putt(
      steep,
      '-1,-4',
      '--hole',
      '-0.5,2',
      '--stimp',
      '10',
      '--json',
    );
    expect(code).toBe(0);
    expect(JSON.parse(stdout).status).toBe('holed');
  });

  it.each([
    [['--hole', '612300', '--stimp', '10'], /--hole.*not a point.*X,Y/],
    [['--hole', '612300,4210500', '--stimp', 'fast'], /--stimp.*not a green speed/],
    [['--hole', '612300,4210500', '--stimp', '50'], /--stimp.*no stimp reading/],
    [['--hole', '612300,4210500', '--stimp', '10', '--past', '9ft'], /--past.*Holmes/],
    [['--hole', '612350,4210500', '--stimp', '10'], /--hole.*off the surveyed ground|no point/],
    [['--hole', '612297,4210498', '--stimp', '10'], /the ball lies in the hole/],
  ])('refuses %j in one line', async (more, message) => {
    const svg = join(folder, 'never.svg');
    const { code, stdout, stderr } = await putt(plane, '612297,4210498', ...more, '--svg', svg);
    expect(code).toBe(2);
    expect(stdout).toBe('');
    expect(stderr).toMatch(message);
    expect(stderr.trim().split('\n').length).toBe(1);
    expect(existsSync(svg)).toBe(false);
  });
});

describe('runnel speed', () => {
  it('gives the level speed of two rolls (Brede, USGA Green Section Record 28(6), 1990)', async () => {
    const { code, stdout } = await runCaptured([
      'speed',
      '--up',
      '7ft',
      '--down',
      '14ft',
      '--json',
    ]);
    expect(code).toBe(0);
    const told = JSON.parse(stdout);
    expect(told.stimp_ft).toBeCloseTo((2 * 7 * 14) / 21, 9);
    expect(told.grade_percent).toBeCloseTo(2.79, 1);
    // Sdown is twice Sup: moderately sloped (USGA Course Rating manual, section 8).
    expect(told.advice).toMatch(/moderately/);
  });

  it('says when the plain average would do (18 in, USGA Stimpmeter instruction booklet)', async () => {
    const near = await runCaptured(['speed', '--up', '9.5', '--down', '10.5']);
    expect(near.stdout).toMatch(/green speed 10\.0 ft/);
    expect(near.stdout).toMatch(/plain average/);
    const metric = await runCaptured(['speed', '--up', '2.4', '--down', '9', '--units', 'metric']);
    expect(metric.stdout).toMatch(/3\.79 m/);
    expect(metric.stdout).toMatch(/steep/);
  });

  it('asks rolls back that look exchanged', async () => {
    const { code, stderr } = await runCaptured(['speed', '--up', '12ft', '--down', '8ft']);
    expect(code).toBe(2);
    expect(stderr).toMatch(
      /--up: the roll up .* longer .*; exchanged\? write --up 8ft --down 12ft/,
    );
  });

  it('refuses a roll that is none', async () => {
    for (const [up, down] of [
      ['0.001mm', '1 pace'],
      ['1ft', '2ft'],
      ['40m', '60m'],
    ]) {
      const odd = await runCaptured(['speed', '--up', up, '--down', down]);
      expect(odd.code).toBe(2);
      expect(odd.stdout).toBe('');
      expect(odd.stderr).toMatch(
        `runnel: command line: rolls of ${up} and ${down} are a green speed of `,
      );
    }
    const { code, stderr } = await runCaptured(['speed', '--up', '0', '--down', '10']);
    expect(code).toBe(2);
    expect(stderr).toMatch(/--up/);
  });
});
