import { describe, expect, it } from 'vitest';
import { limitsBySize } from '../../src/event/size-limits.js';

/** Twenty draws of two sizes, by hand. */

const upTo = (count: number, from = 0): number[] =>
  Array.from({ length: count }, (_, k) => from + k);
const of = (...sizes: readonly (readonly number[])[]): Float64Array[] =>
  sizes.map((one) => Float64Array.from(one));

const passed = (greatest: readonly Float64Array[], limits: readonly number[]): number =>
  upTo(greatest[0].length).filter((d) => greatest.some((one, k) => one[d] > limits[k])).length;

describe('a limit for each size', () => {
  it('gives each as many of the false alarms as the other where other draws pass it', () => {
    // The small ones reach 119, the large ones 19; the largest of each in other draws.
    const greatest = of(upTo(20, 100), upTo(20).reverse());
    const limits = limitsBySize(greatest, 0.2);
    expect(limits).toEqual([117, 17]);
    expect(passed(greatest, limits)).toBe(4);
  });

  it('gives each all of them where the same draws pass both', () => {
    const greatest = of(upTo(20, 100), upTo(20));
    const limits = limitsBySize(greatest, 0.2);
    expect(limits).toEqual([115, 15]);
    expect(passed(greatest, limits)).toBe(4);
  });

  it('is passed by none where there is room for none', () => {
    expect(limitsBySize(of(upTo(20, 100), upTo(20).reverse()), 0.05)).toEqual([119, 19]);
  });
});
