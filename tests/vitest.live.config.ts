import { defineConfig } from 'vitest/config';

/** The tests that run programs from outside npm (see .ci/run for the packages). */
export default defineConfig({
  test: {
    root: new URL('..', import.meta.url).pathname,
    include: ['tests/live/**/*.test.ts'],
    testTimeout: 600_000,
    hookTimeout: 600_000,
    fileParallelism: false,
  },
});
