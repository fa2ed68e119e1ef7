/** What the smoothing leaves alone: planes. */
const PLANE = 3;
/** Degrees over a plane's are never taken for less. */
const LEAST_OVER = 1e-6;

/** log (sinh v / v). */
const logSinhOver = (v: number): number =>
  Math.abs(v) < 1e-4 ? (v * v) / 6 : Math.log(Math.sinh(v) / v);

/**
 * Degrees of freedom at smoothings that stand evenly apart, from the logarithm of the determinant at each. With
 * A = B'WB + s E, trace(A^-1 B'WB) is the number of unknowns less d log|A| / d log s, so that each difference tells the
 * mean over an interval. What is over a plane's goes about with a power of the smoothing: its logarithm is laid through
 * the means (through the middles of the two or three intervals that are nearest), less what a mean is over its middle.
 *
 * @param logs of the determinants, at least three; `apart` the step in the natural logarithm of the smoothing.
 */
export const degreesFrom = (logs: readonly number[], size: number, apart: number): number[] => {
  const means = logs
    .slice(1)
    .map((log, k) => Math.log(Math.max(LEAST_OVER, size - PLANE - (log - logs[k]) / apart)));
  return logs.map((_, k) => {
    // The middle of the mean i lies at i + 1/2.
    const first = Math.max(0, Math.min(means.length - 3, k - 2 + (k > logs.length / 2 ? 0 : 1)));
    const [a, b, c] = means.slice(first, first + 3);
    const second = c === undefined ? 0 : c - 2 * b + a;
    const t = k - first - 1;
    // Through a at -1/2, b at 1/2 and c at 3/2, counted from the end of the first interval.
    const rise = b - a + second * t;
    const level = (a + b) / 2 + (b - a) * t + (second / 2) * (t * t - 0.25);
    return PLANE + Math.exp(level - logSinhOver(rise / 2) - second / 24);
  });
};
