import { describe, expect, it } from 'vitest';
import { seeded } from '../../course-data/vellamoor/random.js';
import type { Ring } from '../../src/geometry.js';
import { fitSurface } from '../../src/surface/fit.js';
import { HX, HY, JET_SIZE, type Surface } from '../../src/surface/surface.js';

const OUTLINE: Ring = Array.from({ length: 40 }, (_, k) => {
  const a = (2 * Math.PI * k) / 40;
  return [8 * Math.cos(a), 8 * Math.sin(a)] as const;
});
const EDGE = { angle: 0.4, offset: 1 };
const [C, S] = [Math.cos(EDGE.angle), Math.sin(EDGE.angle)];

/** Points from the air on a tilted plane, four a square metre, 4 cm noise, one side of the edge a step higher. */
const trustOver = (step: number, seed: number) => {
  const random = seeded(seed);
  const n = 1600;
  const x = Float64Array.from({ length: n }, () => random.between(-10, 10));
  const y = Float64Array.from({ length: n }, () => random.between(-10, 10));
  const z = x.map(
    (px, k) => 0.02 * px + 0.04 * random.normal() + (C * px + S * y[k] > EDGE.offset ? step : 0),
  );
  const fitted = (kind: 'cloud' | 'points') => fitSurface({ x, y, z, outline: OUTLINE, kind });
  const { surface, report } = fitted('cloud');
  const { trust } = surface;
  if (!trust?.edges) throw new Error('no edges');
  // A walked survey has no swaths: the same points without what is taken off for them.
  return { surface, trust, edges: trust.edges, report, bare: fitted('points').surface };
};

/** Error of the slope across the edge, so far past it. */
const errorAt = ({ at }: Pick<Surface, 'at'>, past: number): number => {
  const jet = new Float64Array(JET_SIZE);
  const d = EDGE.offset + past;
  at(d * C, d * S, jet);
  return C * (jet[HX] - 0.02) + S * jet[HY];
};

/** Variance that the edges add to the slope across the true one, so far past it, and all of that variance. */
const acrossAt = (
  { trust, edges }: Pick<ReturnType<typeof trustOver>, 'trust' | 'edges'>,
  past: number,
) => {
  const d = EDGE.offset + past;
  const slope = Float64Array.of(d * C, d * S, C, S);
  const parts = edges.parts(slope);
  return {
    edges: parts.reduce((sum, part) => sum + part * part, 0),
    all: trust.functionalVariance(slope),
  };
};

describe('the edge of a swath that the survey does not tell', () => {
  const hidden = trustOver(0.03, 153_050);
  const none = trustOver(0, 153_051);

  it('is doubted where the heights may hide one, and not where it would have been seen', () => {
    const [there, away] = [acrossAt(hidden, 0), acrossAt(hidden, -6)];
    expect(there.edges).toBeGreaterThan(5 * away.edges);
    expect(Math.sqrt(acrossAt(none, 0).edges)).toBeLessThan(0.5 * Math.sqrt(there.edges));
  });

  it('is taken off as far as the heights tell it, though none is clear, and what is left is within the doubt', () => {
    expect(hidden.report.shared.steps).toEqual([]);
    for (const past of [0, 1]) {
      const left = errorAt(hidden.surface, past);
      expect(left).toBeLessThan(0.75 * errorAt(hidden.bare, past));
      expect(Math.abs(left)).toBeLessThan(2 * Math.sqrt(acrossAt(hidden, past).all));
    }
    // Where there is none next to nothing is.
    expect(Math.abs(errorAt(none.surface, 0) - errorAt(none.bare, 0))).toBeLessThan(0.002);
  });

  it('adds to the variance what its lines add, their chances being one in all', () => {
    for (const { trust, edges } of [hidden, none]) {
      expect(edges.chances.reduce((sum, chance) => sum + chance, 0)).toBeCloseTo(1, 9);
      expect(Math.min(...edges.chances)).toBeGreaterThan(0);
      for (const past of [-5, 0, 2]) {
        const { edges: part, all } = acrossAt({ trust, edges }, past);
        expect(part).toBeLessThan(all);
      }
    }
  });
});
