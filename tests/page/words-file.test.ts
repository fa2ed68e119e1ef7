import { describe, expect, it } from 'vitest';
import { ENGLISH } from '../../src/page/words/english.js';
import { parseWords } from '../../src/page/words/read-words.js';
import { decimal, phrase, phraseParts } from '../../src/page/words/words.js';
import { runCaptured } from '../cli/run-captured.js';

const fileOf = (...lines: readonly string[]): string =>
  ['language: sv', 'words:', ...lines.map((line) => `  ${line}`)].join('\n');

const read = (...lines: readonly string[]) => parseWords(fileOf(...lines), 'ord.yaml');

describe('a words file', () => {
  it('gives wordings of its language, and tells which stay English', () => {
    const { language, words, given, lacking } = read(
      'card.title: Scorekort',
      'cover.greens: "{count} greener"',
    );
    expect(language).toBe('sv');
    expect(phrase({ words }, 'card.title')).toBe('Scorekort');
    expect(phrase({ words }, 'cover.greens', { count: 19 })).toBe('19 greener');
    expect(phrase({ words }, 'card.par')).toBe('par');
    expect(given).toEqual(['cover.greens', 'card.title']);
    // The sign before tenths comes with the language.
    expect(lacking).toHaveLength(Object.keys(ENGLISH).length - 3);
  });

  // Unicode CLDR, plural rules: Polish 1 one; 2 to 4, 22 few; 0, 5 to 21 many; fractions other. Decimal signs: CLDR, numbers.
  it('counts by the rules of its language, and writes tenths by them', () => {
    const forms = {
      one: '{count} pole',
      few: '{count} pola',
      many: '{count} pól',
      other: '{count} pola',
    };
    const text = `language: pl\nwords:\n  cover.greens: ${JSON.stringify(forms)}`;
    const { words, given } = parseWords(text, 'slowa.yaml');
    expect(given).toEqual(['cover.greens']);
    const told = [1, 2, 5, 12, 19, 22].map((count) => phrase({ words }, 'cover.greens', { count }));
    expect(told).toEqual(['1 pole', '2 pola', '5 pól', '12 pól', '19 pól', '22 pola']);
    expect(phrase({ words }, 'tables.falls', { percent: '1.9' })).toBe('falls 1,9 %');
    expect(phrase({ words: read('card.title: X').words }, 'tables.falls', { percent: '1.9' })).toBe(
      'falls 1,9 %',
    );
    const own = read('number.point: "·"').words;
    expect(decimal('+0.5', { words: own })).toBe('+0·5');
    expect(phrase({ words: own }, 'changes.since', { edition: '2.0' })).toContain('2.0');
    expect(phrase({}, 'tables.falls', { percent: '1.9' })).toBe('falls 1.9 %');
  });

  it('is what the command prints to begin with, whose tenths are those of the language that it is changed to', async () => {
    const { code, stdout } = await runCaptured(['words']);
    expect(code).toBe(0);
    const begun = stdout.replace('language: en', 'language: sv');
    const { words, lacking } = parseWords(begun, 'ord.yaml');
    expect(lacking).toEqual([]);
    expect(phrase({ words }, 'tables.falls', { percent: '1.9' })).toBe('falls 1,9 %');
  });

  // RFC 5646, 2.1.1: languages in small letters, regions in capitals.
  it('has its language by a tag, in the form of the standard', () => {
    expect(parseWords('language: PT-br\nwords: {}', 'ord.yaml').language).toBe('pt-BR');
    expect(() => parseWords('language: Swedish!\nwords: {}', 'ord.yaml')).toThrow(
      'ord.yaml, line 1, language: "Swedish!" is no tag of a language; write as in: sv, pt-BR',
    );
  });

  it.each([
    [
      'a name that is not in the table',
      'card.titel: X',
      'there is no wording "card.titel"; did you mean "card.title"?',
    ],
    [
      'a figure that is left out',
      'cover.greens: greener',
      '{count} is left out; write each of {count} once',
    ],
    ['a figure that stands twice', 'cover.greens: "{count} {count}"', '{count} stands twice'],
    [
      'a figure that no page gives',
      'card.title: "{name}"',
      'nothing is put in for "{name}"; leave out braces',
    ],
    ['a brace that holds nothing', 'card.title: "a { b"', 'a brace stands alone'],
    ['an empty wording', 'card.title: ""', 'is too short'],
    ['no text', 'card.title: 5', '5 is not'],
    [
      'a form that its language has not',
      'cover.greens: { one: "{count}", many: "{count}", other: "{count}" }',
      'sv has no form "many"; give one, other, the forms of sv',
    ],
    [
      'a form that is left out',
      'cover.greens: { other: "{count}" }',
      'the form "one" is left out; give one, other',
    ],
    [
      'forms where nothing is counted',
      'card.title: { one: a, other: b }',
      'nothing is counted here; write one wording',
    ],
    [
      'a form without its figure',
      'cover.greens: { one: en green, other: "{count} greener" }',
      '{count} is left out',
    ],
    ['no sign before tenths', 'number.point: " "', 'is no sign between whole and tenths'],
  ])('is refused for %s', (_, line, problem) => {
    expect(() => read(line)).toThrow(problem);
    expect(() => read(line)).toThrow('ord.yaml, line 3');
  });

  it('parts figures from words where a page sets them apart', () => {
    const { words } = read('"label.fairway": "{width} bred fairway"');
    expect(phraseParts({ words }, 'label.fairway', { width: '31' })).toEqual([
      { text: '31', filled: true },
      { text: ' bred fairway', filled: false },
    ]);
  });
});
