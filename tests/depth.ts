/**
 * Some tests look at few greens in `npm test`, which is to be quick, and at all of them in
 * `npm run test:accuracy`: the same file, run at another depth.
 */
export const atDepth = <T>(quick: T, full: T): T =>
  process.env.RUNNEL_TEST_DEPTH === 'full' ? full : quick;
