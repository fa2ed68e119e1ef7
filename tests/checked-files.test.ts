import { readFileSync } from 'node:fs';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import { parseJson } from '../src/checked-json.js';
import { yamlReader } from '../src/checked-yaml.js';
import { readCourseFile } from '../src/course/course-file.js';
import { InputFault } from '../src/fault.js';
import { parseLayout } from '../src/layout/load-layout.js';

const messageOf = (work: () => unknown): string => {
  try {
    work();
  } catch (error) {
    if (error instanceof InputFault) return error.message;
    throw error;
  }
  return 'no fault';
};

const readAny = yamlReader<unknown>({ type: 'object' });
const lines = (count: number, line: string): string => `${line}\n`.repeat(count);
const BOMB = `a: &a [1,1,1,1,1,1,1,1]
b: &b [*a,*a,*a,*a,*a,*a,*a]
c: &c [*b,*b,*b,*b,*b,*b,*b]
d: [*c,*c,*c,*c,*c,*c,*c]
`;

describe.each([
  ['layout', (text: string) => parseLayout(text, 'f.yaml')],
  ['course', (text: string) => readCourseFile(text, 'f.yaml')],
])('a %s file', (_, read) => {
  it.each([
    ['an alias that names nothing', 'title: *name\n', 'line 1: the alias "*name" names nothing'],
    ['a circular alias', 'a: &x\n  b: *x\n', 'line 2, a.b: an alias names what it stands in'],
    ['aliases that multiply', BOMB, 'its aliases multiply to too much'],
    ['many aliases', `a: &a 1\nb:\n${lines(101, '  - *a')}`, 'line 103: more than 100 aliases'],
    [
      'nested brackets',
      `\na: ${'['.repeat(2000)}`,
      'line 2: lists and mappings stand more than 64',
    ],
    [
      'nested dashes',
      `a:\n  ${'- '.repeat(1500)}1`,
      'line 2: lists and mappings stand more than 64',
    ],
    [
      'nested keys',
      Array.from({ length: 400 }, (_, i) => `${' '.repeat(i)}a:`).join('\n'),
      'stand more than 64 deep',
    ],
    ['a hundred thousand quotes', `title: ${'"'.repeat(100_000)}`, 'line 1: the line is longer'],
    ['a hundred thousand braces', `title: ${'{'.repeat(100_000)}`, 'line 1: the line is longer'],
    ['a NUL', 'title: "A\\0B"\n', 'line 1, title: the text holds the character U+0000'],
    ['a turn of direction', 'title: "A\\u202eB"\n', 'the text holds the character U+202E'],
    ['a misspelt key', 'titel: A\n', 'line 1, titel: unknown key "titel"; did you mean "title"?'],
  ])('%s: one clear line', (_, text, words) => {
    const message = messageOf(() => read(text));
    expect(message).toMatch(/^f\.yaml/);
    expect(message).toContain(words);
    expect(message).not.toContain('\n');
  });
});

describe('a slip of the pen', () => {
  it.each([
    ['a: [1, 2\nb: 3\n', 'line 2: not valid YAML: '],
    ['a: 1\na: 2\n', 'line 2: not valid YAML: the key "a" stands twice in one mapping'],
    ['a:\n\tb: 1\n', 'line 2: not valid YAML: a tab indents the line; use spaces'],
    ['a: b: c\n', 'line 1: not valid YAML: '],
    ['a: "b\n', 'not valid YAML: a quote, bracket, comma or colon is missing'],
    ['a: 1\n---\nb: 2\n', 'line 2: not valid YAML: the file holds more than one document'],
    ['a: @b\n', 'line 1: not valid YAML: a text begins with a character that wants quotes'],
  ])('%j: the line, in our words', (text, words) => {
    const message = messageOf(() => readAny(text, 'f.yaml'));
    expect(message).toContain(`f.yaml, ${words}`.replace('f.yaml, not', ': not'));
    expect(message).not.toContain('understood from here');
  });

  it.each([
    ['holes: []', 'holes: a list of 0 has fewer entries than 1'],
    ['page: { width: -1 }', 'page.width: -1 is not over 0'],
    ['page: { width: 1000 }', 'page.width: 1000 is more than 500'],
    ['name: Mine', 'name: "Mine" is not in the form asked for'],
  ])('%s: the limit', (text, words) => {
    const read = text.startsWith('holes') ? readCourseFile : parseLayout;
    expect(messageOf(() => read(text, 'f.yaml'))).toContain(`line 1, ${words}`);
  });
});

describe('YAML as people write it', () => {
  it('may use anchors, long lists and deep but real nesting', () => {
    const text = `common: &c { crs: EPSG:32630 }\nholes:\n${lines(99, '  - { survey: *c, at: [[1, 2]] }')}`;
    const { value } = readAny(text, 'f.yaml');
    expect((value as { holes: unknown[] }).holes).toHaveLength(99);
  });

  it('may hold a mapping of many keys', () => {
    const keys = Array.from({ length: 9000 }, (_, i) => `k${i}: 1`).join('\n');
    expect(Object.keys(readAny(keys, 'f').value as object)).toHaveLength(9000);
  });

  it('is refused when it is longer than any real one, or wrong all over', () => {
    const wrong = `${'"'.repeat(3000)}\n`;
    expect(messageOf(() => readAny(wrong.repeat(20), 'f'))).toMatch(/^f, line \d+: not valid YAML/);
    expect(messageOf(() => readAny(lines(80_000, '- 1'), 'f'))).toContain('more than 300000 parts');
    expect(messageOf(() => readAny(lines(300, `# ${'x'.repeat(3900)}`), 'f'))).toContain(
      'the file is longer than 1000000 characters',
    );
  });

  it('counts depth by what is open, not by brackets inside a text', () => {
    expect(messageOf(() => readAny(`a: "${'['.repeat(200)}"\n`, 'f'))).toBe('no fault');
    expect(messageOf(() => readAny(`a:\n${lines(500, '  - [1, [2, 3]]')}`, 'f'))).toBe('no fault');
  });
});

describe('JSON', () => {
  it.each([
    ['{"a": 1,\n "b": }', 'line 2, column 7: not valid JSON: "}" stands where a value should be'],
    ['{"a": 1,\n "b" 2}', 'line 2, column 6: not valid JSON: "2}" stands where ":" should be'],
    ['{"a": [1, 2', 'line 1, column 12: not valid JSON: the file ends where'],
    ['[1, 2]]', 'line 1, column 7: not valid JSON: "]" stands where the end of the file'],
    ["{'a': 1}", 'line 1, column 2: not valid JSON'],
    ['{"a": 1,}', 'line 1, column 9: not valid JSON: "}" stands where a name in double quotes'],
    ['', 'line 1, column 1: not valid JSON: the file ends where a value should be'],
    ['{"a": NaN}', 'line 1, column 7: not valid JSON: "NaN}" stands where a value should be'],
    ['["a\nb"]', 'line 1, column 2: not valid JSON'],
    [`${'['.repeat(100_000)}`, 'line 1, column 65: lists and objects stand more than 64 deep'],
    [`\n${'{"a":'.repeat(9000)}`, 'line 2, column 321: lists and objects stand more than 64'],
  ])('%#: the line and the column', (text, words) => {
    expect(messageOf(() => parseJson(text, 'map.json'))).toContain(`map.json, ${words}`);
  });

  it('gives the value of a sound text, brackets in its words or not', () => {
    const value = { a: ['[[[[', '\\"[', { b: [[[]]] }], c: -1.5e3 };
    expect(parseJson(JSON.stringify(value), 'f')).toEqual(value);
    expect(parseJson(JSON.stringify('['.repeat(500)), 'f')).toHaveLength(500);
  });
});

describe('a fault', () => {
  it('is one short line that no terminal obeys, whatever is quoted', () => {
    const message = new InputFault(
      { file: `a\u001b[31m${'x'.repeat(500)}.csv`, place: `line 1\n${'y'.repeat(500)}` },
      `"${'z\u202e'.repeat(400)}" is wrong\nindeed`,
      'do it\tright',
    ).message;
    expect(message.length).toBeLessThan(420);
    // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for
    expect(message).not.toMatch(/[\u0000-\u001f\u202e]/);
    expect(message).toMatch(/^a.*x\.csv, line 1 y.*; do it right$/);
  });

  it('quotes a value in part', () => {
    expect(messageOf(() => readCourseFile(`title: [${'1, '.repeat(900)}1]\n`, 'f'))).toContain(
      'a list of 901 is not a text',
    );
  });
});

describe('a key of YAML', () => {
  it.each(['? [1]\n: 2\n', '{: 3}\n', '? {a: 1}\n: 2\n', 'a: 1\n? \n: 2\n'])(
    'is a word: %j is refused with its line, without a word of the parser',
    (text) => {
      expect(messageOf(() => readAny(text, 'f'))).toMatch(
        /^f, line \d: a key is a list, a mapping, an alias or nothing; write a key/,
      );
    },
  );
});

describe('the schema of', () => {
  it.each([
    'layouts/layout.schema.json',
    'src/course/course.schema.json',
    'src/event/notes.schema.json',
  ])('%s keeps the schema of schemas (JSON Schema, draft 2020-12)', (file) => {
    const schema = parseJson(readFileSync(file, 'utf8'), file) as object;
    const ajv = new Ajv2020({ strict: true, strictRequired: false, allowUnionTypes: true });
    expect(ajv.validateSchema(schema), ajv.errorsText()).toBe(true);
    expect(ajv.validateSchema({ ...schema, type: 'no type' })).toBe(false);
  });
});
