import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { cpSync, existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:net';
import { join } from 'node:path';
import { setTimeout as after } from 'node:timers/promises';
import { isDeepStrictEqual, parseArgs } from 'node:util';
import { unpack } from '../../src/book/packed-value.js';
import { writeTinyCourse } from '../cli/tiny-course.js';
import { writeTinyLayout } from '../cli/tiny-layout.js';
import { seeded } from '../survey/foreign-texts.js';
import { below, oneOf } from './chance.js';
import { besiegedProgram, filesUnder, PARTS } from './kill-ground.js';

/**
 * `npm run kill:proof [-- N] [--seed N]`: ends the server of the proof: right after a moment of its keeping what it has
 * fitted, while it answers, while it solves putts anew at another speed; and by signals, as it starts and as it works. After
 * each the port must be free and all files of the user's, the products of a book among them, as they were; the next proof
 * must answer by what is kept as the first did, end at a signal with a word, and leave nothing.
 */

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: { seed: { type: 'string', default: '1' } },
});
const KILLS = Number(positionals[0] ?? 10);
const WAYS = ['keeping', 'answering', 'solving', 'SIGINT', 'SIGTERM'] as const;
type Way = (typeof WAYS)[number];

const { main, hook, root } = besiegedProgram();
const course = join(root, 'links');
writeTinyCourse(course, '10');
const layout = writeTinyLayout(root);
const out = join(root, 'out');
const findings: string[] = [];
const find = (words: string): void => {
  findings.push(words);
  process.stdout.write(`  ${words}\n`);
};

interface Proof {
  readonly server: ChildProcess;
  /** Where it answers; rejects with what it says when it ends before. */
  readonly url: Promise<string>;
  readonly ended: Promise<{ readonly code: number | null; readonly signal: string | null }>;
  words: string;
}

const startProof = (port: number, query = ''): Proof => {
  const server = spawn(
    process.execPath,
    [
      ...['--import', `${hook}?${query}`, main, 'proof', course, '--layout', layout],
      ...['--out', out, '--port', String(port)],
    ],
    { stdio: ['ignore', 'ignore', 'pipe'] },
  );
  const ended: Proof['ended'] = new Promise((resolve) => {
    server.once('close', (code, signal) => resolve({ code, signal }));
  });
  const proof = { server, ended, words: '' };
  const url = new Promise<string>((resolve, reject) => {
    server.stderr.setEncoding('utf8').on('data', (piece: string) => {
      proof.words += piece;
      const found = /^(http:\S+) /m.exec(proof.words);
      if (found !== null) resolve(found[1]);
    });
    void ended.then(() => reject(new Error(`the proof ended: ${proof.words}`)));
  });
  url.catch(() => {});
  return Object.assign(proof, { url });
};

const isFree = (port: number): Promise<boolean> =>
  new Promise((resolve) => {
    const server = createServer();
    server.once('error', () => resolve(false));
    server.listen(port, '127.0.0.1', () => server.close(() => resolve(true)));
  });

const bodyOf = async (url: string, path: string): Promise<string> => {
  const answer = await fetch(new URL(path, url));
  return `${answer.status} ${await answer.text()}`;
};

const ASKED = ['?hole=12', 'putt?green=12&ball=0,4&hole=1,5', 'leaf?hole=12&leaf=0', 'book'];
const speedOf = (k: number): string => `book?speed=${(8 + (k % 50) / 10).toFixed(1)}`;

/** All files that are not the cache's, with their bytes. */
const theirs = (): Map<string, string> =>
  new Map(
    filesUnder(root)
      .filter((file) => !file.startsWith(join('out', '.cache')) && !file.startsWith('moments'))
      .map((file) => [file, readFileSync(join(root, file), 'base64')]),
  );
const differing = (before: ReadonlyMap<string, string>): string[] => {
  const now = theirs();
  return [...new Set([...before.keys(), ...now.keys()])].filter(
    (file) => before.get(file) !== now.get(file),
  );
};

/** Ends a proof by a signal while it works, and looks that it says so. */
const endedBy = async (proof: Proof, signal: 'SIGINT' | 'SIGTERM', told: string): Promise<void> => {
  proof.server.kill(signal);
  const { code, signal: by } = await proof.ended;
  if (code !== 0 && by !== signal) find(`${told}: ${signal} ends it with ${code ?? by}`);
  // Before the program listens there is nobody to say anything, and nothing begun.
  const isStarting = by === signal && proof.words === '';
  if (!isStarting && !proof.words.includes(`runnel: stopped by ${signal}\n`))
    find(`${told}: no word at ${signal}: ${proof.words}`);
  if (/\bat .+:\d+:\d+|internal/.test(proof.words)) find(`${told}: ${proof.words}`);
};

/** What a file of the cache holds: the same value may be written with its parts shared or told twice. */
const valueIn = (path: string): unknown => {
  if (!existsSync(path)) return 'nothing';
  const bytes = readFileSync(path);
  const [, key] = bytes.subarray(0, 200).toString('latin1').split('\n');
  return unpack(bytes, key) ?? 'damaged';
};

const milliseconds = async (work: () => Promise<unknown>): Promise<number> => {
  const began = performance.now();
  await work();
  return performance.now() - began;
};

spawnSync(process.execPath, [main, 'book', course, '--layout', layout, '--out', out]);
mkdirSync(join(out, 'links'), { recursive: true });
writeFileSync(join(out, 'links', 'a note of the user.txt'), 'mine');
rmSync(join(out, '.cache'), { recursive: true, force: true });
const before = theirs();
if (![...before.keys()].some((file) => file.endsWith('.pdf'))) throw new Error('no book was made');

const counted = join(root, 'moments');
const first = startProof(0, `threads=1&count=${counted}`);
let url = '';
const opening = await milliseconds(async () => {
  url = await first.url;
});
const port = Number(new URL(url).port);
const known: string[] = [];
const answering = await milliseconds(async () => {
  for (const path of ASKED) known.push(await bodyOf(url, path));
});
if (known.some((one) => !one.startsWith('200 '))) throw new Error(`not answered: ${known}`);
const solving = await milliseconds(() => bodyOf(url, speedOf(5)));
await endedBy(first, 'SIGTERM', 'the first proof');
const cached = filesUnder(join(out, '.cache'));
// The thread for pages is the first, and finds nothing kept.
const moments = JSON.parse(readFileSync(`${counted}-1`, 'utf8')) as string[];
const kept = join(root, 'moments-cache');
cpSync(join(out, '.cache'), kept, { recursive: true });

const random = seeded(Number(values.seed));
const met = new Map<Way, number>();
const attempts: Readonly<Record<Way, (k: number, told: string) => Promise<void>>> = {
  keeping: async (_, told) => {
    rmSync(join(out, '.cache'), { recursive: true, force: true });
    const what = oneOf(random, [...new Set(moments)]);
    const places = moments.flatMap((one, at) => (one === what ? [at + 1] : []));
    const at = places[below(random, places.length)];
    const proof = startProof(port, `threads=1&at=${at}`);
    const { signal } = await proof.ended;
    if (signal !== 'SIGKILL')
      find(`${told}: not killed after moment ${at} (${what}): ${proof.words}`);
  },
  answering: async () => {
    const proof = startProof(port);
    const there = await proof.url;
    const asked = ASKED.map((path) => bodyOf(there, path).catch(() => ''));
    await after(random() * answering);
    proof.server.kill('SIGKILL');
    await Promise.all([proof.ended, ...asked]);
  },
  solving: async (k) => {
    const proof = startProof(port);
    const asked = bodyOf(await proof.url, speedOf(k)).catch(() => '');
    await after(random() * solving);
    proof.server.kill('SIGKILL');
    await Promise.all([proof.ended, asked]);
  },
  SIGINT: (k, told) => signalled('SIGINT', k, told),
  SIGTERM: (k, told) => signalled('SIGTERM', k, told),
};

/** Half of the signals come as the proof starts, cold, the others while it works. */
async function signalled(signal: 'SIGINT' | 'SIGTERM', k: number, told: string): Promise<void> {
  if (random() < 0.5) {
    rmSync(join(out, '.cache'), { recursive: true, force: true });
    const proof = startProof(port);
    await after(random() * opening);
    await endedBy(proof, signal, `${told}, as it starts`);
    return;
  }
  const proof = startProof(port);
  const asked = bodyOf(await proof.url, speedOf(k)).catch(() => '');
  await after(random() * solving);
  await endedBy(proof, signal, `${told}, as it works`);
  await asked;
}

const began = performance.now();
for (let k = 0; k < KILLS; k++) {
  const way = WAYS[k % WAYS.length];
  const told = `proof, ${way} ${k}`;
  await attempts[way](k, told);
  met.set(way, (met.get(way) ?? 0) + 1);
  if (!(await isFree(port))) find(`${told}: the port is not free`);
  const lost = differing(before);
  if (lost.length > 0) find(`${told}: no longer as they were: ${lost}`);
  const next = startProof(port);
  const there = await next.url.catch((error: Error) => error);
  if (there instanceof Error) {
    find(`${told}: the next proof does not start: ${there.message}`);
    continue;
  }
  for (const [n, path] of ASKED.entries()) {
    if ((await bodyOf(there, path)) !== known[n]) find(`${told}: /${path} is answered otherwise`);
  }
  await endedBy(next, k % 2 === 0 ? 'SIGTERM' : 'SIGINT', `${told}, the next proof`);
  const now = filesUnder(join(out, '.cache'));
  const stray = now.filter((file) => PARTS.test(file) || !cached.includes(file));
  if (stray.length > 0) find(`${told}: left after the next proof: ${stray}`);
  const unlike = cached.filter(
    (file) => !isDeepStrictEqual(valueIn(join(kept, file)), valueIn(join(out, '.cache', file))),
  );
  if (unlike.length > 0) find(`${told}: kept otherwise: ${unlike}`);
}
const tally = [...met].map(([way, times]) => `${way} ${times}`).join(', ');
process.stdout.write(
  `${KILLS} proofs ended (${tally}; ${moments.length} moments of keeping), ${findings.length} findings, ${((performance.now() - began) / 1000).toFixed(0)} s\n`,
);
process.exitCode = findings.length > 0 ? 1 : 0;
