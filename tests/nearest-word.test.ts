import { describe, expect, it } from 'vitest';
import { nearestWord } from '../src/nearest-word.js';

describe('the known word that a misspelt one means', () => {
  it('is found through letters changed, left out, doubled or changed about', () => {
    const known = ['course', 'layout', 'units'];
    for (const word of ['coarse', 'corse', 'coursse', 'Cuorse']) {
      expect(nearestWord(word, known)).toBe('course');
    }
    expect(nearestWord('banana', known)).toBeUndefined();
  });

  it('is not looked for where the word is longer than any that is known', () => {
    expect(nearestWord('a'.repeat(61), ['a'.repeat(62)])).toBeUndefined();
    expect(nearestWord('a'.repeat(60), ['a'.repeat(62)])).toBe('a'.repeat(62));
  });
});
