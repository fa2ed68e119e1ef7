import { readdirSync } from 'node:fs';
import { defineConfig } from 'vitest/config';
import { NOT_QUICK, shared } from './vitest.config.js';

const rooms = readdirSync(new URL('.', import.meta.url), { withFileTypes: true })
  .filter((entry) => entry.isDirectory() && !['live', 'accuracy', 'bench'].includes(entry.name))
  .map(({ name }) => name);

/** One project a room, so that a room's tests run alone: `npm run test:room -- putt`. */
export default defineConfig({
  test: {
    ...shared,
    projects: rooms.map((name) => ({
      test: { ...shared, name, include: [`tests/${name}/**/*.test.ts`], exclude: NOT_QUICK },
    })),
  },
});
