import { describe, expect, it } from 'vitest';
import { trueGreens } from '../../course-data/vellamoor/truth.js';
import type { Point } from '../../src/geometry.js';
import { surfaceOfStored } from '../../src/surface/stored-surface.js';
import type { Surface } from '../../src/surface/surface.js';
import { H, JET_SIZE } from '../../src/surface/surface.js';
import { readGreen } from '../../src/terrain/read-green.js';
import type { CriticalPoint } from '../../src/terrain/reading.js';
import { atDepth } from '../depth.js';
import { prepareDemo } from '../fitted-demo.js';
import { analyticSurface } from '../surface/analytic.js';

/** Relief from which a true high or low point must be found, metres. */
const MUST_FIND = 0.03;
/** Two points are one top (bottom) when the true ground between them nowhere lies further below (above) than this. */
const SAME_TOP = MUST_FIND / 2;

/** Whether two points lie on one top of the true ground: the straight way between them stays on it. */
const onOneTop = (truth: Surface, a: Point, b: Point, kind: 'high' | 'low'): boolean => {
  const jet = new Float64Array(JET_SIZE);
  const heightAt = ([x, y]: Point): number => {
    truth.at(x, y, jet);
    return kind === 'high' ? jet[H] : -jet[H];
  };
  const top = Math.max(heightAt(a), heightAt(b));
  for (let k = 0; k <= 40; k++) {
    const t = k / 40;
    if (heightAt([a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])]) < top - SAME_TOP)
      return false;
  }
  return true;
};

/** Greens of the quick run: fitted for other tests too. */
const QUICK = ['1', '7', '12', '16'];

const tops = (points: readonly CriticalPoint[]): CriticalPoint[] =>
  points.filter((point) => point.kind !== 'saddle');

describe('high and low points of the demo’s greens, as surveyed, against its true surfaces', {
  tags: 'deep',
}, () => {
  const greens = trueGreens.filter(({ id }) => atDepth(QUICK.includes(id), true));
  const falseOnes: string[] = [];
  const missed: string[] = [];
  let required = 0;

  it.each(greens.map((green) => [green.id, green] as const))(
    'green %s is read',
    async (id, green) => {
      const [{ fit }] = await prepareDemo([id]);
      const surface = surfaceOfStored(fit.surface);
      const truth = analyticSurface(green.outline, green.at);
      // Every top of the true ground, however faint, may be found without being false.
      const real = tops(readGreen(truth, { minRelief: 0.002 }).critical);
      const found = tops(readGreen(surface).critical);
      const matches = (a: CriticalPoint, b: CriticalPoint): boolean =>
        a.kind === b.kind && onOneTop(truth, a.at, b.at, a.kind as 'high' | 'low');
      const tell = (point: CriticalPoint): string =>
        `${id}: ${point.kind} at ${point.at.map((v) => v.toFixed(1))}, ${point.relief.toFixed(3)} m`;
      expect(found.length).toBeGreaterThanOrEqual(2);
      for (const point of found) {
        if (!real.some((other) => matches(point, other))) falseOnes.push(tell(point));
      }
      for (const point of real) {
        if (point.relief < MUST_FIND) continue;
        required++;
        if (!found.some((other) => matches(point, other))) missed.push(tell(point));
      }
    },
  );

  it('at most one is false on all greens, and every true one over 3 cm of relief is found', () => {
    expect(greens.length).toBe(atDepth(4, 19));
    expect(required).toBeGreaterThan(atDepth(7, 40));
    expect(missed).toEqual([]);
    expect(falseOnes.length, falseOnes.join('; ')).toBeLessThanOrEqual(1);
  });
});
