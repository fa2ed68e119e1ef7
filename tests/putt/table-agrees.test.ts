import { describe, expect, it } from 'vitest';
import type { Point } from '../../src/geometry.js';
import { solveOn } from '../../src/putt/solve.js';
import { breakTable } from '../../src/putt/table.js';
import { puttGround } from '../../src/putt/workspace.js';
import type { Surface } from '../../src/surface/surface.js';
import { feetToMetres, inchesToMetres } from '../../src/units.js';
import { atDepth } from '../depth.js';
import { circleRing, twoTier } from '../surface/analytic.js';
import { randomFrom, randomGround, wavySurface } from './grounds.js';

/**
 * A table's cells come from one fan of backward motions, a single putt from a fan of its own: they are to
 * agree, blanks and figures alike, over tiers too.
 */
const LENGTHS = [3, 6, 10, 15, 20, 30].map(feetToMetres);
const SPEEDS = [8, 10, 11.5, 13].map(feetToMetres);
const LOCATIONS = 40;
/** Those of the quick run: a tier, waves, and a tier that gives a ball back that is sent up it, away from the hole. */
const QUICK = [1, 2, 33];
/** Blanks of a table that are solved alone, in the longest run every one: the search for the slowest arrival is long where ground scatters balls. */
const BLANKS = atDepth(2, 3, Number.POSITIVE_INFINITY);
const SEED = 71_500;
/** Ground on which the fan for 30 ft passes over two balls that a fan of their own comes to. */
const PASSED_OVER = 161;

const outline = circleRing(15);
const groundBy = (random: () => number, k: number): Surface =>
  k % 2 === 0
    ? twoTier(
        outline,
        0.25 + 0.5 * random(),
        6 * random() - 3,
        0.7 + 1.5 * random(),
        0.02 * random(),
      )
    : wavySurface(randomGround(random, 0.03, 0.045), outline);

describe('every cell of a table is what the putt solved alone is', { tags: 'deep' }, () => {
  const random = randomFrom(SEED);
  const all = Array.from({ length: PASSED_OVER }, (_, k) => {
    const surface = groundBy(random, k);
    const hole: Point = [8 * random() - 4, 12 * random() - 6];
    return [k + 1, surface, hole] as const;
  });
  const places = all
    .slice(0, LOCATIONS)
    .filter(([k]) => atDepth(QUICK.includes(k), k % 4 === 1, true));
  const count = { figures: 0, blanks: 0 };

  it.each(places)('hole location %i', (k, surface, hole) => {
    // Each of the quick ones at its own speed.
    for (const stimp of atDepth([SPEEDS[k % SPEEDS.length]], SPEEDS)) {
      const settings = { stimp, past: inchesToMetres(12) };
      const w = puttGround(surface, settings);
      let blanks = 0;
      for (const cell of breakTable(surface, hole, LENGTHS, settings).cells) {
        if (cell.outcome === 'off-green') continue;
        if (cell.putt === null && ++blanks > BLANKS) continue;
        const alone = solveOn(w, cell.ball, hole);
        const place = `${cell.quadrant} ${cell.length.toFixed(2)} m at ${stimp.toFixed(2)} m`;
        if (cell.putt === null) {
          count.blanks += 1;
          expect(alone.status, place).not.toMatch(/^(holed|leaves-green)$/);
          continue;
        }
        count.figures += 1;
        expect(alone.status, place).toBe(cell.outcome === 'solved' ? 'holed' : 'leaves-green');
        expect(Math.abs(alone.aimOffset - cell.putt.aimOffset), place).toBeLessThan(2e-3);
        expect(Math.abs(alone.pace - cell.putt.pace), place).toBeLessThan(2e-3);
      }
    }
  });

  it('where only a fan of its own comes to the ball', () => {
    const [, surface, hole] = all[PASSED_OVER - 1];
    const settings = { stimp: feetToMetres(8), past: inchesToMetres(12) };
    const w = puttGround(surface, settings);
    const cells = breakTable(surface, hole, LENGTHS, settings).cells.filter(
      ({ quadrant, length }) => quadrant === 'above' && length < 2,
    );
    expect(cells.length).toBe(2);
    for (const { putt, ball } of cells) {
      const alone = solveOn(w, ball, hole);
      expect(alone.status).toBe('holed');
      expect(putt?.aimOffset).toBeCloseTo(alone.aimOffset, 2.5);
      expect(putt?.pace).toBeCloseTo(alone.pace, 2.5);
    }
  });

  it('over blanks and figures', () => {
    expect(count.figures).toBeGreaterThan(15 * places.length);
    expect(count.blanks).toBeGreaterThanOrEqual(atDepth(0, 5, 20));
  });
});
