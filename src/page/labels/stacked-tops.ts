/**
 * Tops of stacked labels that keep their order and their gaps, stay within [low, high], and lie as near
 * as they can to where they would rather be: least squares by pooling neighbours that would overlap
 * (pool adjacent violators; Barlow and others, Statistical Inference under Order Restrictions, 1972).
 */
export const stackedTops = (
  wanted: readonly number[],
  heights: readonly number[],
  gap: number,
  low: number,
  high: number,
): number[] => {
  interface Block {
    sum: number;
    count: number;
    size: number;
  }
  // With the heights of those before it taken off, the tops need only not decrease.
  const blocks: Block[] = [];
  let before = 0;
  wanted.forEach((top, i) => {
    blocks.push({ sum: top - before, count: 1, size: 1 });
    before += heights[i] + gap;
    for (;;) {
      const last = blocks[blocks.length - 1];
      const previous = blocks[blocks.length - 2];
      if (previous === undefined || previous.sum / previous.count <= last.sum / last.count) break;
      blocks.splice(-2, 2, {
        sum: previous.sum + last.sum,
        count: previous.count + last.count,
        size: previous.size + last.size,
      });
    }
  });
  const most = high - (before - gap);
  const tops: number[] = [];
  let used = 0;
  for (const block of blocks) {
    const base = Math.max(low, Math.min(most, block.sum / block.count));
    for (let k = 0; k < block.size; k++) {
      const i = tops.length;
      tops.push(base + used);
      used += heights[i] + gap;
    }
  }
  return tops;
};
