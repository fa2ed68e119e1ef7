import { below, type Damage, oneOf, type Random } from './chance.js';

/** Damage by what a text is made of: its numbers, units, words, lines, sections and brackets. */

const EXTREMES = [
  ...['1e308', '-1e308', '1.7976931348623157e308', '5e-324', '-5e-324', '2.2e-308', '-0', '-0.0'],
  ...['4294967296', '-2147483649', '9007199254740993', '1e22', '0x7f', '1_000', '١٢', '+5', '.5.5'],
];

/** Runs of what a pattern finds in a text; each is exchanged by the same rule. */
const replaced = (
  text: string,
  random: Random,
  pattern: RegExp,
  by: (found: string) => string,
): string => {
  const found = [...text.matchAll(pattern)];
  if (found.length === 0) return text;
  let out = text;
  const chosen = Array.from({ length: 1 + below(random, 3) }, () => oneOf(random, found));
  // From the end, so that the places before stay what they are.
  for (const one of [...new Set(chosen)].sort((a, b) => b.index - a.index)) {
    out = out.slice(0, one.index) + by(one[0]) + out.slice(one.index + one[0].length);
  }
  return out;
};

type TextDamage = (text: string, random: Random, others: readonly string[]) => string;

const numbers: TextDamage = (text, random) =>
  replaced(text, random, /-?\d+(?:\.\d+)?/g, (found) => {
    const how = below(random, 6);
    if (how < 2) return oneOf(random, EXTREMES);
    if (how === 2) return String(-Number(found));
    if (how === 3) return String(Number(found) * oneOf(random, [1e-9, 1e-3, 10, 1000, 1e6, 1e15]));
    if (how === 4) return `${found}${'0'.repeat(1 + below(random, 40))}`;
    return String(Number(found) + oneOf(random, [-1, 1, 0.5, 1e-12]));
  });

const UNITS = ['m', 'ft', 'in', 'cm', 'mm', 'km', 'ft us', '"', "'", '½', '%', '°', 'paces', 'yd'];
const units: TextDamage = (text, random) =>
  replaced(text, random, /(?<=\d ?)(?:ft|in|cm|mm|m|yd|%|paces|mph)\b/g, () =>
    oneOf(random, UNITS),
  );

/** Words of the file in each other's places. */
const exchangedWords: TextDamage = (text, random) => {
  const words = [...text.matchAll(/[\p{L}_][\p{L}\p{N}_-]*/gu)].map(([word]) => word);
  if (words.length === 0) return text;
  return replaced(text, random, /[\p{L}_][\p{L}\p{N}_-]*/gu, () => oneOf(random, words));
};

/** A line, an element or a pair of brackets of another file in the place of one of this. */
const PIECES = [
  ...[/[^\n]{1,4000}\n/g, /<[^<>]{0,999}>/g, /\{[^{}]{0,999}\}/g],
  ...[/\[[^[\]]{0,999}\]/g, /"[^"\n]{0,999}"/g],
];
const splicedPieces: TextDamage = (text, random, others) => {
  const pattern = oneOf(random, PIECES);
  const theirs = [...oneOf(random, others).matchAll(pattern)].map(([piece]) => piece);
  if (theirs.length === 0) return text;
  return replaced(text, random, pattern, (own) => {
    const piece = oneOf(random, theirs);
    return below(random, 2) === 0 ? piece : `${own}${piece}`;
  });
};

/** Keys that stand twice, empty values, values without keys. */
const twins: TextDamage = (text, random) =>
  replaced(text, random, /[^\n,{}[\]]{1,99}:[^\n,{}[\]]*/g, (pair) => {
    const [key] = pair.split(':');
    return oneOf(random, [
      ...[`${pair}, ${pair}`, `${pair}\n${pair}`, `${key}:`, `${key}: ~`, `${key}: []`],
      ...[
        `${key}: {}`,
        `${key}: ""`,
        `${key}: *${key.trim()}`,
        `${key}: &x ${pair}`,
        pair.slice(key.length),
      ],
    ]);
  });

/** Blocks of lines in another order, or cut off where one ends. */
const sections: TextDamage = (text, random) => {
  const starts = [...text.matchAll(/^(?=\S)/gm)].map(({ index }) => index);
  if (starts.length < 3) return text;
  if (below(random, 3) === 0) return text.slice(0, oneOf(random, starts));
  const blocks = starts.map((start, i) => text.slice(start, starts[i + 1]));
  const [a, b] = [below(random, blocks.length), below(random, blocks.length)];
  [blocks[a], blocks[b]] = [blocks[b], blocks[a]];
  return blocks.join('');
};

/** A piece of the file said again and again, with another end: what a pattern takes the square of. */
const pumped: TextDamage = (text, random) => {
  const at = below(random, text.length);
  const piece = text.slice(at, at + 1 + below(random, 12)) || ' ';
  const times = Math.ceil((10_000 + below(random, 90_000)) / piece.length);
  const end = oneOf(random, ['', '!', '\n', '\u0001', '"', ' x']);
  return text.slice(0, at) + piece.repeat(times) + end + text.slice(at + below(random, 20));
};

const ends: TextDamage = (text, random) => {
  const lines = text.split('\n');
  return lines.map((line) => line + oneOf(random, ['\n', '\r\n', '\r', '\n\r', '\u2028'])).join('');
};

const WAYS: readonly TextDamage[] = [
  ...[numbers, numbers, units, exchangedWords, splicedPieces, splicedPieces],
  ...[twins, sections, pumped, ends],
];

/** Encodings that a text may come in, sound or half so. */
const encoded = (text: string, random: Random): Buffer => {
  const how = below(random, 12);
  if (how === 0) return Buffer.from(`\ufeff${text}`, 'utf16le');
  if (how === 1) return Buffer.from(`\ufeff${text}`, 'utf16le').swap16();
  if (how === 2) return Buffer.from(text, 'utf16le');
  if (how === 3) return Buffer.from(text, 'latin1');
  if (how === 4) return Buffer.from(`\ufeff\ufeff${text}`);
  if (how === 5) return Buffer.from(`\ufeff${text}`, 'utf16le').subarray(0, -1);
  return Buffer.from(text);
};

/** A text damaged once to three times by what it is made of. */
export const damagedByGrammar: Damage = (bytes, random, others) => {
  let text = bytes.toString('utf8');
  const theirs = others.map((one) => one.toString('utf8'));
  for (let k = 1 + below(random, 3); k > 0; k--) {
    text = oneOf(random, WAYS)(text, random, theirs).slice(0, 4_000_000);
  }
  return encoded(text, random);
};
