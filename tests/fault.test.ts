import { describe, expect, it } from 'vitest';
import { plainWords, quoted, quotedInPart } from '../src/fault.js';

describe('words of the user in a message', () => {
  it('stand in quotation marks that none of their own ends', () => {
    expect(quoted('a "b" “c„d')).toBe(`"a 'b' 'c'd"`);
    expect(quotedInPart('a "b"')).toBe(`"a 'b'"`);
    expect(quotedInPart({ 'a"b': 1 })).toBe("a mapping with a'b");
    expect(quoted(undefined)).toBe('""');
  });

  it('stand on one line without what a terminal obeys, and in part', () => {
    expect(quoted('a\n\tb\u202ec\u001b[2J')).toBe('"a b\ufffdc\ufffd[2J"');
    expect(quoted('abcdefghijklmnop', 9)).toBe('"abcdef…op"');
  });

  it('are not cut within a character', () => {
    // Each of these takes two places of a text (Unicode 15, U+1F600).
    const smiles = '\u{1f600}'.repeat(50);
    for (let most = 8; most < 30; most++) {
      expect(/\p{Surrogate}/u.test(plainWords(smiles, most))).toBe(false);
      expect(plainWords(smiles, most).length).toBeLessThanOrEqual(most);
    }
  });
});
