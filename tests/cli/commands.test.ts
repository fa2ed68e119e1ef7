import { readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { COMMANDS, namedCommand } from '../../src/cli/commands.js';
import type { Argument, OptionTaker } from '../../src/cli/options.js';
import { atDepth } from '../depth.js';
import { runCaptured } from './run-captured.js';

/** What a command says that it takes. */
const taken = async (name: string) => {
  const positionals: [string, Argument][] = [];
  const options: [string, Argument][] = [];
  const taker: OptionTaker = {
    positional: (key, argument) => {
      positionals.push([key, argument]);
      return taker;
    },
    option: (key, argument) => {
      options.push([key, argument]);
      return taker;
    },
  };
  (await COMMANDS[name].options())(taker);
  return { positionals, options };
};

/** Files and packages that a file loads before it does anything, itself too. */
const loadedWith = (file: string, seen = new Set<string>()): ReadonlySet<string> => {
  if (seen.has(file)) return seen;
  seen.add(file);
  const text = readFileSync(file, 'utf8');
  for (const [line, from] of text.matchAll(/^(?:import|export)\b[^;]*?from '([^']+)';/gm)) {
    if (/^(?:import|export) type\b/.test(line) || from.startsWith('node:')) continue;
    if (from.startsWith('.')) loadedWith(join(dirname(file), from.replace(/\.js$/, '.ts')), seen);
    else seen.add(from);
  }
  return seen;
};

const source = fileURLToPath(new URL('../../src/', import.meta.url));
const named = (files: ReadonlySet<string>): string[] =>
  [...files].map((file) => file.replace(source, '')).sort();

it('takes a dash for standard input where a survey is named', async () => {
  const { stderr } = await runCaptured(['survey', '-', '--band', 'x']);
  expect(stderr).toContain('--band is not a number');
});

describe.each(Object.keys(COMMANDS))('runnel %s', (name) => {
  it('describes each argument of its line, and takes no other', async () => {
    const { signature, describe: words } = COMMANDS[name];
    const inLine = [...signature.matchAll(/([<[])([a-z]+)(?:\.\.)?[>\]]/g)].map(
      ([, bracket, key]) => [key, bracket === '<'] as const,
    );
    const { positionals, options } = await taken(name);
    expect(signature.split(' ')[0]).toBe(name);
    expect(words).not.toBe('');
    expect(positionals.map(([key, { demandOption }]) => [key, demandOption === true])).toEqual(
      inLine,
    );
    for (const [, argument] of [...positionals, ...options]) expect(argument.describe).toBeTruthy();
    expect(await COMMANDS[name].run()).toBeTypeOf('function');
  });

  it('wants a value of each argument, and a name where it takes a file', async () => {
    const { positionals, options } = await taken(name);
    const given = (without: string): string[] => [
      name,
      ...positionals.map(([key]) => (key === without ? '' : 'x')),
      ...options.flatMap(([key, { demandOption }]) =>
        demandOption === true && key !== without ? [`--${key}`, '1'] : [],
      ),
    ];
    const refused = async (argv: readonly string[], words: string): Promise<void> => {
      const { code, stderr } = await runCaptured(argv);
      expect([code, stderr.trim().split('\n').length, stderr]).toEqual([
        ...[2, 1, expect.stringContaining(words)],
      ]);
    };
    for (const [key, { path, array }] of positionals) {
      await refused(given(key), `command line: ${key} is empty`);
      const dashed = given(key).map((word) => word || '-');
      if (path) await refused(dashed, array ? `no ${key}` : `command line: ${key} is "-"`);
    }
    for (const [key, { type, array, path }] of options) {
      if (type === 'boolean') continue;
      const line = given(key).map((word) => word || 'x');
      await refused([...line, `--${key}`], `--${key} wants a value`);
      if (array !== true) await refused([...line, `--${key}`, '--json'], `--${key} wants a value`);
      await refused([...line, `--${key}=`], `--${key} is empty`);
      if (path) await refused([...line, `--${key}`, '-'], `--${key} is "-"`);
    }
  });

  it('tells its own options when asked for help', async () => {
    const { positionals, options } = await taken(name);
    const { code, stdout, stderr } = await runCaptured([name, '--help']);
    expect([code, stderr]).toEqual([0, '']);
    expect(stdout).toContain(COMMANDS[name].describe.slice(0, 20));
    for (const [key] of options) expect(stdout).toContain(`--${key}`);
    for (const line of stdout.split('\n')) expect(line.length).toBeLessThanOrEqual(80);
    // The words of each argument stand there whole, broken at spaces only.
    const words = stdout.replaceAll(/\[[^\]]*\]/g, '').replaceAll(/\s+/g, ' ');
    for (const [, { describe: told }] of [...positionals, ...options]) {
      const bare = told.replaceAll(/\[[^\]]*\]/g, '').replaceAll(/\s+/g, ' ');
      expect(words).toContain(bare.trim());
    }
  });
});

const EVERY = atDepth(6, 1);

/** Misspelt as a hurried hand does: two letters changed about, or one left out. */
const misspelt = (word: string): string =>
  word.length > 3 && word[1] !== word[2]
    ? `${word[0]}${word[2]}${word[1]}${word.slice(3)}`
    : `${word}e`;

describe('a word that no command knows', () => {
  it.each(Object.keys(COMMANDS))('that looks like %s is asked back', async (name) => {
    const { code, stderr } = await runCaptured([misspelt(name)]);
    expect(code).toBe(2);
    expect(stderr).toContain(`did you mean "${name}"?`);
  });

  it.each(Object.keys(COMMANDS))(
    'that looks like any option of %s is asked back',
    { tags: 'deep' },
    async (name) => {
      const { positionals, options } = await taken(name);
      const given = [
        ...positionals.map(([key]) => key),
        ...options.flatMap(([key, { demandOption }]) => (demandOption ? [`--${key}=1`] : [])),
      ];
      const keys = [...options.map(([own]) => own), 'json', 'units'];
      // In the quick run each option of the program is likely to be looked at in one of its commands.
      const first = Object.keys(COMMANDS).indexOf(name) % EVERY;
      for (const key of keys.filter((_, i) => i % EVERY === first)) {
        const { code, stdout, stderr } = await runCaptured([
          name,
          ...given,
          `--${misspelt(key)}=1`,
        ]);
        expect([code, stdout], key).toEqual([2, '']);
        expect(stderr, key).toContain(`did you mean "--${key}"?`);
        expect(stderr.trim().split('\n'), key).toHaveLength(1);
      }
    },
  );
});

describe('the command line', () => {
  it('loads nothing but words for a page of help, not even the parser', () => {
    // Of our own files what Node starts at has none, so that it can tell where they cannot be opened.
    expect(named(loadedWith(`${source}cli/main.ts`))).toEqual(['cli/main.ts']);
    expect(named(loadedWith(`${source}cli/start.ts`))).toEqual([
      'cli/commands.ts',
      'cli/output.ts',
      'cli/run.ts',
      'cli/signals.ts',
      'cli/start.ts',
      'fault.ts',
      'input-limits.ts',
      'machine-fault.ts',
    ]);
    expect(named(loadedWith(`${source}cli/help.ts`))).toEqual([
      'cli/commands.ts',
      'cli/help.ts',
      'cli/options.ts',
      'layout/own-layouts.ts',
    ]);
  });

  it('tells of every command, of what is required, of choices and of what is taken else', async () => {
    const { code, stdout } = await runCaptured(['--help']);
    expect(code).toBe(0);
    for (const { signature } of Object.values(COMMANDS)) expect(stdout).toContain(signature);
    expect(await runCaptured(['help'])).toEqual({ code, stdout, stderr: '' });
    expect(stdout).toContain(
      '  --units    units shown (imperial)              [choices: "imperial", "metric"]\n',
    );
    const speed = await runCaptured(['speed', '--up', '--help']);
    expect(speed.stdout).toMatch(/^ {2}--up +roll up the slope: .* +\[string\] \[required\]$/m);
    expect((await runCaptured(['help', 'speed'])).stdout).toBe(speed.stdout);
    expect((await runCaptured(['locate', '--help'])).stdout).toMatch(
      /^ {2}--out .*\n +\[string\] \[default: "out"\]$/m,
    );
  });

  it('finds the command wherever it stands', async () => {
    expect(namedCommand(['--json', '--units', 'metric', 'speed', '--up', '1'])).toBe(
      COMMANDS.speed,
    );
    expect(namedCommand(['--help'])).toBeUndefined();
    expect(namedCommand(['constructor'])).toBeUndefined();
    const { code, stdout } = await runCaptured('--json speed --up 7ft --down 14ft'.split(' '));
    expect(code).toBe(0);
    expect(JSON.parse(stdout).stimp_ft).toBeCloseTo(28 / 3, 9);
  });

  it('tells of each layout how it is bound, in plain words beside those of layout files', async () => {
    const { code, stdout } = await runCaptured(['layouts']);
    expect(code).toBe(0);
    for (const words of [
      'loose leaves (loose)',
      'folded and stapled (saddle stitch)',
      'glued at the back (perfect)',
      'punched, on a wire (wire-o)',
      'one sheet folded small (fold-up)',
    ]) {
      expect(stdout).toMatch(new RegExp(`^  page .*, ${words.replaceAll(/[()]/g, '\\$&')}$`, 'm'));
    }
  });

  it.each([
    [['bok', 'links'], 'did you mean "book"?'],
    [['speed', '--up', '7', '--down', '9', '--jsn'], 'did you mean "--json"?'],
    [['book', 'links', '--layuot', 'a6'], 'did you mean "--layout"?'],
    [['layouts', '--hlep'], 'did you mean "--help"?'],
    [
      ['speed', '--up', '7', '--down', '9', 'further'],
      'not known: "further"; `runnel speed --help` lists',
    ],
    [[], 'name a command'],
    [['--units', 'furlongs', 'layouts'], '--units "furlongs" is not known; use one of "imperial"'],
    [['--units', 'fur"longs', 'layouts'], `--units "fur'longs" is not known; use one of`],
    [['speed'], 'missing: --up, --down; write: runnel speed --up … --down …'],
    [
      ['day', 'links', '--speed', 'fast'],
      '--speed: "fast" is not a green speed; write the stimp reading: 11.5 (feet) or 3.5m; missing: --day; write:',
    ],
    [['day', '--speed', '1'], 'is no stimp reading; readings lie between'],
    [['day', '--speed', '1'], '3.5m; nothing is named; write: runnel day <course>'],
    [['putt', '--stimp', '3.5', '--from', '1,2'], '"3.5" could be metres'],
    [['green', 'links'], '1 of 2 names are given; write: runnel green <course> <hole>'],
    [['speed', '--down', '9', '--up'], '--up wants a value'],
    [['speed', '--up', '7', '--up', '8', '--down', '9'], '--up is given 2 times'],
    [['holes', 'links', '--day', 'first'], '--day is not a number'],
  ])('%j: one line that says what was meant, exit 2', async (argv, words) => {
    const { code, stdout, stderr } = await runCaptured(argv);
    expect(code).toBe(2);
    expect(stdout).toBe('');
    expect(stderr).toContain(words);
    expect(stderr.trim().split('\n')).toHaveLength(1);
  });
});
