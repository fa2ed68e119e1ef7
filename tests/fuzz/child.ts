import { type ChildProcess, fork } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { LIMITS } from './judge.js';
import type { Answer, Asked } from './worker.js';

/** What became of a case, as seen from outside the process that tried it. */
export type Outcome = Answer & { readonly ended: boolean };

const WORKER = fileURLToPath(new URL('worker.ts', import.meta.url));
/** A case that hangs is given up after this long by the clock: a busy machine may need some of it. */
const PATIENCE = 3 * LIMITS.milliseconds;
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
        timer = setTimeout(tooSlow, PATIENCE);
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
    const tooSlow = (): void => stopped({ what: 'slow', words: `over ${PATIENCE} ms` });
    // What the files are made from is made first; that may take longer.
    let timer = setTimeout(tooSlow, 4 * PATIENCE);
    const look = setInterval(() => {
      const held = heldBy(child.pid);
      if (held > LIMITS.bytes) stopped({ what: 'memory', words: `${held} bytes` }, held);
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
