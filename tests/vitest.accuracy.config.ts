import { readdirSync, readFileSync } from 'node:fs';
import { defineConfig } from 'vitest/config';
import { BaseSequencer, type TestSpecification } from 'vitest/node';
import { shared } from './vitest.config.js';

const folder = new URL('.', import.meta.url);

/** The files beside the quick tests with some that look at more here, or run here alone. */
const deep = readdirSync(folder, { recursive: true, encoding: 'utf8' })
  .filter((name) => name.endsWith('.test.ts') && !name.startsWith('live/'))
  .filter((name) => /tags: '(deep|long)'/.test(readFileSync(new URL(name, folder), 'utf8')))
  .map((name) => `tests/${name}`);

/** The longest files, longest first: begun last, one of them keeps one core while the other has nothing to do. */
const LONGEST = [
  'accuracy/survey-trust',
  'accuracy/compare-rates',
  'surface/demo-greens',
  'event/disc-scan',
  'accuracy/outlet-share',
  'cli/locate',
  'survey/malformed',
  'surface/smoothing-choice',
  'cli/books',
];

const turn = ({ moduleId }: TestSpecification): number => {
  const at = LONGEST.findIndex((name) => moduleId.endsWith(`/tests/${name}.test.ts`));
  return at < 0 ? LONGEST.length : at;
};

class LongestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    return (await super.sort(files)).sort((a, b) => turn(a) - turn(b));
  }
}

/** The long runs: simulations over many surveys and greens. */
export default defineConfig({
  test: {
    ...shared,
    include: ['tests/accuracy/**/*.test.ts', ...deep],
    sequence: { sequencer: LongestFirst },
    testTimeout: 1_800_000,
    hookTimeout: 1_800_000,
    env: { RUNNEL_TEST_DEPTH: process.env.RUNNEL_TEST_DEPTH ?? 'full' },
  },
});
