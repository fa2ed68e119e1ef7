/** Symmetric 3 x 3 matrices as six numbers: 00, 01, 02, 11, 12, 22. */

/** The inverse; the matrix must be positive definite. */
export const inverse3 = (a: Float64Array): Float64Array => {
  const [p, q, r, s, t, u] = [a[0], a[1], a[2], a[3], a[4], a[5]];
  const c0 = s * u - t * t;
  const c1 = r * t - q * u;
  const c2 = q * t - r * s;
  const det = p * c0 + q * c1 + r * c2;
  return Float64Array.of(
    c0 / det,
    c1 / det,
    c2 / det,
    (p * u - r * r) / det,
    (q * r - p * t) / det,
    (p * s - q * q) / det,
  );
};

/** Room for a matrix and its rotations: of each of many cells one is asked for, and none leaves garbage. */
const m = new Float64Array(9);
const v = new Float64Array(9);

/** f of a symmetric matrix: f applied to its eigenvalues (Jacobi rotations, Golub & Van Loan 8.5). */
export const spectralFunction3 = (a: Float64Array, f: (value: number) => number): Float64Array => {
  m[0] = a[0];
  m[4] = a[3];
  m[8] = a[5];
  m[1] = m[3] = a[1];
  m[2] = m[6] = a[2];
  m[5] = m[7] = a[4];
  v.fill(0);
  v[0] = v[4] = v[8] = 1;
  for (let sweep = 0; sweep < 8; sweep++) {
    const off = m[1] * m[1] + m[2] * m[2] + m[5] * m[5];
    const on = m[0] * m[0] + m[4] * m[4] + m[8] * m[8];
    if (off <= 1e-24 * on) break;
    for (let p = 0; p < 2; p++) {
      for (let q = p + 1; q < 3; q++) {
        if (m[3 * p + q] === 0) continue;
        const angle = 0.5 * Math.atan2(2 * m[3 * p + q], m[4 * q] - m[4 * p]);
        const c = Math.cos(angle);
        const s = Math.sin(angle);
        for (let k = 0; k < 3; k++) {
          const x = m[3 * k + p];
          const y = m[3 * k + q];
          m[3 * k + p] = c * x - s * y;
          m[3 * k + q] = s * x + c * y;
        }
        for (let k = 0; k < 3; k++) {
          const x = m[3 * p + k];
          const y = m[3 * q + k];
          m[3 * p + k] = c * x - s * y;
          m[3 * q + k] = s * x + c * y;
          const g = v[3 * k + p];
          const h = v[3 * k + q];
          v[3 * k + p] = c * g - s * h;
          v[3 * k + q] = s * g + c * h;
        }
      }
    }
  }
  const out = new Float64Array(6);
  for (let k = 0; k < 3; k++) {
    const value = f(m[4 * k]);
    const x = v[k];
    const y = v[3 + k];
    const z = v[6 + k];
    out[0] += value * x * x;
    out[1] += value * x * y;
    out[2] += value * x * z;
    out[3] += value * y * y;
    out[4] += value * y * z;
    out[5] += value * z * z;
  }
  return out;
};
