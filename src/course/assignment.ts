/**
 * The cheapest assignment of every row to a column of its own, by shortest augmenting paths with potentials
 * (Kuhn, Naval Res. Logist. Q. 2 (1955); Edmonds and Karp, J. ACM 19 (1972)).
 *
 * @param costs rows of equal length, finite; at least as many columns as rows.
 * @returns the column of each row.
 */
export const cheapestAssignment = (costs: readonly (readonly number[])[]): number[] => {
  const rows = costs.length;
  const columns = costs[0]?.length ?? 0;
  const rowPrice = new Float64Array(rows + 1);
  const columnPrice = new Float64Array(columns + 1);
  // Places are counted from 1; column 0 stands for the row that looks for its place.
  const rowOf = new Int32Array(columns + 1);
  for (let row = 1; row <= rows; row++) {
    const cameFrom = new Int32Array(columns + 1);
    const least = new Float64Array(columns + 1).fill(Infinity);
    const seen = new Uint8Array(columns + 1);
    rowOf[0] = row;
    let column = 0;
    while (rowOf[column] !== 0) {
      seen[column] = 1;
      const at = rowOf[column];
      let next = 0;
      let step = Infinity;
      for (let j = 1; j <= columns; j++) {
        if (seen[j] === 1) continue;
        const reduced = costs[at - 1][j - 1] - rowPrice[at] - columnPrice[j];
        if (reduced < least[j]) {
          least[j] = reduced;
          cameFrom[j] = column;
        }
        if (least[j] < step) {
          step = least[j];
          next = j;
        }
      }
      for (let j = 0; j <= columns; j++) {
        if (seen[j] === 1) {
          rowPrice[rowOf[j]] += step;
          columnPrice[j] -= step;
        } else {
          least[j] -= step;
        }
      }
      column = next;
    }
    while (column !== 0) {
      rowOf[column] = rowOf[cameFrom[column]];
      column = cameFrom[column];
    }
  }
  const found = new Array<number>(rows).fill(-1);
  for (let j = 1; j <= columns; j++) if (rowOf[j] !== 0) found[rowOf[j] - 1] = j - 1;
  return found;
};
