/**
 * How many blocks stand on each page: as many as `room` holds, at least `gap` apart; the rest go to the
 * next page. All in millimetres.
 */
export const blocksPerPage = (heights: readonly number[], room: number, gap: number): number[] => {
  const counts: number[] = [];
  let used = Infinity;
  for (const height of heights) {
    if (used + height > room) {
      counts.push(0);
      used = 0;
    }
    counts[counts.length - 1] += 1;
    used += height + gap;
  }
  return counts;
};
