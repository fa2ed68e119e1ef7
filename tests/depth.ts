/**
 * Some tests look at few greens in `npm test`, which is to be quick, and at more in `npm run
 * test:accuracy`: the same file, run at another depth. A few would take half an hour; they look at all they
 * can with `RUNNEL_TEST_DEPTH=whole npm run test:accuracy`.
 */
export const atDepth = <T>(quick: T, full: T, whole: T = full): T => {
  const depth = process.env.RUNNEL_TEST_DEPTH;
  return depth === 'whole' ? whole : depth === 'full' ? full : quick;
};
