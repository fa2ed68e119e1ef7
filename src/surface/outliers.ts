/** Standard deviation of normal noise from the median of absolute values (x 1.4826). */
export const robustScale = (values: Float64Array): number => {
  const sorted = values.map(Math.abs).sort();
  const n = sorted.length;
  const median = n % 2 === 1 ? sorted[(n - 1) / 2] : (sorted[n / 2 - 1] + sorted[n / 2]) / 2;
  return 1.4826 * median;
};

/**
 * Weights after Hampel: 1 up to 3 deviations, falling to 0 at 5. Source: Hampel et al., Robust
 * Statistics (1986), the three-part redescending function, without its middle part.
 */
export const hampelWeights = (values: Float64Array, scale: number): Float64Array<ArrayBuffer> =>
  values.map((value) => {
    const t = Math.abs(value) / Math.max(scale, 1e-6);
    return t <= 3 ? 1 : t >= 5 ? 0 : (5 - t) / 2;
  });
