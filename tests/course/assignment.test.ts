import { expect, test } from 'vitest';
import { cheapestAssignment } from '../../src/course/assignment.js';
import { randomBy } from './untidy-course.js';

/** Every way to give each row a column of its own, tried. */
const leastByTrying = (
  costs: readonly (readonly number[])[],
  taken: readonly number[] = [],
): number => {
  const row = taken.length;
  if (row === costs.length) return 0;
  return Math.min(
    ...costs[row].flatMap((cost, column) =>
      taken.includes(column) ? [] : [cost + leastByTrying(costs, [...taken, column])],
    ),
  );
};

test('the cheapest of all assignments', () => {
  for (let seed = 1; seed <= 40; seed++) {
    const random = randomBy(seed);
    const rows = 1 + Math.floor(5 * random());
    const columns = rows + Math.floor(3 * random());
    const costs = Array.from({ length: rows }, () =>
      Array.from({ length: columns }, () => Math.round(20 * random())),
    );
    const found = cheapestAssignment(costs);
    expect(new Set(found).size).toBe(rows);
    const total = found.reduce((sum, column, row) => sum + costs[row][column], 0);
    expect(total).toBe(leastByTrying(costs));
  }
});
