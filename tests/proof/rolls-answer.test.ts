import { describe, expect, it } from 'vitest';
import type { Point } from '../../src/geometry.js';
import type { GreenContent } from '../../src/page/book-content.js';
import { answerRolls, type TappedRoll } from '../../src/proof/rolls-answer.js';
import { STIMP_RELEASE_SPEED } from '../../src/putt/green-speed.js';
import { rollToRest } from '../../src/putt/roll.js';
import { puttGround } from '../../src/putt/workspace.js';
import { fitSurface } from '../../src/surface/fit.js';
import { HX, HY } from '../../src/surface/surface.js';
import { feetToMetres, metresToFeet } from '../../src/units.js';
import { FIT_FOR_TABLES } from '../fit-for-tables.js';
import { circleRing } from '../surface/analytic.js';

/** Green speed on the day, 9.2 ft, where the course file says 10.5. */
const TRUE = 2.8;
const outline = circleRing(9, 0, 9);

const fitted = () => {
  const [x, y, z]: number[][] = [[], [], []];
  for (let i = -9; i <= 9; i++) {
    for (let k = 0; k <= 18; k++) {
      x.push(i);
      y.push(k);
      z.push(0.015 * k + 0.06 * Math.sin(i / 3) + ((i * 7 + k * 13) % 5) * 0.001);
    }
  }
  return fitSurface({
    x: Float64Array.from(x),
    y: Float64Array.from(y),
    z: Float64Array.from(z),
    outline,
  });
};

describe('measured balls in the proof', () => {
  const { surface, stored } = fitted();
  const green = {
    holeId: '7',
    outline,
    worth: FIT_FOR_TABLES,
    stimp: feetToMetres(10.5),
    past: 0.3,
  } as unknown as GreenContent;
  const w = puttGround(surface, { stimp: TRUE, past: 0.3 });
  const rolled = (
    ball: Point,
    hole: Point,
    release = STIMP_RELEASE_SPEED,
  ): TappedRoll & { readonly rest: Point } => {
    const jet = new Float64Array(10);
    const length = Math.hypot(hole[0] - ball[0], hole[1] - ball[1]);
    const [ux, uy] = [(hole[0] - ball[0]) / length, (hole[1] - ball[1]) / length];
    surface.at(ball[0], ball[1], jet);
    const flat = release / Math.hypot(1, jet[HX] * ux + jet[HY] * uy);
    const { end } = rollToRest(w, ball, [flat * ux, flat * uy]);
    return { ball, hole, by: 'ramp', rest: end };
  };
  const balls = [
    rolled([0, 6], [0, 10]),
    rolled([0, 10], [0, 6]),
    rolled([-3, 8], [1, 8]),
    rolled([3, 9], [-1, 9]),
    rolled([-2, 6], [1, 9]),
    rolled([2, 11], [-1, 8]),
  ];
  const ask = (tapped: readonly TappedRoll[], ramp = '') =>
    answerRolls({ surface, stored }, green, { tapped, ramp }, 'imperial');

  it('tells the green speed that they were rolled at, and that it is not the one thought to hold', () => {
    const { rows, said, rests } = ask(balls);
    const speed = Number(/^green speed ([\d.]+) ft/.exec(said)?.[1]);
    expect(speed).toBeCloseTo(metresToFeet(TRUE), 0);
    expect(rows.join('\n')).toContain('10.5 ft was thought to hold and lies outside');
    expect(rows.at(-1)).toMatch(/^ramp 6 .*as computed$/);
    expect(rests).toEqual(balls.map(({ rest }) => rest));
  });

  it('takes what is typed of a ball for what was tapped', () => {
    const typed = balls.map(({ ball, hole, by, rest }): TappedRoll => {
      const length = Math.hypot(hole[0] - ball[0], hole[1] - ball[1]);
      const [ux, uy] = [(hole[0] - ball[0]) / length, (hole[1] - ball[1]) / length];
      const [dx, dy] = [rest[0] - ball[0], rest[1] - ball[1]];
      const off = dy * ux - dx * uy;
      const words = `${(dx * ux + dy * uy).toFixed(3)} m, ${Math.abs(100 * off).toFixed(1)} cm ${off > 0 ? 'left' : 'right'}`;
      return { ball, hole, by, rest: words };
    });
    expect(ask(typed).said).toBe(ask(balls).said);
    ask(typed).rests.forEach((rest, k) => {
      expect(Math.hypot(rest[0] - balls[k].rest[0], rest[1] - balls[k].rest[1])).toBeLessThan(2e-3);
    });
  });

  it('tells the same green speed of a ramp that lets go more softly, once that is said', () => {
    const soft = balls.map(({ ball, hole }) => rolled(ball, hole, 1.5));
    for (const ramp of ['1.5 m/s', '4.92 ft/s']) {
      const speed = Number(/^green speed ([\d.]+) ft/.exec(ask(soft, ramp).said)?.[1]);
      expect(speed).toBeCloseTo(metresToFeet(TRUE), 0);
    }
    // Else the green is taken for a slower one: roll goes with the square of the release.
    expect(Number(/^green speed ([\d.]+) ft/.exec(ask(soft).said)?.[1])).toBeLessThan(7);
  });

  it('says how a ramp’s speed is to be written, and blames no ball for it', () => {
    for (const ramp of ['fast', '1.5', '30 m/s']) {
      expect(ask(balls, ramp)).toMatchObject({
        said: expect.stringMatching(/^Write the speed at which the ramp lets a ball go/),
        refused: 'release',
      });
    }
    expect(ask([{ ...balls[0], rest: [40, 9] }]).refused).toBe('ball');
    expect(ask(balls).refused).toBe(null);
  });

  it('finds the ball that was tapped in the wrong place', () => {
    const bad = { ...balls[2], rest: [balls[2].ball[0] + 1.1, balls[2].ball[1] + 0.9] as Point };
    const rows = ask([...balls.slice(0, 2), bad, ...balls.slice(3), ...balls.slice(0, 2)]).rows;
    expect(rows.filter((row) => row.includes('apart from the others'))).toHaveLength(1);
    expect(rows.find((row) => row.startsWith('ramp 3'))).toContain('apart from the others');
  });

  it('says why a ball tells nothing, and counts none of them', () => {
    const [one] = balls;
    expect(ask([{ ...one, rest: [40, 9] }]).said).toMatch(/lies off the green/);
    expect(ask([{ ...one, rest: 'nine feet' }]).said).toMatch(/^Write how far it rolled/);
    expect(ask([{ ...one, ball: [0, 9], hole: [0, 9.1] }]).said).toMatch(/no direction/);
    expect(ask([{ ...one, rest: 'nine feet' }]).rests).toEqual([]);
    expect(ask([]).rows).toEqual([]);
    const poor = { ...green, worth: { ...FIT_FOR_TABLES, worth: 'arrows' as const } };
    expect(
      answerRolls({ surface, stored }, poor, { tapped: balls, ramp: '' }, 'imperial').said,
    ).toMatch(/does not carry putts/);
  });
});
