/** Small symmetric positive definite matrices held whole, row by row. */

/**
 * Cholesky factor (lower) in place; its upper half is left as it was. False when a pivot is not positive. Column by column,
 * four rows at a time, whose sums do not wait for one another.
 */
export const factorDense = (a: Float64Array, size: number): boolean => {
  for (let j = 0; j < size; j++) {
    const own = j * size;
    let pivot = a[own + j];
    for (let k = 0; k < j; k++) pivot -= a[own + k] * a[own + k];
    if (!(pivot > 0)) return false;
    pivot = Math.sqrt(pivot);
    a[own + j] = pivot;
    let i = j + 1;
    for (; i + 3 < size; i += 4) {
      const p = i * size;
      const q = p + size;
      const r = q + size;
      const s = r + size;
      let sp = a[p + j];
      let sq = a[q + j];
      let sr = a[r + j];
      let ss = a[s + j];
      for (let k = 0; k < j; k++) {
        const by = a[own + k];
        sp -= a[p + k] * by;
        sq -= a[q + k] * by;
        sr -= a[r + k] * by;
        ss -= a[s + k] * by;
      }
      a[p + j] = sp / pivot;
      a[q + j] = sq / pivot;
      a[r + j] = sr / pivot;
      a[s + j] = ss / pivot;
    }
    for (; i < size; i++) {
      const p = i * size;
      let sum = a[p + j];
      for (let k = 0; k < j; k++) sum -= a[p + k] * a[own + k];
      a[p + j] = sum / pivot;
    }
  }
  return true;
};

/** Solves L u = v in place. */
export const solveLowerDense = (l: Float64Array, size: number, v: Float64Array): void => {
  for (let i = 0; i < size; i++) {
    let s = v[i];
    for (let k = 0; k < i; k++) s -= l[i * size + k] * v[k];
    v[i] = s / l[i * size + i];
  }
};

/** Solves L' u = v in place. */
export const solveUpperDense = (l: Float64Array, size: number, v: Float64Array): void => {
  for (let i = size - 1; i >= 0; i--) {
    const u = v[i] / l[i * size + i];
    v[i] = u;
    for (let k = 0; k < i; k++) v[k] -= l[i * size + k] * u;
  }
};

/** log determinant, from the factor. */
export const logDeterminantDense = (l: Float64Array, size: number): number => {
  let sum = 0;
  for (let i = 0; i < size; i++) sum += Math.log(l[i * size + i]);
  return 2 * sum;
};
