import { request } from 'node:http';
import { performance } from 'node:perf_hooks';

/** An answer to one of many requests at once. */
export interface Told {
  readonly path: string;
  /** 0: there was none. */
  readonly status: number;
  readonly seconds: number;
  readonly bytes: number;
}

/** Numbers from 0 to 1 by a linear congruential generator; each seed its own row. */
const numbersFrom = (seed: number): (() => number) => {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state / 2 ** 32;
  };
};

/** Addresses of the proof, by a seed, all of them right: of greens that have a survey, in the manner of its own links. */
export const addressesOf = (greens: readonly string[], count: number, seed: number): string[] => {
  const next = numbersFrom(seed);
  const one = <T>(of: readonly T[]): T => of[Math.floor(next() * of.length)];
  const figure = (low: number, high: number): string => (low + (high - low) * next()).toFixed(2);
  /** On every green, near its middle. */
  const place = (): string => `${figure(-4, 4)},${figure(8, 16)}`;
  const kinds: readonly (() => string)[] = [
    () => `/?hole=${one(greens)}`,
    () => `/?hole=${one(greens)}&speed=${figure(8, 13)}`,
    () => `/teach?hole=${one(greens)}`,
    () => `/relief?hole=${one(greens)}`,
    () => `/book?speed=${figure(8, 13)}`,
    () => '/course',
    () => `/leaf?hole=${one(greens)}&leaf=0&speed=${figure(8, 13)}`,
    () => `/distances?hole=${one(greens)}&at=${figure(20, 60)},${figure(30, 90)}`,
    () => '/proof.css',
    ...Array.from(
      { length: 6 },
      () => () => `/putt?green=${one(greens)}&ball=${place()}&hole=${place()}`,
    ),
    () => `/putt?green=${one(greens)}&ball=${place()}&hole=${place()}&speed=${figure(8, 13)}`,
    () => `/water?green=${one(greens)}&at=${place()}`,
    () => `/station?green=${one(greens)}&hole=${place()}`,
  ];
  return Array.from({ length: count }, () => one(kinds)());
};

/** Asks for one address; waits no longer than a minute. */
export const askFor = (url: string, path: string): Promise<Told> =>
  new Promise((resolve) => {
    const start = performance.now();
    let bytes = 0;
    const end = (status: number): void =>
      resolve({ path, status, bytes, seconds: (performance.now() - start) / 1000 });
    const asked = request(new URL(path, url), { agent: false, timeout: 60_000 }, (response) => {
      response.on('data', (piece: Buffer) => {
        bytes += piece.length;
      });
      response.once('end', () => end(response.statusCode ?? 0));
    });
    asked.once('timeout', () => asked.destroy());
    asked.once('error', () => end(0));
    asked.end();
  });

/** Asks for all of them at once. */
export const askAll = (url: string, paths: readonly string[]): Promise<Told[]> =>
  Promise.all(paths.map((path) => askFor(url, path)));
