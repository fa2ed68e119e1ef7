/** Small symmetric positive definite matrices held whole, row by row. */

/** Cholesky factor (lower) in place; its upper half is left as it was. False when a pivot is not positive. */
export const factorDense = (a: Float64Array, size: number): boolean => {
  for (let i = 0; i < size; i++) {
    for (let j = 0; j <= i; j++) {
      let s = a[i * size + j];
      for (let k = 0; k < j; k++) s -= a[i * size + k] * a[j * size + k];
      if (i === j) {
        if (!(s > 0)) return false;
        a[i * size + i] = Math.sqrt(s);
      } else a[i * size + j] = s / a[j * size + j];
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
