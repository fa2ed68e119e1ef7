/**
 * Blocks page by page: as many on each as `room` holds, at least `gap` apart; the rest go to the next
 * page. All in millimetres.
 */
export const inBlocks = <T>(
  blocks: readonly T[],
  heightOf: (block: T) => number,
  room: number,
  gap: number,
): T[][] => {
  const pages: T[][] = [];
  let used = Infinity;
  for (const block of blocks) {
    const height = heightOf(block);
    if (used + height > room) {
      pages.push([]);
      used = 0;
    }
    pages[pages.length - 1].push(block);
    used += height + gap;
  }
  return pages;
};
