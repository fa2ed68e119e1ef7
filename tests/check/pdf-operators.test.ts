import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Operand, type Operation, operationsOf } from '../../src/check/pdf-operators.js';

const read = (text: string): Operation[] => [
  ...operationsOf(Uint8Array.from(text, (c) => c.charCodeAt(0))),
];
const bytes = (text: string) => ({ bytes: Uint8Array.from(text, (c) => c.charCodeAt(0)) });

describe('content streams', () => {
  it('numbers, names, arrays, dictionaries and comments (ISO 32000-1, 7.2 and 7.3)', () => {
    expect(
      read('-.5 +17 4. 0.002 /A#42c [1 [2] /B] % note ( [\n<< /K << /L (x) >> /M true >> BDC'),
    ).toEqual([
      {
        operator: 'BDC',
        operands: [
          -0.5,
          17,
          4,
          0.002,
          { name: 'ABc' },
          [1, [2], { name: 'B' }],
          {
            dictionary: new Map<string, Operand>([
              ['K', { dictionary: new Map([['L', bytes('x')]]) }],
              ['M', true],
            ]),
          },
        ],
      },
    ]);
  });

  it('strings: escapes, octal codes, nested brackets, line ends, hexadecimal', () => {
    expect(read('(a\\(b\\)\\\\ \\101\\7 (in) \\\nx) Tj <48 6 5 6C7> Tj')).toEqual([
      { operator: 'Tj', operands: [bytes('a(b)\\ A\x07 (in) x')] },
      { operator: 'Tj', operands: [bytes('Help')] },
    ]);
  });

  it('strings: a backslash before the end of a line takes it away, whole where it is two bytes', () => {
    expect(read('(a\\\r\nb\\\rc\\\nd\\\r\\\ne) Tj')).toEqual([
      { operator: 'Tj', operands: [bytes('abcde')] },
    ]);
  });

  it('skips the data of an inline image', () => {
    const found = read('q BI /W 1 /H 1 ID \x00(\xff EI Q 1 w');
    expect(found.map((o) => o.operator)).toEqual(['q', 'BI', 'ID', 'EI', 'Q', 'w']);
  });

  it('says where a stream is broken', () => {
    expect(() => read('1 w (never ends')).toThrow('a string has no end');
    expect(() => read('[1 2')).toThrow('an array has no end');
    expect(() => read('1 ) w')).toThrow('byte 2: unexpected ")"');
  });

  it('gives back any operands, however they are spaced (500 streams)', () => {
    const word = fc.stringMatching(/^[A-Za-z]{1,6}$/);
    const operand: fc.Arbitrary<{ text: string; value: Operand }> = fc.oneof(
      fc.integer({ min: -100000, max: 100000 }).map((n) => {
        const value = n / 1000;
        return { text: value.toFixed(3), value: Number(value.toFixed(3)) };
      }),
      word.map((name) => ({ text: `/${name}`, value: { name } })),
      fc.uint8Array({ maxLength: 12 }).map((data) => ({
        text: `<${Buffer.from(data).toString('hex')}>`,
        value: { bytes: Uint8Array.from(data) },
      })),
      fc.array(word, { maxLength: 4 }).map((names) => ({
        text: `[${names.map((n) => `/${n}`).join('')}]`,
        value: names.map((name) => ({ name })),
      })),
    );
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.array(operand, { maxLength: 6 }), word), { maxLength: 8 }),
        fc.constantFrom(' ', '\n', '\r\n', '\t ', ' %note\n'),
        (operations, space) => {
          const named = operations.map(
            ([operands, operator]) => [operands, `x${operator}`] as const,
          );
          const text = named
            .map(([operands, operator]) => [...operands.map((o) => o.text), operator].join(space))
            .join(space);
          expect(read(text)).toEqual(
            named.map(([operands, operator]) => ({
              operator,
              operands: operands.map((o) => o.value),
            })),
          );
        },
      ),
      { numRuns: 500, seed: 6 },
    );
  });
});
