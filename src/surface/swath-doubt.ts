import type { Ring } from '../geometry.js';
import { lineInformation } from './line-information.js';
import type { Scatter } from './scatter.js';
import type { SharedErrors } from './shared-errors.js';
import { type SharedStep, type StraightLine, sideOf } from './walk-steps.js';
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
  const steps = lines.map((line, k) => {
    // Normal height with a normal prior: what the points tell, and the prior, each by its precision.
    const told = Math.max(0, information[k]) / variance;
    const precision = told + 1 / step ** 2;
    const height = score[k] / variance / precision;
    return {
      line,
      height,
      sd: 1 / Math.sqrt(precision),
      log: 0.5 * (height ** 2 * precision - Math.log(precision * step ** 2)),
    };
  });
  const most = Math.max(...steps.map(({ log }) => log));
  const total = steps.reduce((sum, { log }) => sum + Math.exp(log - most), 0);
  return steps.map(({ log, ...one }) => ({ ...one, chance: Math.exp(log - most) / total }));
};

/** So many of all, by their weights, evenly along their order; with how often each was taken. */
const taken = (weights: readonly number[], count: number): Map<number, number> => {
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  const found = new Map<number, number>();
  let [k, reached] = [0, weights[0]];
  for (let n = 0; n < count; n++) {
    while (k + 1 < weights.length && reached < ((n + 0.5) * total) / count) reached += weights[++k];
    found.set(k, (found.get(k) ?? 0) + 1);
  }
  return found;
};

/** Errors of which one alone is at work, and how likely each is. */
interface PossibleSwaths {
  readonly errors: SharedErrors;
  readonly chances: Float64Array;
}

/**
 * What a step that was not taken off may do, or, where one was, an edge that runs beside the line it was found on. Unknowns
 * beside the ground that count in its doubt alone.
 *
 * @param ground on which the heights are judged, without a step.
 */
export const possibleSwaths = (
  ground: FlatGround,
  scatter: Scatter,
  found: SharedStep | null,
  { step, variance }: { readonly step: number; readonly variance: number },
): PossibleSwaths => {
  const { x, y } = scatter;
  const steps = likelySteps(ground, scatter, step, variance);
  const doubts = steps.map(({ chance, height, sd }) => chance * (height ** 2 + sd ** 2));
  const doubt = doubts.reduce((sum, one) => sum + one, 0);
  const kept = [...taken(doubts, LINES)];
  const count = kept.length;
  const side = sideOf(
    x,
    y,
    kept.map(([k]) => steps[k].line),
  );
  const off = found?.line ? sideOf(x, y, [found.line]) : null;
  const columns = new Int32Array(count * x.length);
  const shares = new Float64Array(count * x.length);
  for (let p = 0; p < x.length; p++) {
    for (let c = 0; c < count; c++) {
      columns[count * p + c] = c;
      shares[count * p + c] = side(p, c) - (off === null ? 0 : off(p, 0));
    }
  }
  const precision = new Float64Array(count * count);
  kept.forEach(([, times], c) => {
    precision[c * count + c] = LINES / (times * doubt);
  });
  // A line was taken by its share of the doubt: its chance is that share over what it is doubted by.
  const chances = Float64Array.from(kept, ([k, times]) => (times * steps[k].chance) / doubts[k]);
  const total = chances.reduce((sum, chance) => sum + chance, 0);
  return {
    errors: { count, width: count, columns, shares, precision },
    chances: chances.map((chance) => chance / total),
  };
};
