import { availableParallelism } from 'node:os';
import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    root: new URL('..', import.meta.url).pathname,
    include: ['tests/**/*.test.ts'],
    exclude: ['tests/live/**', 'node_modules/**'],
    testTimeout: 60_000,
    hookTimeout: 60_000,
    // Both cores of the smallest machine that CI runs on; the default would leave one idle.
    maxWorkers: Math.max(2, availableParallelism()),
  },
});
