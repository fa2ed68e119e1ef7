/**
 * Limits over which a disc is clear, one for each size, in standard deviations: each size is passed by about as few
 * draws of ground that did not move as any other, and the share of draws that pass any limit is at most the false
 * alarm. One limit for all would be that of the smallest discs, which are many and hide what is large (several scales
 * tested at once: Duembgen & Spokoiny, Annals of Statistics 29 (2001) 124-152).
 *
 * @param greatest for each size the clearest of its discs, draw by draw.
 */
export const limitsBySize = (
  greatest: readonly Float64Array[],
  falseAlarm: number,
): readonly number[] => {
  const draws = greatest[0]?.length ?? 0;
  const sorted = greatest.map((one) => one.toSorted());
  /** The limits that so many draws of each size pass. */
  const passedBy = (count: number): number[] => sorted.map((one) => one[draws - 1 - count]);
  const alarms = (limits: readonly number[]): number => {
    let passed = 0;
    for (let d = 0; d < draws; d++) if (greatest.some((one, k) => one[d] > limits[k])) passed++;
    return passed;
  };
  const allowed = Math.floor(falseAlarm * draws);
  for (let count = allowed; count > 0; count--) {
    const limits = passedBy(count);
    if (alarms(limits) <= allowed) return limits;
  }
  return passedBy(0);
};
