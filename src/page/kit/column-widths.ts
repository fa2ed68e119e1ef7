/**
 * Widths of columns side by side, millimetres: the shares that they are given of `width`, as long as each has room for
 * what it needs; else what each needs, shrunk to `width` where that is less.
 */
export const columnWidths = (
  width: number,
  shares: readonly number[],
  needs: readonly number[],
): number[] => {
  const sum = (of: readonly number[]): number => of.reduce((all, one) => all + one, 0);
  const even = shares.map((share) => (width * share) / sum(shares));
  if (even.every((one, i) => needs[i] <= one)) return even;
  const rest = Math.max(0, width - sum(needs)) / needs.length;
  const scale = Math.min(1, width / sum(needs));
  return needs.map((need) => need * scale + rest);
};
