/**
 * The first of `count` places in order at which something holds that, once it holds, holds at all that follow;
 * `count` where it holds at none.
 */
export const firstIndex = (count: number, holds: (index: number) => boolean): number => {
  let [low, high] = [0, count];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (holds(middle)) high = middle;
    else low = middle + 1;
  }
  return low;
};
