import type { Ring } from '../geometry.js';
import { lineInformation } from './line-information.js';
import type { Scatter } from './scatter.js';
import type { SharedErrors } from './shared-errors.js';
import { likelyHeight, takenByWeight } from './step-chance.js';
import { type StraightLine, sideOf } from './walk-steps.js';
import type { FlatGround } from './wave-search.js';

/**
 * The step between two swaths whose edge the survey does not tell: one straight line is taken to cross the green, any as
 * likely as another before the heights are looked at (so many a metre of offset and a degree of turn: the measure of lines
 * that no motion changes, Crofton), with a step of the size that is expected. What the heights say of each line is Bayes'
 * rule: a step is doubted where one may lie hidden, and not where it would have been seen.
 */

const TURNS = 48;
const SHIFT = 1 / 3;
/** Lines that stand for all, drawn by their share of the doubt. */
const LINES = 64;

/** A line with the chance that the edge runs along it, and height and standard deviation of the step there, metres. */
interface LikelyStep {
  readonly line: StraightLine;
  readonly chance: number;
  readonly height: number;
  readonly sd: number;
}

const linesOver = (outline: Ring): StraightLine[] => {
  const lines: StraightLine[] = [];
  for (let turn = 0; turn < TURNS; turn++) {
    const angle = (Math.PI * turn) / TURNS;
    const [c, s] = [Math.cos(angle), Math.sin(angle)];
    const along = outline.map(([x, y]) => c * x + s * y);
    const [low, high] = [Math.min(...along), Math.max(...along)];
    for (let offset = low + SHIFT / 2; offset < high; offset += SHIFT)
      lines.push({ angle, offset });
  }
  return lines;
};

/** @param step standard deviation of a step before it is seen; `variance` of a point's own error. Metres. */
const likelySteps = (
  ground: FlatGround,
  scatter: Scatter,
  step: number,
  variance: number,
): LikelyStep[] => {
  const lines = linesOver(scatter.outline);
  const { information, score } = lineInformation(ground, scatter, lines);
  const steps = lines.map((line, k) => ({
    line,
    ...likelyHeight(Math.max(0, information[k]) / variance, score[k] / variance, step),
  }));
  const most = Math.max(...steps.map(({ log }) => log));
  const total = steps.reduce((sum, { log }) => sum + Math.exp(log - most), 0);
  return steps.map(({ log, ...one }) => ({ ...one, chance: Math.exp(log - most) / total }));
};

/** Errors of which one alone is at work, and how likely each is. */
interface PossibleSwaths {
  readonly errors: SharedErrors;
  readonly chances: Float64Array;
}

/** A step as it may have come out: a line and one of its two heights, which have the mean and the variance that it has. */
interface Outcome {
  readonly line: StraightLine;
  readonly height: number;
  readonly chance: number;
}

const outcomesOf = (steps: readonly LikelyStep[]): Outcome[] =>
  steps.flatMap(({ line, chance, height, sd }) =>
    [-1, 1].map((sign) => ({ line, height: height + sign * sd, chance: chance / 2 })),
  );

/** Of all points, for each turn of the lines: over how many of its lines each lies; as lines stand by rising offset. */
const eachTurn = (
  { x, y }: Pick<Scatter, 'x' | 'y'>,
  steps: readonly LikelyStep[],
  use: (from: number, to: number, over: Int32Array) => void,
): void => {
  const over = new Int32Array(x.length);
  for (let from = 0, to = 0; from < steps.length; from = to) {
    const { angle, offset } = steps[from].line;
    while (to < steps.length && steps[to].line.angle === angle) to++;
    const [c, s] = [Math.cos(angle), Math.sin(angle)];
    for (let p = 0; p < x.length; p++) {
      const lines = Math.ceil((c * x[p] + s * y[p] - offset) / SHIFT);
      over[p] = Math.max(0, Math.min(to - from, lines));
    }
    use(from, to, over);
  }
};

/** What the step is expected to add to each height: the mean over all lines by their chances, metres. */
const expectedOf = (scatter: Scatter, steps: readonly LikelyStep[]): Float64Array => {
  const expected = new Float64Array(scatter.x.length);
  eachTurn(scatter, steps, (from, to, over) => {
    const below = new Float64Array(to - from + 1);
    for (let k = from; k < to; k++)
      below[k - from + 1] = below[k - from] + steps[k].chance * steps[k].height;
    const half = below[to - from] / 2;
    for (let p = 0; p < over.length; p++) expected[p] += below[over[p]] - half;
  });
  return expected;
};

/** Variance of what each outcome, a line's two after one another, leaves of the heights beyond what is taken off, by its chance. */
const doubtsOf = (
  scatter: Scatter,
  steps: readonly LikelyStep[],
  off: Float64Array,
  outcomes: readonly Outcome[],
): Float64Array => {
  const points = off.length;
  const doubts = new Float64Array(outcomes.length);
  const all = off.reduce((sum, one) => sum + one, 0);
  const squares = off.reduce((sum, one) => sum + one * one, 0);
  eachTurn(scatter, steps, (from, to, over) => {
    const [counts, sums] = [new Float64Array(to - from + 1), new Float64Array(to - from + 1)];
    for (let p = 0; p < points; p++) {
      counts[over[p]]++;
      sums[over[p]] += off[p];
    }
    let [raised, offRaised] = [0, 0];
    for (let k = to - 1; k >= from; k--) {
      raised += counts[k - from + 1];
      offRaised += sums[k - from + 1];
      const [sides, offSides] = [raised - points / 2, offRaised - all / 2];
      for (const n of [2 * k, 2 * k + 1]) {
        const { height, chance } = outcomes[n];
        const square = (height * height * points) / 4 - 2 * height * offSides + squares;
        // What all points have in common is no tilt.
        const common = height * sides - all;
        doubts[n] = (chance * Math.max(0, square - (common * common) / points)) / points;
      }
    }
  });
  return doubts;
};

/** The step between swaths as far as the heights tell it. */
export interface SwathStep {
  readonly steps: readonly LikelyStep[];
  /** What it is expected to add to each height, and is taken off; metres. */
  readonly expected: Float64Array;
}

/**
 * @param ground on which the heights are judged, without a step.
 * @param step standard deviation of a step before it is seen; `variance` of a point's own error. Metres.
 */
export const swathStepOf = (
  ground: FlatGround,
  scatter: Scatter,
  { step, variance }: { readonly step: number; readonly variance: number },
): SwathStep => {
  const steps = likelySteps(ground, scatter, step, variance);
  return { steps, expected: expectedOf(scatter, steps) };
};

/**
 * What the step may do beyond what is taken off the heights for it: unknowns beside the ground that count in its doubt
 * alone. Half of the lines that stand for all are drawn by their chance, half by the doubt that they make.
 */
export const possibleSwaths = (
  scatter: Scatter,
  { steps, expected: off }: SwathStep,
): PossibleSwaths => {
  const outcomes = outcomesOf(steps);
  const points = scatter.x.length;
  const doubts = doubtsOf(scatter, steps, off, outcomes);
  const doubt = doubts.reduce((sum, one) => sum + one, 0);
  const weights = outcomes.map(({ chance }, k) => (chance + doubts[k] / doubt) / 2);
  const kept = [...takenByWeight(weights, LINES)];
  const count = kept.length;
  const likely = kept.map(([k, times]) => (times * outcomes[k].chance) / weights[k]);
  const total = likely.reduce((sum, chance) => sum + chance, 0);
  const chances = Float64Array.from(likely, (chance) => chance / total);
  const columns = new Int32Array(count * points);
  const shares = new Float64Array(count * points);
  const side = sideOf(
    scatter.x,
    scatter.y,
    kept.map(([k]) => outcomes[k].line),
  );
  for (let p = 0; p < points; p++) {
    kept.forEach(([k], c) => {
      columns[count * p + c] = c;
      shares[count * p + c] = outcomes[k].height * side(p, c) - off[p];
    });
  }
  const precision = new Float64Array(count * count);
  chances.forEach((chance, c) => {
    precision[c * count + c] = 1 / chance;
  });
  return { errors: { count, width: count, columns, shares, precision }, chances };
};
