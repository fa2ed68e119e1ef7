/**
 * Symmetric positive definite matrices held row by row from the first non-zero to the diagonal, with
 * first columns that never decrease: the envelope of a banded matrix. The Cholesky factor and the
 * part of the inverse that Takahashi's recursion yields fill the same envelope.
 * Sources: George & Liu, Computer Solution of Large Sparse Positive Definite Systems (1981);
 * Takahashi, Fagan & Chen (1973), in the form of Erisman & Tinney, Comm. ACM 18 (1975) 177-179.
 */
export interface Envelope {
  readonly size: number;
  /** First column held in each row; never decreasing. */
  readonly first: Int32Array;
  /** Entry (i, j), first[i] <= j <= i, lies at base[i] + j. */
  readonly base: Int32Array;
  /** Last row whose envelope holds column j. */
  readonly last: Int32Array;
  /** Number of entries held. */
  readonly length: number;
}

/** The envelope for wished first columns (any order); they are lowered where needed to never decrease. */
export const envelopeOf = (wished: Int32Array): Envelope => {
  const size = wished.length;
  const first = Int32Array.from(wished);
  for (let i = size - 2; i >= 0; i--) if (first[i] > first[i + 1]) first[i] = first[i + 1];
  const base = new Int32Array(size);
  let length = 0;
  for (let i = 0; i < size; i++) {
    base[i] = length - first[i];
    length += i - first[i] + 1;
  }
  const last = new Int32Array(size);
  for (let i = 0, j = 0; i < size; i++) {
    // Rows before i whose reach ends here: columns below first[i] were last seen in row i - 1.
    while (j < first[i]) last[j++] = i - 1;
    if (i === size - 1) while (j < size) last[j++] = i;
  }
  return { size, first, base, last, length };
};

/**
 * Cholesky factor L (lower, A = L L') in place over `a`. Returns false when a pivot is not positive.
 */
export const factorInPlace = (shape: Envelope, a: Float64Array): boolean => {
  const { size, first, base } = shape;
  for (let i = 0; i < size; i++) {
    const fi = first[i];
    const bi = base[i];
    let diagonal = a[bi + i];
    let j = fi;
    // Two columns at a time, so that each entry of row i is loaded once for both.
    for (; j + 1 < i; j += 2) {
      const bj = base[j];
      const bk = base[j + 1];
      let s0 = 0;
      let s1 = 0;
      let t0 = 0;
      let t1 = 0;
      let k = fi;
      for (; k + 1 < j; k += 2) {
        const p = a[bi + k];
        const q = a[bi + k + 1];
        s0 += p * a[bj + k];
        s1 += q * a[bj + k + 1];
        t0 += p * a[bk + k];
        t1 += q * a[bk + k + 1];
      }
      if (k < j) {
        const p = a[bi + k];
        s0 += p * a[bj + k];
        t0 += p * a[bk + k];
      }
      const left = (a[bi + j] - s0 - s1) / a[bj + j];
      const right = (a[bi + j + 1] - t0 - t1 - left * a[bk + j]) / a[bk + j + 1];
      a[bi + j] = left;
      a[bi + j + 1] = right;
      diagonal -= left * left + right * right;
    }
    for (; j < i; j++) {
      const bj = base[j];
      let s = a[bi + j];
      for (let k = fi; k < j; k++) s -= a[bi + k] * a[bj + k];
      s /= a[bj + j];
      a[bi + j] = s;
      diagonal -= s * s;
    }
    if (!(diagonal > 0)) return false;
    a[bi + i] = Math.sqrt(diagonal);
  }
  return true;
};

/** Solves L u = v in place, from row `from` on (v is zero before it). */
export const solveLower = (shape: Envelope, l: Float64Array, v: Float64Array, from = 0): void => {
  const { size, first, base } = shape;
  for (let i = from; i < size; i++) {
    const bi = base[i];
    let s = v[i];
    for (let k = Math.max(first[i], from); k < i; k++) s -= l[bi + k] * v[k];
    v[i] = s / l[bi + i];
  }
};

/** Solves L' u = v in place. */
export const solveUpper = (shape: Envelope, l: Float64Array, v: Float64Array): void => {
  const { size, first, base } = shape;
  for (let i = size - 1; i >= 0; i--) {
    const bi = base[i];
    const u = v[i] / l[bi + i];
    v[i] = u;
    for (let k = first[i]; k < i; k++) v[k] -= l[bi + k] * u;
  }
};

/** Solves A x = v in place, from the factor of A. */
export const solveFactored = (shape: Envelope, l: Float64Array, v: Float64Array): void => {
  solveLower(shape, l, v);
  solveUpper(shape, l, v);
};

/** log determinant of A, from its factor. */
export const logDeterminant = (shape: Envelope, l: Float64Array): number => {
  let sum = 0;
  for (let i = 0; i < shape.size; i++) sum += Math.log(l[shape.base[i] + i]);
  return 2 * sum;
};

/** The entries of the inverse of A that lie in the envelope, from the factor of A (Takahashi). */
export const selectedInverse = (
  shape: Envelope,
  l: Float64Array,
  z: Float64Array = new Float64Array(shape.length),
): Float64Array => {
  const { size, base, last } = shape;
  const column = new Float64Array(size);
  const sum = new Float64Array(size);
  for (let i = size - 1; i >= 0; i--) {
    const end = last[i];
    const pivot = 1 / l[base[i] + i];
    for (let r = i + 1; r <= end; r++) {
      column[r] = l[base[r] + i] * pivot;
      sum[r] = 0;
    }
    // sum = Z column over rows i+1..end, with the lower half of Z only.
    // Two rows at a time, so that each entry of column and sum is loaded once for both.
    let k = i + 1;
    for (; k + 1 <= end; k += 2) {
      const bk = base[k];
      const bl = base[k + 1];
      const c = column[k];
      const d = column[k + 1];
      let s = 0;
      let t = 0;
      for (let j = i + 1; j < k; j++) {
        const p = z[bk + j];
        const q = z[bl + j];
        const e = column[j];
        s += p * e;
        t += q * e;
        sum[j] += p * c + q * d;
      }
      const cross = z[bl + k];
      sum[k] += s + z[bk + k] * c + cross * d;
      sum[k + 1] += t + cross * c + z[bl + k + 1] * d;
    }
    if (k === end) {
      const bk = base[k];
      const c = column[k];
      let s = 0;
      for (let j = i + 1; j < k; j++) {
        const p = z[bk + j];
        s += p * column[j];
        sum[j] += p * c;
      }
      sum[k] += s + z[bk + k] * c;
    }
    let diagonal = pivot * pivot;
    for (let r = i + 1; r <= end; r++) {
      z[base[r] + i] = -sum[r];
      diagonal += sum[r] * column[r];
    }
    z[base[i] + i] = diagonal;
  }
  return z;
};

/** Sum over all entries of the product of two symmetric matrices held in one envelope: trace(A B). */
export const traceOfProduct = (shape: Envelope, a: Float64Array, b: Float64Array): number => {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i] * b[i];
  sum *= 2;
  for (let i = 0; i < shape.size; i++) {
    const at = shape.base[i] + i;
    sum -= a[at] * b[at];
  }
  return sum;
};
