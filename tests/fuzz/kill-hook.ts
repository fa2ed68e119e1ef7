import fs from 'node:fs';
import { syncBuiltinESMExports } from 'node:module';
import { isMainThread, threadId } from 'node:worker_threads';

/**
 * Loaded before the program (`node --import`): counts what the run does to files and says, and kills its own
 * process, as a loss of power would, right after the moment that `?at=` names. `?count=` names a file for the
 * list of moments of a whole run. With `?threads` it does so in the threads instead, each by itself: there the proof keeps
 * what it has fitted.
 */
const query = new URL(import.meta.url).searchParams;
const at = Number(query.get('at') ?? Number.POSITIVE_INFINITY);
const count = query.get('count');
const ofThreads = query.has('threads');
const moments: string[] = [];
const write = fs.writeFileSync;

const passed = (what: string): void => {
  moments.push(what);
  if (moments.length === at) process.kill(process.pid, 'SIGKILL');
  // A thread is ended without a word.
  if (ofThreads && count !== null) write(`${count}-${threadId}`, JSON.stringify(moments));
};

if (isMainThread !== ofThreads) {
  const table = fs as unknown as Record<string, (...args: unknown[]) => unknown>;
  for (const name of ['openSync', 'writeSync', 'fsyncSync', 'renameSync', 'rmSync', 'mkdirSync']) {
    const own = table[name];
    table[name] = (...args) => {
      if (name === 'openSync' && args[1] !== 'w') return own(...args);
      const result = own(...args);
      passed(name);
      return result;
    };
  }
  syncBuiltinESMExports();
  for (const stream of [process.stdout, process.stderr]) {
    const own = stream.write.bind(stream) as (...args: unknown[]) => boolean;
    stream.write = ((...args: unknown[]) => {
      const result = own(...args);
      passed('message');
      return result;
    }) as typeof stream.write;
  }
  if (!ofThreads && count !== null) process.on('exit', () => write(count, JSON.stringify(moments)));
}
