import { defineConfig } from 'vitest/config';
import { shared } from './vitest.config.js';

const live = { ...shared, testTimeout: 600_000, hookTimeout: 600_000 };
/** They measure how smooth the proof runs: nothing runs beside them. */
const BROWSED = 'tests/live/proof-*.test.ts';

/** The tests that run programs from outside npm (see .ci/run for the packages). */
export default defineConfig({
  test: {
    ...live,
    projects: [
      {
        test: {
          ...{ ...live, name: 'programs', sequence: { groupOrder: 0 } },
          ...{ include: ['tests/live/**/*.test.ts'], exclude: [BROWSED] },
        },
      },
      {
        test: {
          ...{ ...live, name: 'browser', sequence: { groupOrder: 1 } },
          ...{ include: [BROWSED], maxWorkers: 1 },
        },
      },
    ],
  },
});
