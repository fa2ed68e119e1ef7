import fc from 'fast-check';

/** Ways to damage a file, each a function of its bytes. */

/** One to forty bytes changed. */
export const flipped = (bytes: Uint8Array, headOnly: number): fc.Arbitrary<Uint8Array> =>
  fc
    .tuple(
      fc.boolean(),
      fc.array(
        fc.tuple(fc.double({ min: 0, max: 1, noNaN: true }), fc.integer({ min: 0, max: 255 })),
        {
          minLength: 1,
          maxLength: 40,
        },
      ),
    )
    .map(([head, changes]) => {
      const out = bytes.slice();
      const reach = head ? Math.min(headOnly, out.length) : out.length;
      for (const [where, value] of changes)
        out[Math.min(reach - 1, Math.floor(where * reach))] = value;
      return out;
    });

export const truncated = (bytes: Uint8Array): fc.Arbitrary<Uint8Array> =>
  fc.integer({ min: 0, max: bytes.length - 1 }).map((length) => bytes.slice(0, length));

/** A run of bytes taken out, or put in twice. */
export const spliced = (bytes: Uint8Array): fc.Arbitrary<Uint8Array> =>
  fc
    .tuple(fc.nat(bytes.length - 1), fc.integer({ min: 1, max: 200 }), fc.boolean())
    .map(([at, length, twice]) => {
      const end = Math.min(bytes.length, at + length);
      const out = Buffer.concat([
        bytes.subarray(0, twice ? end : at),
        bytes.subarray(twice ? at : end),
      ]);
      return new Uint8Array(out);
    });

/** 32-bit words near the start set to values that break counts and offsets. */
export const badCounts = (bytes: Uint8Array, headOnly: number): fc.Arbitrary<Uint8Array> =>
  fc
    .array(
      fc.tuple(
        fc.nat(Math.min(headOnly, bytes.length - 8)),
        fc.constantFrom(0xffff_ffff, 0x7fff_ffff, 0x8000_0000, 0, 1, 0xffff, 1_410_065_408),
      ),
      { minLength: 1, maxLength: 4 },
    )
    .map((changes) => {
      const out = bytes.slice();
      const view = new DataView(out.buffer);
      for (const [at, value] of changes) view.setUint32(at, value, true);
      return out;
    });

const WORDS = [
  'NaN',
  '1e308',
  '-1e308',
  '-1',
  '0',
  '1e-320',
  '10000000000',
  '-',
  'Infinity',
  '',
  'x',
  ',',
];

/** One to four words of a text file replaced by ones that are no use. */
export const badWords = (bytes: Uint8Array): fc.Arbitrary<Uint8Array> => {
  const parts = new TextDecoder().decode(bytes).split(/([\s,;<>"]+)/);
  return fc
    .array(
      fc.tuple(fc.nat(Math.max(0, Math.floor(parts.length / 2) - 1)), fc.constantFrom(...WORDS)),
      {
        minLength: 1,
        maxLength: 4,
      },
    )
    .map((changes) => {
      const out = [...parts];
      for (const [at, word] of changes) out[2 * at] = word;
      return new TextEncoder().encode(out.join(''));
    });
};

/** Two columns of each line exchanged. */
export const swappedColumns = (bytes: Uint8Array): fc.Arbitrary<Uint8Array> => {
  const lines = new TextDecoder().decode(bytes).split('\n');
  return fc.tuple(fc.nat(4), fc.nat(4)).map(([a, b]) => {
    const out = lines.map((line) => {
      const fields = line.split(/([\s,;]+)/);
      if (fields[2 * a] !== undefined && fields[2 * b] !== undefined) {
        [fields[2 * a], fields[2 * b]] = [fields[2 * b], fields[2 * a]];
      }
      return fields.join('');
    });
    return new TextEncoder().encode(out.join('\n'));
  });
};
