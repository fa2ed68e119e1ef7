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

/** A line that parts the points otherwise than the line before it does, and the points it has passed in its turn's order. */
interface Parting {
  readonly order: Uint32Array;
  readonly passed: number;
}

/** How the lines part the points, those that do so alike being told once; and which of these each line is. */
const partingsOf = (
  places: Pick<Scatter, 'x' | 'y'>,
  source: Int32Array,
  lines: readonly StraightLine[],
): { readonly partings: Parting[]; readonly own: Int32Array } => {
  const partings: Parting[] = [];
  const own = new Int32Array(lines.length);
  let angle = NaN;
  let along: Float64Array = new Float64Array(0);
  let order: Uint32Array = new Uint32Array(0);
  let passed = 0;
  lines.forEach((line, k) => {
    let fresh = false;
    if (line.angle !== angle) {
      angle = line.angle;
      along = alongLine(places, source, angle);
      order = orderOf(along, -1);
      passed = 0;
      fresh = true;
    }
    for (; passed < order.length && along[order[passed]] <= line.offset; passed++) fresh = true;
    if (fresh) partings.push({ order, passed });
    own[k] = partings.length - 1;
  });
  return { partings, own };
};

/**
 * The information on a step along each of many lines, each looked at alone, those of a turn after one another by rising
 * offset: from one to the next only the points between them change sides, and where none do, nothing does. Half of each
 * solve is enough, since the ground takes the square of a column with A^-1 between.
 */
export const lineInformation = (
  { problem, factor }: FlatGround,
  places: Pick<Scatter, 'x' | 'y'>,
  lines: readonly StraightLine[],
): SharedInformation => {
  const { obs, weights, right } = problem;
  const { partings, own } = partingsOf(places, obs.source, lines);
  const q = partings.length;
  const half = halfOf(problem);
  const information = new Float64Array(q).fill(half.mass / 4);
  const score = new Float64Array(q);
  const heights = right.slice();
  factor.solveLower(heights);
  const carried = half.carried.slice();
  let turn: Uint32Array | null = null;
  let next = 0;
  let left = 0;
  const moveTo = ({ order, passed }: Parting): void => {
    if (order !== turn) {
      turn = order;
      carried.set(half.carried);
      left = half.score;
      next = 0;
    }
    for (; next < passed; next++) {
      const k = order[next];
      left -= weights[k] * obs.z[k];
      uncarry(problem, k, carried);
    }
  };
  factor.solveFours('lower', q, {
    write(four, c) {
      for (let d = c; d < Math.min(q, c + COLUMNS); d++) {
        moveTo(partings[d]);
        score[d] += left;
        putColumn(four, d - c, carried);
      }
    },
    take(four, c) {
      for (let d = c; d < Math.min(q, c + COLUMNS); d++) {
        takeColumn(four, d - c, heights, { score, information }, d);
      }
    },
  });
  return {
    information: Float64Array.from(own, (d) => information[d]),
    score: Float64Array.from(own, (d) => score[d]),
  };
};
