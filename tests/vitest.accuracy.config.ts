import { readdirSync, readFileSync } from 'node:fs';
import { defineConfig } from 'vitest/config';
import { shared } from './vitest.config.js';

const folder = new URL('.', import.meta.url);

/** The files beside the quick tests with some that look at more here, or run here alone. */
const deep = readdirSync(folder, { recursive: true, encoding: 'utf8' })
  .filter((name) => name.endsWith('.test.ts') && !name.startsWith('live/'))
  .filter((name) => /tags: '(deep|long)'/.test(readFileSync(new URL(name, folder), 'utf8')))
  .map((name) => `tests/${name}`);

/** The long runs: simulations over many surveys and greens. */
export default defineConfig({
  test: {
    ...shared,
    include: ['tests/accuracy/**/*.test.ts', ...deep],
    testTimeout: 1_800_000,
    hookTimeout: 1_800_000,
    env: { RUNNEL_TEST_DEPTH: process.env.RUNNEL_TEST_DEPTH ?? 'full' },
  },
});
