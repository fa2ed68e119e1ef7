import { EventEmitter } from 'node:events';
import { setTimeout } from 'node:timers/promises';
import { describe, expect, it, vi } from 'vitest';
import type { GreenJob } from '../../src/book/green-job.js';
import { doGreenJobs, type QueuedJob } from '../../src/book/green-pool.js';
import { InputFault } from '../../src/fault.js';

/** Threads that answer at once. */
vi.mock('../../src/book/start-thread.js', () => ({
  IS_COMPILED: true,
  startThread: () => {
    const thread = new EventEmitter();
    const postMessage = (result: unknown): unknown =>
      setImmediate(() => thread.emit('message', { result }));
    return Object.assign(thread, { postMessage, terminate: async () => 0 });
  },
}));

/** Of a green that is known already, so that nothing is left to do. */
const KNOWN = { fit: {}, reading: {}, worth: {}, request: null } as unknown as GreenJob;

/** What happens in which order. */
const eventsOf = async (threads: number, beside: () => Promise<void>): Promise<string[]> => {
  const events: string[] = [];
  const jobs = [0, 1, 2].map((i): QueuedJob => {
    const bring = (): GreenJob => {
      events.push(`begun ${i}`);
      return KNOWN;
    };
    return { cost: 1, bring };
  });
  await doGreenJobs(jobs, {
    keep: (i) => events.push(`kept ${i}`),
    threads,
    beside: async () => {
      await setTimeout(30);
      events.push('beside');
      await beside();
    },
  }).catch((error: Error) => events.push(error.message));
  return events;
};

describe('what is done beside greens', () => {
  it('goes on with the first job of each thread, and before anything is kept', async () => {
    const events = await eventsOf(2, async () => {});
    expect(events.slice(0, 3)).toEqual(['begun 0', 'begun 1', 'beside']);
    expect(events.slice(3).sort()).toEqual(['begun 2', 'kept 0', 'kept 1', 'kept 2']);
  });

  it('goes before them where there are no threads', async () => {
    const events = await eventsOf(0, async () => {});
    expect(events[0]).toBe('beside');
    expect(events).toHaveLength(7);
  });

  it.each([0, 2])('lets nothing be kept where it fails, on %i threads', async (threads) => {
    const small = new InputFault({ file: 'layout' }, 'too small', 'take a larger page');
    const events = await eventsOf(threads, () => Promise.reject(small));
    expect(events.slice(threads)).toEqual(['beside', 'layout: too small; take a larger page']);
  });
});
