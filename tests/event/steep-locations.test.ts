import { describe, expect, it } from 'vitest';
import { isSteep, steepLocations } from '../../src/event/steep-locations.js';

const at = (holeId: string, grade: number | null, stimp = 3) => ({
  holeId,
  words: '18 on, 5 right',
  grade,
  stimp,
});

describe('hole locations where no hole would be cut', () => {
  it('are told with what was read of them', () => {
    expect(steepLocations([at('1', 0.029), at('2', 0.034), at('3', null)])).toBe(
      'on ground over the 3 % of guidance on hole locations, look at the sheet again: 2 (18 on, 5 right: 3.4 %)',
    );
    expect(steepLocations([at('1', 0.02), at('3', null)])).toBeNull();
  });

  it('are few enough to read, the steepest first', () => {
    const six = [0.031, 0.036, 0.032, 0.035, 0.033, 0.034].map((grade, i) => at(`${i}`, grade));
    const told = steepLocations(six)!;
    expect([...told.matchAll(/(\d) \(/g)].map(([, hole]) => hole)).toEqual(['1', '3', '5', '4']);
    expect(told).toMatch(/; and 2 more$/);
  });

  // Penner's coefficient, by hand: 1.83^2 / (2 x 3) / (5/7 x 9.80665) = 7.97 %.
  it.each([
    [0.0795, 3, false],
    [0.0799, 3, true],
    [0.0799, 2.9, false],
  ])('with grade %d and speed %d: does no ball rest there? %s', (grade, stimp, rolls) => {
    expect(steepLocations([at('2', grade, stimp)])!.includes('no ball comes to rest')).toBe(rolls);
  });

  it('are the only ones marked', () => {
    expect([0.03, 0.031, null].map((grade) => isSteep({ grade }))).toEqual([false, true, false]);
  });
});
