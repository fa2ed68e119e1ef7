import { expect, it } from 'vitest';
import { lengthArgument, stimpArgument } from '../../src/cli/lengths.js';

it('takes a bare green speed for feet, as readings are given, and a unit at its word', () => {
  expect(stimpArgument('--speed', '10')).toBeCloseTo(3.048, 9);
  expect(stimpArgument('--speed', '10.5ft')).toBeCloseTo(3.2004, 9);
  expect(stimpArgument('--speed', '3.2m')).toBe(3.2);
  expect(stimpArgument('--speed', '320 cm')).toBeCloseTo(3.2, 9);
});

it('takes other bare lengths in the unit that it is told', () => {
  expect(lengthArgument('--past', '12', 'in')).toBeCloseTo(0.3048, 9);
  expect(lengthArgument('--past', '30', 'cm')).toBeCloseTo(0.3, 9);
});

it.each(['0', '-3', 'fast', '3 furlongs', ''])('refuses "%s" in one line', (value) => {
  expect(() => stimpArgument('--speed', value)).toThrow(
    /is not a green speed; write the stimp reading/,
  );
});

it.each(['1', '30', '0.5m', '7m'])('refuses %s, which no green has', (value) => {
  expect(() => stimpArgument('--speed', value)).toThrow(/is no stimp reading/);
});
