import { INPUT_LIMITS } from '../input-limits.js';
import { isStimpReading } from '../stimp-readings.js';
import { METRES_PER_FOOT } from '../units.js';
import type { Layout } from './layout.js';

/** Where a layout's tables are told wrong, what is wrong, and what would be right. */
export type TableProblem = readonly [
  path: readonly (string | number)[],
  problem: string,
  cure: string,
];

/** The hole is so wide: 108 mm (Rules of Golf, definition of Hole). A ball nearer to its middle than that is no putt. */
const SHORTEST = 0.108;
/** The hole holds no ball that would run farther past it on the fastest green; metres, our own limit. */
const FARTHEST_PAST = 3;
/** What rounding in a file leaves, metres. */
const SLACK = 1e-9;

const lengthProblem = (lengths: readonly number[], step: number): TableProblem | null => {
  for (const [i, one] of lengths.entries()) {
    const path = ['lengths', i];
    const before = lengths[i - 1] ?? -Infinity;
    if (one < SHORTEST) return [path, 'a ball so near lies in the hole', 'list longer putts'];
    if (one > INPUT_LIMITS.greenLength) {
      return [
        path,
        `no green is ${one.toFixed(0)} m long`,
        `list putts of ${INPUT_LIMITS.greenLength} m or less`,
      ];
    }
    if (one <= before) {
      const problem = 'this length is no longer than the one before it';
      return [path, problem, 'list each length once, the shortest first'];
    }
    if (one - before < step - SLACK) {
      const told = step === 0.1 ? 'tenths of a metre' : 'half feet';
      return [
        path,
        `it would read like the one before it, in ${told}`,
        'list lengths farther apart',
      ];
    }
  }
  return null;
};

/** What is wrong with a layout's lengths, pace and green speeds, told in `unit`; null for nothing. */
export const tableProblem = (
  { lengths, past, speeds, speedSteps }: Layout['tables'],
  unit: 'ft' | 'm',
): TableProblem | null => {
  const length = lengthProblem(lengths, unit === 'm' ? 0.1 : 0.5 * METRES_PER_FOOT);
  if (length !== null) return length;
  if (past > FARTHEST_PAST) {
    const problem = `no hole holds a ball that would run ${past.toFixed(1)} m past it`;
    return [['past'], problem, 'give inches with the unit ft, metres with m: 12 in are 0.3 m'];
  }
  const odd = speeds.findIndex((one) => !isStimpReading(one));
  if (odd >= 0) {
    const problem = `a green speed of ${speeds[odd].toFixed(2)} m is no stimp reading`;
    return [['speeds', odd], problem, 'readings lie between 2 and 20 ft (0.6 and 6.1 m)'];
  }
  for (const [key, values] of Object.entries({ speeds, speedSteps })) {
    const again = values.findIndex((one, i) => values.indexOf(one) < i);
    if (again >= 0) return [[key, again], 'this stands twice', 'list each once'];
  }
  const still = speedSteps.indexOf(0);
  return still < 0
    ? null
    : [['speedSteps', still], "a step of 0 is the green's own speed", 'leave it out'];
};
