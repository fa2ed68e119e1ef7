import { COLUMNS } from './factor.js';
import { orderOf } from './order-of-values.js';
import type { Scatter } from './scatter.js';
import type { SharedInformation } from './shared-errors.js';
import type { Problem } from './smoothing.js';
import type { StraightLine } from './walk-steps.js';
import type { FlatGround } from './wave-search.js';

/** Half the carried part of all points: B'W1 / 2; and of their heights, and of themselves. */
const halfOf = ({ grid, obs, weights }: Problem) => {
  const carried = new Float64Array(grid.size);
  let [score, mass] = [0, 0];
  for (let k = 0; k < obs.count; k++) {
    for (let m = 16 * k; m < 16 * k + 16; m++) {
      carried[obs.unknowns[m]] += 0.5 * weights[k] * obs.values[m];
    }
    score += 0.5 * weights[k] * obs.z[k];
    mass += weights[k];
  }
  return { carried, score, mass };
};

/** How far points lie across the lines of an angle. */
const alongLine = (
  { x, y }: Pick<Scatter, 'x' | 'y'>,
  source: Int32Array,
  angle: number,
): Float64Array => {
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  const along = new Float64Array(source.length);
  for (let k = 0; k < along.length; k++) along[k] = c * x[source[k]] + s * y[source[k]];
  return along;
};

/** Takes a point's part off what is carried. */
const uncarry = ({ obs, weights }: Problem, k: number, carried: Float64Array): void => {
  const { unknowns, values } = obs;
  const weight = weights[k];
  for (let m = 16 * k; m < 16 * k + 16; m++) carried[unknowns[m]] -= weight * values[m];
};

/** Puts a column among the four. */
const putColumn = (four: Float64Array, column: number, values: Float64Array): void => {
  for (let i = 0, at = column; i < values.length; i++, at += COLUMNS) four[at] = values[i];
};

/** What the ground takes of one of four columns: of the heights, and of the column itself. */
const takeColumn = (
  four: Float64Array,
  column: number,
  heights: Float64Array,
  told: { readonly score: Float64Array; readonly information: Float64Array },
  line: number,
): void => {
  let score = told.score[line];
  let information = told.information[line];
  for (let i = 0, at = column; i < heights.length; i++, at += COLUMNS) {
    const taken = four[at];
    score -= taken * heights[i];
    information -= taken * taken;
  }
  told.score[line] = score;
  told.information[line] = information;
};

/**
 * The information on a step along each of many lines, each looked at alone, those of a turn after one another by rising
 * offset: from one to the next only the points between them change sides. Half of each solve is enough, since the ground
 * takes the square of a column with A^-1 between.
 */
export const lineInformation = (
  { problem, factor }: FlatGround,
  { x, y }: Pick<Scatter, 'x' | 'y'>,
  lines: readonly StraightLine[],
): SharedInformation => {
  const { obs, weights, right } = problem;
  const q = lines.length;
  const half = halfOf(problem);
  const information = new Float64Array(q).fill(half.mass / 4);
  const score = new Float64Array(q);
  const heights = right.slice();
  factor.solveLower(heights);
  let angle = NaN;
  let along: Float64Array = new Float64Array(0);
  let order: Uint32Array = new Uint32Array(0);
  let next = 0;
  let own = 0;
  const carried = half.carried.slice();
  const moveTo = (line: StraightLine): void => {
    if (line.angle !== angle) {
      angle = line.angle;
      along = alongLine({ x, y }, obs.source, angle);
      order = orderOf(along, -1);
      carried.set(half.carried);
      own = half.score;
      next = 0;
    }
    for (; next < order.length && along[order[next]] <= line.offset; next++) {
      const k = order[next];
      own -= weights[k] * obs.z[k];
      uncarry(problem, k, carried);
    }
  };
  factor.solveFours('lower', q, {
    write(four, c) {
      for (let d = c; d < Math.min(q, c + COLUMNS); d++) {
        moveTo(lines[d]);
        score[d] += own;
        putColumn(four, d - c, carried);
      }
    },
    take(four, c) {
      for (let d = c; d < Math.min(q, c + COLUMNS); d++) {
        takeColumn(four, d - c, heights, { score, information }, d);
      }
    },
  });
  return { information, score };
};
