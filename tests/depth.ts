import { TestRunner } from 'vitest';

/**
 * Some tests look at few greens in `npm test`, which is to be quick, and at more in `npm run
 * test:accuracy`: the same test, run at another depth. Such a test is tagged `deep`, for the long run takes
 * those alone; one tagged `long` is not in the quick run at all. A few would take half an hour; they look at
 * all they can with `RUNNEL_TEST_DEPTH=whole npm run test:accuracy`.
 */
export const atDepth = <T>(quick: T, full: T, whole: T = full): T => {
  const test = TestRunner.getCurrentTest();
  if (test !== undefined && !test.tags?.some((tag) => tag === 'deep' || tag === 'long')) {
    throw new Error("a test that asks for its depth is tagged: { tags: 'deep' }");
  }
  const depth = process.env.RUNNEL_TEST_DEPTH;
  return depth === 'whole' ? whole : depth === 'full' ? full : quick;
};
