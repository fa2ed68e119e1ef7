import { deflateSync, gunzipSync, gzipSync, inflateSync } from 'node:zlib';
import { below, type Damage, oneOf, type Random } from './chance.js';
import { damagedByGrammar } from './grammar-damage.js';

const HEAD = 400;

const flipped: Damage = (bytes, random) => {
  const out = Buffer.from(bytes);
  const reach = random() < 0.5 ? Math.min(HEAD, out.length) : out.length;
  for (let k = 1 + below(random, 40); k > 0; k--) out[below(random, reach)] = below(random, 256);
  return out;
};

const truncated: Damage = (bytes, random) => bytes.subarray(0, below(random, bytes.length));

/** A run of bytes taken out, put in twice, or moved. */
const spliced: Damage = (bytes, random) => {
  const at = below(random, bytes.length);
  const run = bytes.subarray(at, at + 1 + below(random, 200));
  const rest = bytes.subarray(at + run.length);
  const kind = below(random, 3);
  if (kind === 0) return Buffer.concat([bytes.subarray(0, at), rest]);
  if (kind === 1) return Buffer.concat([bytes.subarray(0, at), run, run, rest]);
  const to = below(random, at + 1);
  return Buffer.concat([bytes.subarray(0, to), run, bytes.subarray(to, at), rest]);
};

const WORDS_OF_32 = [
  0xffff_ffff, 0x7fff_ffff, 0x8000_0000, 0, 1, 0xffff, 1_410_065_408, 0x0100_0000,
];

/** Whole numbers set to values that break counts and offsets, in either order of bytes. */
const badCounts: Damage = (bytes, random) => {
  const out = Buffer.from(bytes);
  if (out.length < 8) return out;
  const reach = (random() < 0.7 ? Math.min(HEAD, out.length) : out.length) - 4;
  for (let k = 1 + below(random, 4); k > 0; k--) {
    const at = below(random, reach);
    const value = oneOf(random, WORDS_OF_32);
    const how = below(random, 3);
    if (how === 0) out.writeUInt32LE(value, at);
    else if (how === 1) out.writeUInt32BE(value, at);
    else out.writeUInt16LE(value & 0xffff, at);
  }
  return out;
};

export const WORDS = [
  ...['NaN', '1e308', '-1e308', '-1', '0', '1e-320', '10000000000', '-', 'Infinity', '', 'x', ','],
  ...['null', 'true', '1e999', '0x10', '1,5', '١٢', '9'.repeat(400), '-0', '[]', '{}', '~'],
  ...[
    '__proto__',
    'constructor',
    '../../etc/hostname',
    '&a',
    '*a',
    '!!js',
    '<<',
    '"',
    "'",
    '\u0000',
  ],
  ...[
    '\u202e',
    '\ufeff',
    '\ud800',
    '\u2028',
    '\u001b[31m',
    '½',
    '0.0000001',
    '-90',
    '361',
    '99999',
  ],
];

/** One to four words of a text replaced by ones that are no use. */
const badWords: Damage = (bytes, random) => {
  const parts = bytes.toString('utf8').split(/([\s,;:<>"=[\]{}()]+)/);
  for (let k = 1 + below(random, 4); k > 0; k--) {
    parts[2 * below(random, Math.ceil(parts.length / 2))] = oneOf(random, WORDS);
  }
  return Buffer.from(parts.join(''), 'utf8');
};

/** Characters put in, or in the place of others. */
const badCharacters: Damage = (bytes, random) => {
  let text = bytes.toString('utf8');
  for (let k = 1 + below(random, 4); k > 0; k--) {
    const at = below(random, text.length);
    const put =
      random() < 0.5
        ? oneOf(random, WORDS)
        : oneOf(random, [...'\n\t \r:-[]{}"\'#&*|>%@`,;<>/()\\']);
    text = text.slice(0, at) + put + text.slice(at + below(random, 3));
  }
  return Buffer.from(text, 'utf8');
};

/** Two columns of each line exchanged. */
const swappedColumns: Damage = (bytes, random) => {
  const [a, b] = [2 * below(random, 5), 2 * below(random, 5)];
  const lines = bytes.toString('utf8').split('\n');
  const swapped = lines.map((line) => {
    const fields = line.split(/([\s,;]+)/);
    if (fields[a] !== undefined && fields[b] !== undefined) {
      [fields[a], fields[b]] = [fields[b], fields[a]];
    }
    return fields.join('');
  });
  return Buffer.from(swapped.join('\n'), 'utf8');
};

/** Lines left out, doubled or exchanged. */
const mixedLines: Damage = (bytes, random) => {
  const lines = bytes.toString('utf8').split('\n');
  for (let k = 1 + below(random, 3); k > 0; k--) {
    const [a, b] = [below(random, lines.length), below(random, lines.length)];
    const kind = below(random, 3);
    if (kind === 0) lines.splice(a, 1);
    else if (kind === 1) lines.splice(a, 0, lines[b] ?? '');
    else [lines[a], lines[b]] = [lines[b] ?? '', lines[a] ?? ''];
  }
  return Buffer.from(lines.join('\n'), 'utf8');
};

const LONG = [
  '9',
  ' ',
  '"',
  '{',
  '[',
  '- ',
  '(',
  '<a>',
  '1,',
  'a:',
  '\t',
  '%',
  '\n',
  '0.',
  '&',
  'é',
  '<',
  '/',
  '\\',
];

/** Something said again and again: what a pattern or a parser takes the square of. */
const muchOfIt: Damage = (bytes, random) => {
  const at = below(random, bytes.length + 1);
  const what = oneOf(random, LONG);
  const times = Math.ceil((30_000 + below(random, 170_000)) / what.length);
  return Buffer.concat([
    bytes.subarray(0, at),
    Buffer.from(what.repeat(times)),
    bytes.subarray(at),
  ]);
};

/** The head of the one and the tail of another file of its kind. */
const crossed: Damage = (bytes, random, others) => {
  const other = oneOf(random, others);
  return Buffer.concat([
    bytes.subarray(0, below(random, bytes.length + 1)),
    other.subarray(below(random, other.length + 1)),
  ]);
};

const otherEncoding: Damage = (bytes, random) => {
  const text = bytes.toString('utf8');
  const kind = below(random, 4);
  if (kind === 0) return Buffer.from(`\ufeff${text}`, 'utf16le');
  if (kind === 1) return Buffer.from(`\ufeff${text}`, 'utf8');
  if (kind === 2) return Buffer.from(text, 'latin1');
  return Buffer.from(text.replaceAll('\n', '\r'), 'utf8');
};

const OF_TEXTS: readonly Damage[] = [
  ...[flipped, truncated, spliced, badWords, badWords, badCharacters, badCharacters],
  ...[swappedColumns, mixedLines, muchOfIt, crossed, otherEncoding],
  ...[damagedByGrammar, damagedByGrammar, damagedByGrammar, damagedByGrammar],
];
const OF_BINARIES: readonly Damage[] = [
  ...[flipped, flipped, truncated, spliced, badCounts, badCounts, badWords, crossed],
];

/** One damage, now and then two or three on top of each other. */
const damagedAs =
  (ways: readonly Damage[]): Damage =>
  (bytes, random, others) => {
    let out = bytes;
    const times = random() < 0.75 ? 1 : 2 + below(random, 2);
    for (let k = 0; k < times && out.length > 0; k++)
      out = oneOf(random, ways)(out, random, others);
    return out;
  };

export const damagedText = damagedAs(OF_TEXTS);
export const damagedBinary = damagedAs(OF_BINARIES);

/** Damage to a packed file, or inside of it. */
export const damagedGzip: Damage = (bytes, random, others) => {
  if (random() < 0.5) return damagedBinary(bytes, random, others);
  try {
    return gzipSync(damagedText(gunzipSync(bytes), random, others));
  } catch {
    return damagedBinary(bytes, random, others);
  }
};

/** Damage to a PDF, or inside one of its packed streams. */
export const damagedPdf: Damage = (bytes, random, others) => {
  const inside = random();
  if (inside < 0.4) return damagedBinary(bytes, random, others);
  const text = bytes.toString('latin1');
  if (inside < 0.7) return Buffer.from(badNames(text, random), 'latin1');
  const starts = [...text.matchAll(/stream\r?\n/g)].filter(
    (m) => text.slice(m.index - 3, m.index) !== 'end',
  );
  if (starts.length === 0) return damagedBinary(bytes, random, others);
  const start = oneOf(random, starts);
  const from = start.index + start[0].length;
  const end = text.indexOf('endstream', from);
  try {
    const packed = deflateSync(damagedText(inflateSync(bytes.subarray(from, end)), random, others));
    const head = text.slice(0, from);
    const at = head.lastIndexOf('/Length ');
    const told =
      head.slice(0, at) + head.slice(at).replace(/\/Length \d+/, `/Length ${packed.length}`);
    return Buffer.concat([
      Buffer.from(told, 'latin1'),
      packed,
      Buffer.from(`\n${text.slice(end)}`, 'latin1'),
    ]);
  } catch {
    return damagedBinary(bytes, random, others);
  }
};

/** Values of a PDF's dictionaries exchanged for others. */
const badNames = (text: string, random: Random): string => {
  const values = [
    ...text.matchAll(/\/[A-Z]\w+ ?(\d+ 0 R|\[[^\]]{0,60}\]|\/\w+|-?[\d.]+|<<|\([^)]{0,60}\))/g),
  ];
  if (values.length === 0) return text;
  const put = [
    'null',
    '7',
    '-1',
    '/X',
    '[ ]',
    '[1 2]',
    '1 0 R',
    '2 0 R',
    '9999 0 R',
    '(x)',
    '<< >>',
    '1e99',
    'true',
  ];
  let out = text;
  for (let k = 1 + below(random, 3); k > 0; k--) {
    const value = oneOf(random, values);
    const at = value.index + value[0].length - value[1].length;
    out = out.slice(0, at) + oneOf(random, put) + out.slice(at + value[1].length);
  }
  return out;
};
