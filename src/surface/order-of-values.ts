/** Entries from the highest down (sign 1) or the lowest up (-1), equals in the order of their entries. */
export const orderOf = (values: Float64Array, sign: 1 | -1): Uint32Array => {
  // Sorting plain numbers is several times as fast as sorting entries by a comparison.
  const sorted = values.slice().sort();
  const count = values.length;
  const next = new Uint32Array(count);
  const order = new Uint32Array(count);
  for (let entry = 0; entry < count; entry++) {
    let low = 0;
    let high = count;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (sorted[middle] < values[entry]) low = middle + 1;
      else high = middle;
    }
    let run = low;
    if (sign > 0) while (run + 1 < count && sorted[run + 1] === values[entry]) run++;
    const first = sign > 0 ? count - 1 - run : low;
    order[first + next[low]++] = entry;
  }
  return order;
};
