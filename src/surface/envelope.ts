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
  /** Sets entry (i, j) of the factor, the row being held at `bi` from column `fi`; its square. */
  const settle = (bi: number, fi: number, j: number): number => {
    const bj = base[j];
    let s = a[bi + j];
    for (let k = fi; k < j; k++) s -= a[bi + k] * a[bj + k];
    s /= a[bj + j];
    a[bi + j] = s;
    return s * s;
  };
  /** Sets the diagonal entry from what is left of it; false when nothing is. */
  const root = (i: number, left: number): boolean => {
    a[base[i] + i] = Math.sqrt(left);
    return left > 0;
  };
  // Two rows and two columns at a time, so that each entry that is loaded serves twice.
  let i = 0;
  for (; i + 1 < size; i += 2) {
    const bp = base[i];
    const bq = base[i + 1];
    const fp = first[i];
    const fq = Math.min(first[i + 1], i);
    let leftP = a[bp + i];
    let leftQ = a[bq + i + 1];
    let j = fp;
    for (; j < fq; j++) leftP -= settle(bp, fp, j);
    for (; j + 1 < i; j += 2) {
      const bc = base[j];
      const bd = base[j + 1];
      let pc = 0;
      let pd = 0;
      let qc = 0;
      let qd = 0;
      for (let k = fp; k < fq; k++) {
        pc += a[bp + k] * a[bc + k];
        pd += a[bp + k] * a[bd + k];
      }
      for (let k = fq; k < j; k++) {
        const p = a[bp + k];
        const q = a[bq + k];
        const c = a[bc + k];
        const d = a[bd + k];
        pc += p * c;
        pd += p * d;
        qc += q * c;
        qd += q * d;
      }
      const cross = a[bd + j];
      pc = (a[bp + j] - pc) / a[bc + j];
      qc = (a[bq + j] - qc) / a[bc + j];
      pd = (a[bp + j + 1] - pd - pc * cross) / a[bd + j + 1];
      qd = (a[bq + j + 1] - qd - qc * cross) / a[bd + j + 1];
      a[bp + j] = pc;
      a[bq + j] = qc;
      a[bp + j + 1] = pd;
      a[bq + j + 1] = qd;
      leftP -= pc * pc + pd * pd;
      leftQ -= qc * qc + qd * qd;
    }
    for (; j < i; j++) {
      leftP -= settle(bp, fp, j);
      leftQ -= settle(bq, fq, j);
    }
    if (!root(i, leftP)) return false;
    if (first[i + 1] <= i) leftQ -= settle(bq, fq, i);
    if (!root(i + 1, leftQ)) return false;
  }
  if (i < size) {
    let left = a[base[i] + i];
    for (let j = first[i]; j < i; j++) left -= settle(base[i], first[i], j);
    return root(i, left);
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
const solveUpper = (shape: Envelope, l: Float64Array, v: Float64Array): void => {
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
