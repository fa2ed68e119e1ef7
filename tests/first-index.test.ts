import { describe, expect, it } from 'vitest';
import { firstIndex } from '../src/first-index.js';

describe('the first place at which something holds', () => {
  it('is that of a search from the start, equals and none among them', () => {
    for (const values of [[], [3], [1, 2, 2, 2, 5], [0, 0, 4, 7, 7, 9]]) {
      for (const least of [-1, 0, 1, 2, 3, 5, 7, 8, 10]) {
        const plain = values.findIndex((value) => value >= least);
        expect(firstIndex(values.length, (k) => values[k] >= least)).toBe(
          plain < 0 ? values.length : plain,
        );
      }
    }
  });
});
