import { request } from 'node:http';
import { connect, type Socket } from 'node:net';
import { setTimeout as after } from 'node:timers/promises';
import { describe, expect, it, vi } from 'vitest';
import { type Answer, busy, plain } from '../../src/proof/answers.js';
import { startServer } from '../../src/proof/server.js';
import { workQueue } from '../../src/proof/work-queue.js';

const STAYING = new AbortController().signal;

/** A worker that takes its jobs' own time, milliseconds, and counts how many it does at once. */
const counted = () => {
  const seen = { now: 0, most: 0, done: [] as string[] };
  const work = async (job: string): Promise<string> => {
    seen.most = Math.max(seen.most, ++seen.now);
    await after(Number(job.split(' ')[0]));
    seen.now -= 1;
    seen.done.push(job);
    return `done ${job}`;
  };
  return { seen, work };
};

describe('a queue before workers', () => {
  it('does jobs in their order, one at a time each, and is busy when too many wait', async () => {
    const { seen, work } = counted();
    const queue = workQueue<string, string>({ waiting: 3, patience: 1000 });
    queue.addWorker(work);
    const told = await Promise.all(
      ['1 a', '1 b', '1 c', '1 d', '1 e', '1 f'].map((job) => queue.submit(job, STAYING)),
    );
    expect(told).toEqual(['done 1 a', 'done 1 b', 'done 1 c', 'done 1 d', 'busy', 'busy']);
    expect(seen).toEqual({ now: 0, most: 1, done: ['1 a', '1 b', '1 c', '1 d'] });
    expect(await queue.submit('0 g', STAYING)).toBe('done 0 g');
  });

  it('tells who waited too long, and works for nobody who went away', async () => {
    const { seen, work } = counted();
    const queue = workQueue<string, string>({ waiting: 9, patience: 20 });
    queue.addWorker(work);
    const gone = new AbortController();
    const told = [
      queue.submit('60 long', STAYING),
      queue.submit('0 tired', STAYING),
      queue.submit('0 gone', gone.signal),
    ];
    gone.abort();
    expect(await Promise.all(told)).toEqual(['done 60 long', 'busy', 'busy']);
    expect(seen.done).toEqual(['60 long']);
  });

  it('feeds no worker that failed; the next one goes on', async () => {
    const queue = workQueue<string, string>({ waiting: 9, patience: 1000 });
    queue.addWorker(() => Promise.reject(new Error('ended')));
    const [first, second] = [queue.submit('0 a', STAYING), queue.submit('0 b', STAYING)];
    await expect(first).rejects.toThrow('ended');
    const { work } = counted();
    queue.addWorker(work);
    expect(await second).toBe('done 0 b');
  });
});

describe('a crowd before the server', () => {
  it('gets an answer each, in bounded time, and what costs nothing is given meanwhile', async () => {
    const queue = workQueue<string, Answer>({ waiting: 20, patience: 400 });
    for (let i = 0; i < 2; i++) {
      queue.addWorker(async (words) => {
        await after(10);
        return plain(200, words);
      });
    }
    const { server, port } = await startServer(
      async ({ pathname }, gone) => {
        if (pathname === '/quick') return plain(200, 'quick');
        const answer = await queue.submit(pathname, gone);
        return answer === 'busy' ? busy() : answer;
      },
      0,
      (error) => expect(error).toBeUndefined(),
    );
    const ask = (path: string) =>
      new Promise<readonly [status: number, retry: string | undefined, words: string]>(
        (resolve, reject) => {
          const asked = request({ host: '127.0.0.1', port, path, agent: false }, (response) => {
            let words = '';
            response.on('data', (piece) => {
              words += String(piece);
            });
            response.on('end', () =>
              resolve([response.statusCode ?? 0, response.headers['retry-after'], words]),
            );
          });
          asked.once('error', reject);
          asked.end();
        },
      );
    const started = performance.now();
    const crowd = Array.from({ length: 300 }, (_, i) => ask(`/page/${i}`));
    expect(await ask('/quick')).toEqual([200, undefined, 'quick\n']);
    const told = await Promise.all(crowd);
    expect(performance.now() - started).toBeLessThan(8_000);
    const served = told.filter(([status]) => status === 200);
    expect(served.length).toBeGreaterThanOrEqual(22);
    for (const [i, [status, retry, words]] of told.entries()) {
      if (status === 200) expect(words).toBe(`/page/${i}\n`);
      else
        expect([status, retry, words]).toEqual([
          503,
          '2',
          expect.stringMatching(/^the proof is busy/),
        ]);
    }
    expect((await ask('/page/late'))[0]).toBe(200);
    await new Promise((closed) => server.close(closed));
  });

  it('is told that the proof is busy while others do not take the large answers that were made for them', async () => {
    const large = Buffer.alloc(40 * 1024 ** 2, 'x');
    const { server, port } = await startServer(
      ({ pathname }) => ({
        status: 200,
        type: 'text/plain',
        body: pathname === '/large' ? large : 'small',
      }),
      0,
      (error) => expect(error).toBeUndefined(),
    );
    const head = `Host: 127.0.0.1:${port}\r\n\r\n`;
    const open: Socket[] = [];
    /** The first line that is told; nothing is read after it while the socket stays open. */
    const begin = (path: string) =>
      new Promise<string>((resolve, reject) => {
        const socket = connect(port, '127.0.0.1', () =>
          socket.write(`GET ${path} HTTP/1.1\r\n${head}`),
        );
        open.push(socket);
        socket.once('error', reject);
        socket.once('data', (piece) => {
          socket.pause();
          resolve(String(piece).split('\r\n')[0]);
        });
      });
    const told: string[] = [];
    for (const path of ['/large', '/large', '/large', '/small']) told.push(await begin(path));
    expect(told.map((line) => line.split(' ')[1])).toEqual(['200', '200', '503', '200']);
    for (const socket of open) socket.destroy();
    await vi.waitFor(async () => expect(await begin('/large')).toContain('200'));
    for (const socket of open) socket.destroy();
    await new Promise((resolve) => server.close(resolve));
  });
});
