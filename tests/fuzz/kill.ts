import { spawn } from 'node:child_process';
import { existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { writeTinyCourse } from '../cli/tiny-course.js';
import { headOfLayout, writeTinyLayout } from '../cli/tiny-layout.js';
import { tidyCourse } from '../course/untidy-course.js';
import { writtenAs } from '../course/untidy-writers.js';
import { seeded } from '../survey/foreign-texts.js';
import { below, oneOf } from './chance.js';
import { besiegedProgram, filesUnder, PARTS } from './kill-ground.js';

/**
 * `npm run kill [-- N] [--seed N]`: kills runs of `book` and `day` right after a moment of their work: a file
 * opened, written, flushed, renamed, removed, a folder made, a message said. The kinds of moments are chosen
 * evenly, so that the few renames are met as often as the many writes. Two versions of a course take turns. After each kill every product must be whole,
 * and the set that of one version; after the next run the set is the new one, and nothing is left beside it.
 * Most kills meet a book of one page, which is made in a moment; the others whole books. Two folders are besieged at a time where there are two cores.
 */

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: { seed: { type: 'string', default: '1' } },
});
const KILLS = Number(positionals[0] ?? 30);
/** The cache is thrown away before every so many kills, so that they meet its writing, too. */
const COLD_EVERY = 5;
/**
 * Kills in a hundred that meet a whole book of outlines, `book` and `day` of a surveyed green: such runs are slow.
 * Below 100 kills books of outlines alone are met.
 */
const SHARES = KILLS < 100 ? { holes: 20, book: 0, day: 0 } : { holes: 6, book: 2, day: 2 };
/** All that there may be: those of whole books, and two of the book of one page. */
const SIEGES = 5;
const AT_A_TIME = Math.min(2, availableParallelism());
const SPEEDS = ['10', '11.5'] as const;

const { main, hook, root } = besiegedProgram();
const layout = writeTinyLayout(root);
const onePage = join(root, 'one-page.yaml');
writeFileSync(
  onePage,
  `${headOfLayout('one-page', 'play')}pages:
  hole:
    - { module: heading, columns: [1, 12], rows: [1, 4] }
    - { module: hole-image, columns: [1, 12], rows: [5, 28] }
    - { module: foot, columns: [1, 12], rows: [36, 36] }
`,
);
const folders = SPEEDS.map((speed) => {
  const folder = join(root, speed, 'links');
  writeTinyCourse(folder, speed);
  return folder;
});
/** Two versions of a course without surveys: its book is made in a moment. */
const bare = ['One', 'Two'].map((title) => {
  const folder = join(root, title, 'links');
  mkdirSync(folder, { recursive: true });
  writeFileSync(
    join(folder, 'map.geojson'),
    writtenAs('geojson', tidyCourse({ seed: 9, holes: 1 })),
  );
  const lines = [`title: ${title}`, 'map: map.geojson', 'holes:', '  - hole: 1', ''];
  writeFileSync(join(folder, 'course.yaml'), lines.join('\n'));
  return folder;
});

/** `page` and `holes` are books of the course without surveys. */
type Command = 'page' | 'holes' | 'book' | 'day';
const argsOf = (command: Command, turn: number, out: string): string[] =>
  command === 'page' || command === 'holes'
    ? [
        ...['book', bare[turn], '--layout', command === 'page' ? onePage : 'a6'],
        ...['--svg', '--out', out],
      ]
    : [
        ...[command, folders[turn], ...(command === 'day' ? ['--day', '2'] : [])],
        ...['--layout', layout, '--out', out],
      ];

interface Run {
  readonly signal: string | null;
  readonly code: number | null;
  readonly words: string;
}

const runWith = (query: string, args: readonly string[]): Promise<Run> =>
  new Promise((resolve) => {
    const run = spawn(process.execPath, ['--import', `${hook}?${query}`, main, ...args], {
      stdio: ['ignore', 'ignore', 'pipe'],
    });
    let words = '';
    run.stderr.setEncoding('utf8').on('data', (chunk: string) => {
      words += chunk;
    });
    run.once('close', (code, signal) => resolve({ signal, code, words }));
  });

const findings: string[] = [];
const find = (words: string): void => {
  findings.push(words);
  process.stdout.write(`  ${words}\n`);
};

interface Edition {
  readonly products: ReadonlyMap<string, Buffer>;
  readonly moments: readonly string[];
}

/** A whole run into a folder of its own; its moments are of a run that finds the cache as told. */
const wholeRun = async (command: Command, turn: number, out: string): Promise<Edition> => {
  const count = `${out}-moments`;
  const { code, words } = await runWith(`count=${count}`, argsOf(command, turn, out));
  if (code !== 0) throw new Error(`a whole run ended with ${code}: ${words}`);
  const files = filesUnder(join(out, 'links'));
  return {
    products: new Map(files.map((file) => [file, readFileSync(join(out, 'links', file))])),
    moments: JSON.parse(readFileSync(count, 'utf8')) as string[],
  };
};

/** Which version the products are of; -1 when they are of none, or of both. */
const versionOf = (place: string, editions: readonly Edition[]): number =>
  editions.findIndex(({ products }) =>
    [...products].every(([file, bytes]) => {
      const path = join(place, file);
      return existsSync(path) && readFileSync(path).equals(bytes);
    }),
  );

const THEIRS = 'a note of the user.txt';
const met = new Map<string, number>();
let [killed, mended] = [0, 0];

interface Siege {
  readonly command: Command;
  readonly kills: number;
  /** One of SIEGES. */
  readonly number: number;
}

/** Kills a command again and again; the random numbers of each are its own, whatever runs beside it. */
const besiege = async ({ command, kills, number }: Siege): Promise<void> => {
  const random = seeded(SIEGES * Number(values.seed) + number);
  const name = `${command}-${number}`;
  const cold: Edition[] = [];
  for (const turn of [0, 1]) {
    cold.push(await wholeRun(command, turn, join(root, `${name}-${turn}`)));
  }
  const out = join(root, `${name}-out`);
  const place = join(out, 'links');
  mkdirSync(place, { recursive: true });
  writeFileSync(join(place, THEIRS), 'mine');
  await wholeRun(command, 0, out);
  await wholeRun(command, 1, out);
  const warm = await wholeRun(command, 0, out);
  let stands = 0;
  for (let i = 0; i < kills; i++) {
    const turn = 1 - stands;
    const isCold = i % COLD_EVERY === 0;
    if (isCold) rmSync(join(out, '.cache'), { recursive: true, force: true });
    const { moments } = isCold ? cold[turn] : warm;
    const what = oneOf(random, [...new Set(moments)]);
    const places = moments.flatMap((one, k) => (one === what ? [k + 1] : []));
    const at = places[below(random, places.length)];
    const { signal, code, words } = await runWith(`at=${at}`, argsOf(command, turn, out));
    const told = `${command} killed after moment ${at} (${what}${isCold ? ', cold' : ''})`;
    if (signal === 'SIGKILL') {
      killed++;
      met.set(what, (met.get(what) ?? 0) + 1);
    } else if (code !== 0) find(`${told} ended with ${code}: ${words}`);
    for (const file of filesUnder(place)) {
      if (file === THEIRS || PARTS.test(file)) continue;
      const bytes = readFileSync(join(place, file));
      const isWhole = cold.some(({ products }) => products.get(file)?.equals(bytes));
      if (!isWhole) find(`${told}: ${file} is of no version`);
    }
    let version = versionOf(place, cold);
    if (version < 0) {
      // Between the first and the last rename a list says how the set is completed; any command does so.
      mended++;
      const checked = await runWith('', [
        'check',
        join(place, [...cold[0].products.keys()].find((f) => f.endsWith('.pdf'))!),
      ]);
      if (checked.code === 1 || checked.code === null)
        find(`${told}: check ends with ${checked.code}`);
      version = versionOf(place, cold);
    }
    if (version < 0) find(`${told}: the set is of both versions`);
    if (i % 3 === 2 || version < 0) {
      const after = await runWith('', argsOf(command, turn, out));
      if (after.code !== 0) find(`${told}: the next run ends with ${after.code}: ${after.words}`);
      if (versionOf(place, cold) !== turn) find(`${told}: the next run made another set`);
      const stray = filesUnder(out).filter((file) => PARTS.test(file));
      if (stray.length > 0) find(`${told}: left after the next run: ${stray}`);
      version = turn;
    }
    if (readFileSync(join(place, THEIRS), 'utf8') !== 'mine')
      find(`${told}: the user's file is lost`);
    stands = version;
  }
};

const began = performance.now();
const whole = (['holes', 'book', 'day'] as const).map((command) => ({
  command,
  kills: Math.round((KILLS * SHARES[command]) / 100),
}));
const onePaged = KILLS - whole.reduce((sum, { kills }) => sum + kills, 0);
const sieges: Siege[] = [
  ...whole,
  { command: 'page' as const, kills: Math.floor(onePaged / 2) },
  { command: 'page' as const, kills: Math.ceil(onePaged / 2) },
].map((siege, number) => ({ ...siege, number }));
const left = sieges.filter(({ kills }) => kills > 0).values();
await Promise.all(
  Array.from({ length: AT_A_TIME }, async () => {
    for (const siege of left) await besiege(siege);
  }),
);
const tally = [...met].map(([what, times]) => `${what} ${times}`).join(', ');
process.stdout.write(
  `${killed} of ${KILLS} runs killed (${tally}), ${mended} sets completed by the next command, ${findings.length} findings, ${((performance.now() - began) / 1000).toFixed(0)} s\n`,
);
process.exitCode = findings.length > 0 ? 1 : 0;
