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

/** Settles entry (i, j) of the factor: all entries before it in both rows are settled. */
const settle = ({ first, base }: Envelope, a: Float64Array, i: number, j: number): void => {
  const bi = base[i];
  const bj = base[j];
  let s = a[bi + j];
  for (let k = first[i]; k < j; k++) s -= a[bi + k] * a[bj + k];
  a[bi + j] = s / a[bj + j];
};

/**
 * Settles the entries (i, j) to (i + 3, j + 1), four rows and two columns at a time, so that each entry that is
 * loaded serves two or four products. All four rows hold column j, and first[j + 1] lies before theirs.
 */
const settleBlock = ({ first, base }: Envelope, a: Float64Array, i: number, j: number): void => {
  const bp = base[i];
  const bq = base[i + 1];
  const br = base[i + 2];
  const bs = base[i + 3];
  const bc = base[j];
  const bd = base[j + 1];
  const common = first[i + 3];
  let pc = 0;
  let pd = 0;
  let qc = 0;
  let qd = 0;
  let rc = 0;
  let rd = 0;
  let sc = 0;
  let sd = 0;
  for (let k = first[i]; k < common; k++) {
    pc += a[bp + k] * a[bc + k];
    pd += a[bp + k] * a[bd + k];
  }
  for (let k = first[i + 1]; k < common; k++) {
    qc += a[bq + k] * a[bc + k];
    qd += a[bq + k] * a[bd + k];
  }
  for (let k = first[i + 2]; k < common; k++) {
    rc += a[br + k] * a[bc + k];
    rd += a[br + k] * a[bd + k];
  }
  for (let k = common; k < j; k++) {
    const c = a[bc + k];
    const d = a[bd + k];
    const p = a[bp + k];
    const q = a[bq + k];
    const r = a[br + k];
    const s = a[bs + k];
    pc += p * c;
    pd += p * d;
    qc += q * c;
    qd += q * d;
    rc += r * c;
    rd += r * d;
    sc += s * c;
    sd += s * d;
  }
  const rootC = a[bc + j];
  const cross = a[bd + j];
  const rootD = a[bd + j + 1];
  pc = (a[bp + j] - pc) / rootC;
  qc = (a[bq + j] - qc) / rootC;
  rc = (a[br + j] - rc) / rootC;
  sc = (a[bs + j] - sc) / rootC;
  a[bp + j] = pc;
  a[bq + j] = qc;
  a[br + j] = rc;
  a[bs + j] = sc;
  a[bp + j + 1] = (a[bp + j + 1] - pd - pc * cross) / rootD;
  a[bq + j + 1] = (a[bq + j + 1] - qd - qc * cross) / rootD;
  a[br + j + 1] = (a[br + j + 1] - rd - rc * cross) / rootD;
  a[bs + j + 1] = (a[bs + j + 1] - sd - sc * cross) / rootD;
};

/** Settles what is left of row i, from a column on, and its pivot; false when that is not positive. */
const finishRow = (shape: Envelope, a: Float64Array, i: number, from: number): boolean => {
  const bi = shape.base[i];
  const fi = shape.first[i];
  for (let j = Math.max(fi, from); j < i; j++) settle(shape, a, i, j);
  let left = a[bi + i];
  for (let j = fi; j < i; j++) left -= a[bi + j] * a[bi + j];
  a[bi + i] = Math.sqrt(left);
  return left > 0;
};

/** Cholesky factor L (lower, A = L L') in place over `a`. Returns false when a pivot is not positive. */
export const factorInPlace = (shape: Envelope, a: Float64Array): boolean => {
  const { size, first } = shape;
  let i = 0;
  for (; i + 3 < size; i += 4) {
    // Columns that not all four rows hold, then those that all do, in pairs.
    let j = Math.min(first[i + 3], i);
    for (let row = i; row < i + 3; row++) {
      for (let c = first[row]; c < j; c++) settle(shape, a, row, c);
    }
    for (; j + 1 < i; j += 2) settleBlock(shape, a, i, j);
    for (let row = i; row < i + 4; row++) if (!finishRow(shape, a, row, j)) return false;
  }
  for (; i < size; i++) if (!finishRow(shape, a, i, 0)) return false;
  return true;
};

/** Solves L u = v in place. */
export const solveLower = (shape: Envelope, l: Float64Array, v: Float64Array): void => {
  const { size, first, base } = shape;
  for (let i = 0; i < size; i++) {
    const bi = base[i];
    let s = v[i];
    for (let k = first[i]; k < i; k++) s -= l[bi + k] * v[k];
    v[i] = s / l[bi + i];
  }
};

/**
 * Solves L U = V in place for several columns; V lies row after row, `count` numbers a row. Four columns at
 * a time, so that each entry of L that is loaded serves all of them.
 */
export const solveLowerColumns = (
  { size, first, base }: Envelope,
  l: Float64Array,
  v: Float64Array,
  count: number,
): void => {
  let c = 0;
  for (; c + 3 < count; c += 4) {
    for (let i = 0; i < size; i++) {
      const bi = base[i];
      const at = i * count + c;
      let p = v[at];
      let q = v[at + 1];
      let r = v[at + 2];
      let s = v[at + 3];
      for (let k = first[i], from = k * count + c; k < i; k++, from += count) {
        const factor = l[bi + k];
        p -= factor * v[from];
        q -= factor * v[from + 1];
        r -= factor * v[from + 2];
        s -= factor * v[from + 3];
      }
      const pivot = l[bi + i];
      v[at] = p / pivot;
      v[at + 1] = q / pivot;
      v[at + 2] = r / pivot;
      v[at + 3] = s / pivot;
    }
  }
  for (; c < count; c++) {
    for (let i = 0; i < size; i++) {
      const bi = base[i];
      let p = v[i * count + c];
      for (let k = first[i]; k < i; k++) p -= l[bi + k] * v[k * count + c];
      v[i * count + c] = p / l[bi + i];
    }
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
