import { mkdirSync, writeFileSync } from 'node:fs';
import { availableParallelism, tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { type Child, type Outcome, startChild } from './child.js';
import { shrunk } from './shrink.js';

/**
 * `npm run fuzz [-- kind … [number] [--tries N] [--from N] [--keep FOLDER]]`: damages files of every kind
 * that the program reads, by number, and looks whether each is read, or refused in one clean line, in time and
 * memory. A kind and a number name one case for ever. What is found is tried again in a fresh process,
 * made smaller and kept. Ends with 1 when there is a finding.
 */

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    tries: { type: 'string', default: '500' },
    from: { type: 'string', default: '0' },
    keep: { type: 'string', default: join(tmpdir(), 'runnel-findings') },
  },
});
const isNumber = (word: string): boolean => /^\d+$/.test(word);
const single = positionals.find(isNumber);
const first = Number(single ?? values.from);
const tries = single === undefined ? Number(values.tries) : 1;

const say = (line: string): void => {
  process.stdout.write(`${line}\n`);
};

const keep = async (child: Child, kind: string, number: number, found: Outcome): Promise<void> => {
  const bytes = Buffer.from(found.bytes, 'base64');
  const what = found.finding!.what;
  const quick = what !== 'slow' && what !== 'memory' && what !== 'wrong read';
  const small = quick
    ? await shrunk(bytes, async (smaller) => {
        const again = await child.attempt({ kind, number, bytes: smaller.toString('base64') });
        return again.finding?.what === what;
      })
    : bytes;
  mkdirSync(values.keep, { recursive: true });
  const name = join(values.keep, `${kind}-${number}`);
  writeFileSync(`${name}.whole`, bytes);
  writeFileSync(`${name}.small`, small);
  writeFileSync(`${name}.txt`, `${what}\nfrom: ${found.seed}\n${found.finding!.words}\n`);
  say(`  ${kind} ${number} (${found.seed}): ${what}: ${found.finding!.words.slice(0, 500)}`);
  say(`    kept as ${name}.small, ${small.length} of ${bytes.length} bytes`);
};

/** Tries a case that failed once more in a process of its own, since what went before may be to blame. */
const confirmed = async (kind: string, number: number): Promise<Outcome | null> => {
  const alone = await startChild();
  const outcome = await alone.attempt({ kind, number });
  if (outcome.finding !== null) await keep(alone, kind, number, outcome);
  alone.end();
  return outcome.finding === null ? null : outcome;
};

/** What a kind's cases came to. */
interface Tally {
  readonly kind: string;
  readonly began: number;
  left: number;
  findings: number;
  passing: number;
  slowest: number;
  most: number;
}

const told = ({ kind, began, findings, passing, slowest, most }: Tally): string =>
  `${kind}: ${tries} tried, ${findings} found${passing === 0 ? '' : `, ${passing} in company only`}, slowest ${slowest.toFixed(0)} ms, process at most ${(most / 2 ** 20).toFixed(0)} MB, ${((performance.now() - began) / 1000).toFixed(1)} s`;

const tried = async (child: Child, tally: Tally, number: number): Promise<void> => {
  const outcome = await child.attempt({ kind: tally.kind, number });
  tally.slowest = Math.max(tally.slowest, outcome.milliseconds);
  tally.most = Math.max(tally.most, outcome.most);
  if (outcome.finding === null) return;
  if ((await confirmed(tally.kind, number)) !== null) {
    tally.findings++;
    return;
  }
  tally.passing++;
  say(
    `  ${tally.kind} ${number}: ${outcome.finding.what} in company only: ${outcome.finding.words.slice(0, 300)}`,
  );
};

/** The cases of all kinds, kind after kind; a kind's clock starts when its first case is taken. */
function* casesOf(kinds: readonly string[]): Generator<{ tally: Tally; number: number }> {
  for (const kind of kinds) {
    const tally: Tally = {
      ...{ kind, began: performance.now(), left: tries },
      ...{ findings: 0, passing: 0, slowest: 0, most: 0 },
    };
    tallies.push(tally);
    for (let number = first; number < first + tries; number++) yield { tally, number };
  }
}

const started = performance.now();
const tallies: Tally[] = [];
const children = await Promise.all(
  Array.from({ length: Math.min(2, availableParallelism()) }, startChild),
);
const { kinds } = children[0];
const asked = positionals.filter((word) => !isNumber(word));
const unknown = asked.find((kind) => !kinds.includes(kind));
if (unknown !== undefined) {
  say(`no kind "${unknown}"; there are ${kinds.join(', ')}`);
  process.exit(2);
}
const cases = casesOf(kinds.filter((kind) => asked.length === 0 || asked.includes(kind)));
await Promise.all(
  children.map(async (child) => {
    // Both take from one list, so that neither waits while cases are left.
    for (let next = cases.next(); !next.done; next = cases.next()) {
      const { tally, number } = next.value;
      await tried(child, tally, number);
      if (--tally.left === 0) say(told(tally));
    }
    child.end();
  }),
);
const findings = tallies.reduce((sum, tally) => sum + tally.findings, 0);
say(
  `${tallies.length * tries} cases, ${findings} findings, ${((performance.now() - started) / 1000).toFixed(0)} s`,
);
process.exitCode = findings > 0 ? 1 : 0;
