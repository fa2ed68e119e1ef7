/** Of a normal sample, the standard deviation over the median of absolute deviations. */
const MAD_TO_SD = 1.4826;

/** 0 of no values. */
export const medianOf = (values: ArrayLike<number>): number => {
  const sorted = Float64Array.from(values).sort();
  const middle = sorted.length >> 1;
  if (sorted.length === 0) return 0;
  return sorted.length % 2 === 1 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2;
};

/**
 * Median of values and their standard deviation by the median of absolute deviations (Hampel, J. Am.
 * Statist. Assoc. 69 (1974) 383-393), which a few gross errors do not move.
 */
export const robustSpread = (
  values: readonly number[],
): { readonly middle: number; readonly sd: number } => {
  const middle = medianOf(values);
  return { middle, sd: MAD_TO_SD * medianOf(values.map((v) => Math.abs(v - middle))) };
};
