import type { Scatter } from './scatter.js';
import type { SharedErrors } from './shared-errors.js';
import { likelyHeight } from './step-chance.js';
import type { SharedStep, TriedStep } from './walk-steps.js';

/**
 * The clearest step of a walk is taken off its heights; it may be none, or lie at another moment. What the heights say of
 * each moment is Bayes' rule, as with the edge between swaths (swath-doubt.ts), and what a step elsewhere would do beyond
 * what was taken off joins the doubt.
 */

/** A walk has a step with this chance, before its heights are looked at, of this standard deviation in metres. */
const HAS_STEP = 0.3;
export const STEP_SD = 0.02;
/** Moments that stand for all, the likeliest. */
const MOMENTS = 24;
/** Moments less likely than this do not count. */
const HARDLY = 0.003;

/** A moment with the chance that the walk's step is there, and the height of that step, metres. */
interface LikelyMoment {
  readonly after: number;
  readonly chance: number;
  readonly height: number;
  readonly sd: number;
}

/** The chance of each moment; what is left of 1 is that of no step. */
const likelyMoments = (walked: readonly TriedStep[]): LikelyMoment[] => {
  const each = walked.map(({ after, height, sd }) => ({
    after: after ?? 0,
    ...likelyHeight(1 / sd ** 2, height / sd ** 2, STEP_SD),
  }));
  const most = Math.max(...each.map(({ log }) => log));
  const weights = each.map(({ log }) => (HAS_STEP / each.length) * Math.exp(log - most));
  const total = weights.reduce((sum, one) => sum + one, (1 - HAS_STEP) * Math.exp(-most));
  return each.map(({ after, height, sd }, k) => ({
    ...{ after, height, sd },
    chance: weights[k] / total,
  }));
};

/**
 * What the step of a walk may do beyond the one that was taken off, if one was: unknowns beside the ground that count in its
 * doubt alone; null where what was taken off is certain.
 *
 * @param points that were walked; others come after them. @param walked every moment that was tried.
 */
export const otherMoments = (
  { x }: Scatter,
  points: number,
  taken: Pick<SharedStep, 'height' | 'after'>,
  walked: readonly TriedStep[],
): SharedErrors | null => {
  const likely = likelyMoments(walked);
  const none = 1 - likely.reduce((sum, { chance }) => sum + chance, 0);
  const nothing = { after: 0, height: 0, sd: 0, chance: taken.after === null ? 0 : none };
  const kept = [...likely, nothing]
    .filter(({ after, chance }) => chance > HARDLY && after !== taken.after)
    .sort((a, b) => b.chance - a.chance)
    .slice(0, MOMENTS);
  const count = kept.length;
  if (count === 0) return null;
  const side = (p: number, after: number): number => (p >= points ? 0 : p >= after ? 0.5 : -0.5);
  const columns = new Int32Array(count * x.length);
  const shares = new Float64Array(count * x.length);
  for (let p = 0; p < x.length; p++) {
    const off = taken.height * side(p, taken.after ?? 0);
    kept.forEach(({ after, height, sd }, c) => {
      columns[count * p + c] = c;
      shares[count * p + c] = Math.hypot(height, sd) * Math.sign(height) * side(p, after) - off;
    });
  }
  const precision = new Float64Array(count * count);
  kept.forEach(({ chance }, c) => {
    precision[c * count + c] = 1 / chance;
  });
  return { count, width: count, columns, shares, precision };
};
