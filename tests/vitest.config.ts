import { availableParallelism } from 'node:os';
import { defineConfig } from 'vitest/config';

/** What every run of the tests shares; see the other configurations beside this one. */
export const shared = {
  root: new URL('..', import.meta.url).pathname,
  testTimeout: 180_000,
  hookTimeout: 180_000,
  // Files share the modules that a process has loaded: half the time goes into loading them otherwise.
  pool: 'forks' as const,
  isolate: false,
  // Both cores of the smallest machine that CI runs on; the default would leave one idle.
  maxWorkers: Math.max(2, availableParallelism()),
  tags: [
    { name: 'deep', description: 'looks at more in `npm run test:accuracy` (depth.ts)' },
    { name: 'long', description: 'runs in `npm run test:accuracy` alone' },
  ],
};

export const NOT_QUICK = ['tests/live/**', 'tests/accuracy/**', 'node_modules/**'];

export default defineConfig({
  test: { ...shared, include: ['tests/**/*.test.ts'], exclude: NOT_QUICK },
});
