import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Envelope, envelopeOf, ROWS } from '../../src/surface/envelope.js';
import { COLUMNS, type Factor, factorFrom, factorOf } from '../../src/surface/factor.js';

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

/** A positive definite matrix on an envelope, whole, and how it is held. */
const matrixOn = (shape: Envelope, entry: (i: number, j: number) => number) => {
  const n = shape.size;
  const a = Array.from({ length: n }, () => new Array<number>(n).fill(0));
  const held = new Float64Array(shape.length);
  for (let i = 0; i < n; i++) {
    for (let j = shape.first[i]; j <= i; j++) {
      a[i][j] = a[j][i] = entry(i, j);
      held[shape.base[i] + ROWS * j] = a[i][j];
    }
  }
  return { a, held };
};

const factorOfHeld = (shape: Envelope, held: Float64Array): Factor => {
  const factor = factorOf(shape, (a) => a.set(held));
  if (factor === null) throw new Error('no factor');
  return factor;
};

/** The places of the lower half, row after row. */
const lowerHalf = ({ size, first, base }: Envelope): { i: number; j: number; place: number }[] =>
  Array.from({ length: size }, (_, i) =>
    Array.from({ length: i + 1 - first[i] }, (_, k) => {
      const j = first[i] + k;
      return { i, j, place: base[i] + ROWS * j };
    }),
  ).flat();

describe('the Cholesky factor of an envelope', () => {
  it('solves, inverts in the envelope and finds the determinant as dense elimination does', () => {
    fc.assert(
      fc.property(problem, ({ reach, entries, right }) => {
        const n = reach.length;
        const shape = envelopeOf(Int32Array.from(reach, (r, i) => Math.max(0, i - r)));
        const { a, held } = matrixOn(shape, (i, j) => (i === j ? 14 : 0) + entries[i * n + j]);
        const { inverse, logDet } = dense(a);
        const factor = factorOfHeld(shape, held);
        expect(Math.abs(factor.logDeterminant - logDet)).toBeLessThan(1e-9);
        const x = Float64Array.from(right);
        factor.solve(x);
        const entriesHeld = lowerHalf(shape);
        const z = factor.inverseAt(Int32Array.from(entriesHeld, ({ place }) => place));
        for (let i = 0; i < n; i++) {
          const want = inverse[i].reduce((s, v, j) => s + v * right[j], 0);
          expect(Math.abs(x[i] - want)).toBeLessThan(1e-10);
        }
        entriesHeld.forEach(({ i, j }, k) => {
          expect(Math.abs(z[k] - inverse[i][j])).toBeLessThan(1e-10);
        });
      }),
      { numRuns: 150, seed: 5 },
    );
  });

  it('solves for columns together, and gives their products, as dense elimination does', () => {
    const [n, count] = [37, 6];
    const entry = (i: number, j: number): number => Math.sin(3 * i + 7 * j);
    const shape = envelopeOf(Int32Array.from({ length: n }, (_, i) => Math.max(0, i - 11)));
    const { a, held } = matrixOn(shape, (i, j) => (i === j ? 16 : 0) + entry(i, j));
    const { inverse } = dense(a);
    const factor = factorOfHeld(shape, held);
    const column = (c: number): number[] =>
      Array.from({ length: n }, (_, i) => Math.cos(i * c + c));
    const write = (four: Float64Array, c: number): void => {
      for (let d = 0; d < COLUMNS && c + d < count; d++) {
        column(c + d).forEach((value, i) => {
          four[COLUMNS * i + d] = value;
        });
      }
    };
    const solved = (c: number): number[] =>
      inverse.map((row) => row.reduce((s, v, j) => s + v * column(c)[j], 0));
    factor.solveFours('whole', count, {
      write,
      take(four, c) {
        for (let d = 0; d < COLUMNS && c + d < count; d++) {
          solved(c + d).forEach((want, i) => {
            expect(Math.abs(four[COLUMNS * i + d] - want)).toBeLessThan(1e-12);
          });
        }
      },
    });
    const products = factor.products(count, write);
    for (let c = 0; c < count; c++) {
      for (let d = 0; d < count; d++) {
        const want = solved(c).reduce((s, v, i) => s + v * column(d)[i], 0);
        expect(Math.abs(products[c * count + d] - want)).toBeLessThan(1e-11);
      }
    }
    // |L^-1 v|^2 = v' A^-1 v, and L' of L'^-1 v is v again.
    const half = Float64Array.from(column(2));
    factor.solveLower(half);
    expect(half.reduce((s, v) => s + v * v, 0)).toBeCloseTo(products[2 * count + 2], 11);
    const other = Float64Array.from(column(2));
    factor.solve(other);
    factor.solveUpper(half);
    for (let i = 0; i < n; i++) expect(Math.abs(half[i] - other[i])).toBeLessThan(1e-13);
    // The same of weights at places from anywhere on, one of them twice.
    const weights = column(4).map((value, i) => (i < 21 ? 0 : value));
    const places = Int32Array.from([...weights.keys(), 30].filter((i) => i >= 21));
    const parts = Float64Array.from(places, (i, k) =>
      i === 30 ? (k === places.length - 1 ? 2 : weights[i] - 2) : weights[i],
    );
    const whole = weights.reduce(
      (s, v, i) => s + v * inverse[i].reduce((sum, entry, j) => sum + entry * weights[j], 0),
      0,
    );
    expect(factor.formOf(places, parts)).toBeCloseTo(whole, 12);
  });

  it('is brought back where another has taken its place, and from its copy', () => {
    const shapes = [9, 30].map((n) =>
      envelopeOf(Int32Array.from({ length: n }, (_, i) => Math.max(0, i - 5))),
    );
    const [one, two] = shapes.map((shape) =>
      factorOfHeld(shape, matrixOn(shape, (i, j) => (i === j ? 9 + i : 1 / (1 + i + j))).held),
    );
    const solution = (factor: Factor, n: number): Float64Array => {
      const v = new Float64Array(n).fill(1);
      factor.solve(v);
      return v;
    };
    const first = solution(one, 9);
    const second = solution(two, 30);
    expect(solution(one, 9)).toEqual(first);
    const again = factorFrom(shapes[1], two.copy());
    expect(solution(one, 9)).toEqual(first);
    expect(solution(again, 30)).toEqual(second);
    expect(again.logDeterminant).toBe(two.logDeterminant);
  });

  it('says when a matrix is not positive definite', () => {
    const shape = envelopeOf(Int32Array.from([0, 0]));
    const of = (...entries: readonly number[]) =>
      factorOf(shape, (a) => a.set([entries[0], entries[1], 0, 0, 0, entries[2]]));
    expect(of(1, 2, 5)).not.toBeNull();
    expect(of(1, 2, 1)).toBeNull();
    expect(of(Number.NaN, 0, 1)).toBeNull();
    expect(of(0, 0, 1)).toBeNull();
  });
});
