import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { COMMANDS } from '../../src/cli/commands.js';
import { below, randomOfCase } from './chance.js';
import { courseKinds } from './course-kinds.js';
import { extremeKinds } from './extreme-kinds.js';
import { type Finding, findingOf } from './judge.js';
import type { Kind, Seed } from './kinds.js';
import { LINE_KINDS } from './line-kinds.js';
import { MOVED_KINDS } from './moved-kinds.js';
import { PICTURE_KINDS } from './picture-kinds.js';
import { RunFinding } from './run-program.js';
import { SURVEY_KINDS } from './survey-kinds.js';

/** A case, by its number or by its bytes. */
export interface Asked {
  readonly kind: string;
  readonly number: number;
  /** Of the damaged file, base 64; absent: made from the number. */
  readonly bytes?: string;
}

export interface Answer {
  readonly finding: Finding | null;
  readonly milliseconds: number;
  /** Most memory that the process has held so far, bytes. */
  readonly most: number;
  readonly seed: string;
  readonly bytes: string;
}

const folder = mkdtempSync(join(tmpdir(), 'runnel-fuzz-'));
process.on('exit', () => rmSync(folder, { recursive: true, force: true }));

const KINDS: readonly Kind[] = [
  ...SURVEY_KINDS,
  ...courseKinds(folder),
  ...LINE_KINDS,
  ...PICTURE_KINDS,
  ...MOVED_KINDS,
  ...extremeKinds(folder),
];
const seedsOf = new Map<string, readonly Seed[]>();

/** The damaged file of a case, and what it was made from. */
const fileOf = async (kind: Kind, asked: Asked): Promise<{ seed: Seed; bytes: Buffer }> => {
  let seeds = seedsOf.get(kind.name);
  if (seeds === undefined) {
    seeds = await kind.seeds();
    if (seeds.length === 0) throw new Error(`${kind.name} has nothing to damage`);
    seedsOf.set(kind.name, seeds);
  }
  const random = randomOfCase(kind.name, asked.number);
  const seed = seeds[below(random, seeds.length)];
  const bytes =
    asked.bytes === undefined
      ? kind.damage(
          seed.bytes,
          random,
          seeds.map((one) => one.bytes),
        )
      : Buffer.from(asked.bytes, 'base64');
  return { seed, bytes };
};

/** Milliseconds of work: what others do on the same machine is no fault of a case. */
const spentSince = (start: NodeJS.CpuUsage): number => {
  const { user, system } = process.cpuUsage(start);
  return (user + system) / 1000;
};

const tryCase = async (asked: Asked): Promise<Answer> => {
  const kind = KINDS.find((one) => one.name === asked.kind)!;
  const { seed, bytes } = await fileOf(kind, asked);
  let finding: Finding | null = null;
  // Told before it is tried, so that a case which ends the process is known.
  process.send?.({ begun: bytes.toString('base64'), seed: seed.name });
  const start = process.cpuUsage();
  try {
    await kind.read(bytes, seed, { folder, number: asked.number });
  } catch (error) {
    finding = error instanceof RunFinding ? error.finding : findingOf(error);
  }
  return {
    finding,
    milliseconds: spentSince(start),
    most: 1024 * process.resourceUsage().maxRSS,
    seed: seed.name,
    bytes: finding === null ? '' : bytes.toString('base64'),
  };
};

process.on('message', (asked: Asked) => {
  void tryCase(asked).then((answer) => process.send?.({ answer }));
});
process.on('disconnect', () => process.exit(0));
// A command's code is loaded, and translated, when it first runs: no case is to pay for that.
for (const name of ['book', 'check', 'holes', 'new', 'survey']) await COMMANDS[name].run();
process.send?.({ kinds: KINDS.map(({ name }) => name) });
