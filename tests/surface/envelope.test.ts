import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  envelopeOf,
  factorInPlace,
  logDeterminant,
  ROWS,
  selectedInverse,
  solveFactored,
  traceOfProduct,
} from '../../src/surface/envelope.js';

/** Dense inverse and determinant by Gauss-Jordan with pivoting: another way to the same numbers. */
const dense = (a: number[][]): { inverse: number[][]; logDet: number } => {
  const n = a.length;
  const m = a.map((row, i) => [...row, ...row.map((_, j) => (i === j ? 1 : 0))]);
  let logDet = 0;
  for (let c = 0; c < n; c++) {
    let p = c;
    for (let r = c + 1; r < n; r++) if (Math.abs(m[r][c]) > Math.abs(m[p][c])) p = r;
    [m[c], m[p]] = [m[p], m[c]];
    logDet += Math.log(Math.abs(m[c][c]));
    const pivot = m[c][c];
    m[c] = m[c].map((v) => v / pivot);
    for (let r = 0; r < n; r++) {
      if (r === c) continue;
      const f = m[r][c];
      if (f !== 0) m[r] = m[r].map((v, k) => v - f * m[c][k]);
    }
  }
  return { inverse: m.map((row) => row.slice(n)), logDet };
};

const problem = fc.integer({ min: 1, max: 24 }).chain((n) =>
  fc.record({
    reach: fc.array(fc.integer({ min: 0, max: 9 }), { minLength: n, maxLength: n }),
    entries: fc.array(fc.double({ min: -1, max: 1, noNaN: true }), {
      minLength: n * n,
      maxLength: n * n,
    }),
    right: fc.array(fc.double({ min: -5, max: 5, noNaN: true }), { minLength: n, maxLength: n }),
  }),
);

describe('the envelope Cholesky factor', () => {
  it('solves, inverts in the envelope and finds the determinant as dense elimination does', () => {
    fc.assert(
      fc.property(problem, ({ reach, entries, right }) => {
        const n = reach.length;
        const shape = envelopeOf(Int32Array.from(reach, (r, i) => Math.max(0, i - r)));
        const a = Array.from({ length: n }, () => new Array<number>(n).fill(0));
        const held = new Float64Array(shape.length);
        for (let i = 0; i < n; i++) {
          for (let j = shape.first[i]; j <= i; j++) {
            const v = i === j ? 12 + entries[i * n + j] : entries[i * n + j];
            a[i][j] = a[j][i] = v;
            held[shape.base[i] + ROWS * j] = v;
          }
        }
        const { inverse, logDet } = dense(a);
        const factor = held.slice();
        expect(factorInPlace(shape, factor)).toBe(true);
        expect(Math.abs(logDeterminant(shape, factor) - logDet)).toBeLessThan(1e-9);
        const x = Float64Array.from(right);
        solveFactored(shape, factor, x);
        const z = selectedInverse(shape, factor);
        for (let i = 0; i < n; i++) {
          const want = inverse[i].reduce((s, v, j) => s + v * right[j], 0);
          expect(Math.abs(x[i] - want)).toBeLessThan(1e-10);
          for (let j = shape.first[i]; j <= i; j++) {
            expect(Math.abs(z[shape.base[i] + ROWS * j] - inverse[i][j])).toBeLessThan(1e-10);
          }
        }
        // trace(A A^-1) = n, though only part of the inverse is known.
        expect(Math.abs(traceOfProduct(shape, held, z) - n)).toBeLessThan(1e-9);
      }),
      { numRuns: 300, seed: 5 },
    );
  });

  it('says when a matrix is not positive definite', () => {
    const shape = envelopeOf(Int32Array.from([0, 0]));
    expect(
      factorInPlace(shape, Float64Array.from([1, 2, 0, 0, 0, 1, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0])),
    ).toBe(false);
    expect(
      factorInPlace(
        shape,
        Float64Array.from([Number.NaN, 0, 0, 0, 0, 1, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0]),
      ),
    ).toBe(false);
  });
});
