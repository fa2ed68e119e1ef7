import fc from 'fast-check';
import { expect, it } from 'vitest';
import { numberOfText } from '../../src/survey/readers/text-number.js';

/** Plain numbers are read as the language itself reads them, to the last bit. */
it('digits with a mark are the nearest double', () => {
  const text = fc
    .tuple(
      fc.constantFrom('', '-', '+'),
      fc.array(fc.integer({ min: 0, max: 9 }), { minLength: 1, maxLength: 20 }),
      fc.integer({ min: -1, max: 20 }),
    )
    .map(([sign, digits, at]) => {
      const all = digits.join('');
      return sign + (at < 0 || at > all.length ? all : `${all.slice(0, at)}.${all.slice(at)}`);
    });
  fc.assert(
    fc.property(text, (one) => {
      expect(numberOfText(one, 'point')).toBe(Number(one));
      expect(numberOfText(one.replace('.', ','), 'comma')).toBe(Number(one));
    }),
    { numRuns: 2000, seed: 14_014 },
  );
});

it.each(['', '.', '-', '+.', '1.2.3', '1-2', '--1', '1 2', '0x10', 'Infinity', '1e', '1,5'])(
  '%j is no number',
  (one) => {
    expect(numberOfText(one, 'point')).toBeNaN();
  },
);
