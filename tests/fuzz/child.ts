import { type ChildProcess, fork } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { LIMITS } from './judge.js';
import type { Answer, Asked } from './worker.js';

/** What became of a case, as seen from outside the process that tried it. */
export type Outcome = Answer & { readonly ended: boolean };

const WORKER = fileURLToPath(new URL('worker.ts', import.meta.url));
/** A case is stopped once it has worked for longer than it may, as the system counts it: the clock says what others do, too. */
const STOPPED_AFTER = 1.2 * LIMITS.milliseconds;
/** One that waits for nothing, or on a system that does not count, is given up after this long by the clock. */
const PATIENCE = (isCounted: boolean): number => (isCounted ? 40 : 3) * LIMITS.milliseconds;
/** Engine memory beside what is held outside of it. */
const HEAP_MB = 1_024;
const LOOK_EVERY = 100;

interface Said {
  readonly kinds?: readonly string[];
  readonly begun?: string;
  readonly seed?: string;
  readonly answer?: Answer;
}

/** Memory that a process holds now, bytes; 0 where the system does not tell. */
const heldBy = (pid: number | undefined): number => {
  try {
    const status = readFileSync(`/proc/${pid}/status`, 'utf8');
    return 1024 * Number(/VmRSS:\s+(\d+)/.exec(status)?.[1] ?? 0);
  } catch {
    return 0;
  }
};

/** Linux counts in ticks of this many milliseconds (`getconf CLK_TCK` is 100 on every architecture). */
const TICK = 10;

/** Milliseconds that a process has worked, all its threads together; null where the system does not tell. */
const workedBy = (pid: number | undefined): number | null => {
  try {
    // proc(5): utime and stime are fields 14 and 15; the name, field 2, may hold anything but ends with a bracket.
    const stat = readFileSync(`/proc/${pid}/stat`, 'utf8');
    const fields = stat.slice(stat.lastIndexOf(')') + 2).split(' ');
    return TICK * (Number(fields[11]) + Number(fields[12]));
  } catch {
    return null;
  }
};

/** A process that tries one case after another, and is started afresh when one of them ends it. */
export interface Child {
  readonly kinds: readonly string[];
  attempt(asked: Asked): Promise<Outcome>;
  end(): void;
}

const start = (): Promise<{ process: ChildProcess; kinds: readonly string[] }> =>
  new Promise((resolve, reject) => {
    const child = fork(WORKER, [], {
      execArgv: ['--import', import.meta.resolve('tsx'), `--max-old-space-size=${HEAP_MB}`],
      stdio: ['ignore', 'ignore', 'pipe', 'ipc'],
    });
    let stderr = '';
    child.stderr?.on('data', (chunk) => {
      stderr = `${stderr}${chunk}`.slice(-4_000);
    });
    child.once('message', (said: Said) => resolve({ process: child, kinds: said.kinds ?? [] }));
    child.once('exit', () => reject(new Error(`the fuzzer's own process ended: ${stderr}`)));
  });

const attemptIn = (child: ChildProcess, asked: Asked): Promise<Outcome> =>
  new Promise((resolve) => {
    let [bytes, seed, stderr] = ['', '', ''];
    const began = performance.now();
    let before = workedBy(child.pid);
    const patience = PATIENCE(before !== null);
    // What the files are made from is made first; that may take longer.
    let mayWork = 4 * STOPPED_AFTER;
    const done = (outcome: Outcome): void => {
      clearTimeout(timer);
      clearInterval(look);
      child.off('message', onMessage).off('exit', onExit);
      child.stderr?.off('data', onWords);
      resolve(outcome);
    };
    const stopped = (finding: Answer['finding'], most = 0): void => {
      child.off('exit', onExit);
      child.kill('SIGKILL');
      done({ finding, milliseconds: performance.now() - began, most, seed, bytes, ended: true });
    };
    const onMessage = ({ begun, answer, seed: of }: Said): void => {
      if (begun !== undefined) {
        [bytes, seed] = [begun, of ?? ''];
        clearTimeout(timer);
        timer = setTimeout(tooSlow, patience);
        [before, mayWork] = [workedBy(child.pid), STOPPED_AFTER];
      }
      if (answer === undefined) return;
      const words = stderr.trim();
      const finding =
        answer.finding ??
        (answer.milliseconds > LIMITS.milliseconds
          ? { what: 'slow' as const, words: `${answer.milliseconds.toFixed(0)} ms` }
          : words !== ''
            ? { what: 'unclean message' as const, words: `said past the program: ${words}` }
            : null);
      done({ ...answer, finding, bytes, ended: false });
    };
    const onWords = (chunk: Buffer): void => {
      stderr += String(chunk);
    };
    const onExit = (code: number | null, signal: string | null): void =>
      stopped({ what: 'abort', words: `the process ended by ${code ?? signal}: ${stderr}` });
    const tooSlow = (): void =>
      stopped({ what: 'slow', words: `over ${patience} ms by the clock` });
    let timer = setTimeout(tooSlow, 4 * patience);
    const look = setInterval(() => {
      const held = heldBy(child.pid);
      if (held > LIMITS.bytes) stopped({ what: 'memory', words: `${held} bytes` }, held);
      const worked = (workedBy(child.pid) ?? 0) - (before ?? 0);
      if (worked > mayWork) stopped({ what: 'slow', words: `over ${mayWork} ms of work` });
    }, LOOK_EVERY);
    child.on('message', onMessage).once('exit', onExit);
    child.stderr?.on('data', onWords);
    child.send(asked);
  });

export const startChild = async (): Promise<Child> => {
  let running = await start();
  return {
    kinds: running.kinds,
    attempt: async (asked) => {
      const outcome = await attemptIn(running.process, asked);
      const tooMuch = outcome.most > LIMITS.bytes;
      if (outcome.ended || tooMuch) {
        running.process.removeAllListeners('exit');
        running.process.kill('SIGKILL');
        running = await start();
      }
      return tooMuch && outcome.finding === null
        ? { ...outcome, finding: { what: 'memory', words: `${outcome.most} bytes` } }
        : outcome;
    },
    end: () => {
      running.process.removeAllListeners('exit');
      running.process.disconnect();
    },
  };
};
