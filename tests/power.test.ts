import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { realPower, tenTo, wholePower } from '../src/power.js';

/** Numbers between -10 and 10, the same on every machine (linear congruence of Numerical Recipes, chapter 7.1). */
const numbers = (count: number, seed: number): Float64Array => {
  let state = seed;
  return Float64Array.from({ length: count }, () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return (state / 2 ** 32 - 0.5) * 20;
  });
};

describe('powers', () => {
  it('are what products and logarithms give', () => {
    expect(wholePower(1.1, 3)).toBeCloseTo(1.331, 14);
    expect(wholePower(7, 0)).toBe(1);
    for (let k = 0; k <= 22; k++) expect(wholePower(10, k)).toBe(Number(`1e${k}`));
    expect(realPower(32, -0.2)).toBeCloseTo(0.5, 15);
    expect(realPower(0, 0.75)).toBe(0);
    expect(realPower(0, -0.2)).toBe(Infinity);
    expect(tenTo(-1.3)).toBeCloseTo(0.05011872336272722, 15);
  });

  it('are left to the engine nowhere where it may choose: its other functions are those of the record', () => {
    // Recorded on Node 20.20 (V8 11.3), the same on 22.23 (12.4) and 24.21 (13.6).
    const x = numbers(20_000, 12345);
    const y = numbers(20_000, 54321);
    const functions: Record<string, (a: number, b: number) => number> = {
      sin: Math.sin,
      cos: Math.cos,
      tan: Math.tan,
      exp: Math.exp,
      expm1: Math.expm1,
      log: (a) => Math.log(Math.abs(a)),
      log1p: (a) => Math.log1p(Math.abs(a)),
      log10: (a) => Math.log10(Math.abs(a)),
      cbrt: Math.cbrt,
      sinh: Math.sinh,
      asin: (a) => Math.asin(a / 10),
      acos: (a) => Math.acos(a / 10),
      atan: Math.atan,
      atan2: Math.atan2,
      hypot: Math.hypot,
      square: (a) => a ** 2,
    };
    const digests = Object.entries(functions).map(([name, value]) => {
      const values = Float64Array.from(x, (a, k) => value(a, y[k]));
      const digest = createHash('sha256').update(new Uint8Array(values.buffer)).digest('hex');
      return `${name} ${digest.slice(0, 12)}`;
    });
    expect(digests).toMatchInlineSnapshot(`
      [
        "sin eb90a36b27c4",
        "cos 1a5ea472638c",
        "tan f4f8613d7d25",
        "exp befd9ad37531",
        "expm1 956d99efb33e",
        "log 689c14fa315d",
        "log1p 3475873776d1",
        "log10 ae13e1f1e59e",
        "cbrt 9345db5ca60e",
        "sinh d353977fe496",
        "asin 4e8dc9250d3c",
        "acos 07cecee350f7",
        "atan a3305d62e314",
        "atan2 886063d34f3a",
        "hypot 10a2a0724d9f",
        "square 8f023b2d625d",
      ]
    `);
  });
});
