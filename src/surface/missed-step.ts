import { feetToMetres } from '../units.js';
import { COLUMNS, type Factor } from './factor.js';
import { linesAcross } from './lines-across.js';
import { STEP_SD } from './moment-doubt.js';
import { upperTail } from './normal-distribution.js';
import { slopeForm } from './patch.js';
import { carriedAlone } from './shared-errors.js';
import type { Problem } from './smoothing.js';
import { type LikelyHeight, likelyHeight, takenByWeight } from './step-chance.js';
import type { Surface } from './surface.js';
import { type StraightLine, sideOf, type TriedStep } from './walk-steps.js';

/** What is judged of a green's slope: its mean over a putt of ten feet. */
export const TEN_FEET = feetToMetres(10);

/** Of such putts across the fall this share tilts no more. */
const PUTTS = 0.8;
/** So many lines stand for all, taken by their chances. */
const LINES = 48;
/** Standard deviations by which a line stands out by chance: taken where what stood out was explained otherwise. */
const BY_CHANCE = 2;
/** What holds for nineteen in twenty of the steps that may be there. */
const ONE_IN_TWENTY = 0.05;
const ROUNDS = 40;

interface HiddenStep extends LikelyHeight {
  readonly line: StraightLine;
  readonly chance: number;
}

/** Were there a step, where it would run, by what the heights say of each line (Bayes' rule). */
const hiddenSteps = (straight: readonly TriedStep[], explained: boolean): HiddenStep[] => {
  const each = straight.flatMap(({ line, height, sd }) => {
    if (line === null) return [];
    const told = explained ? BY_CHANCE * sd : height;
    return [{ line, ...likelyHeight(1 / sd ** 2, told / sd ** 2, STEP_SD) }];
  });
  if (each.length === 0) return [];
  const most = Math.max(...each.map(({ log }) => log));
  const weights = each.map(({ log }) => Math.exp(log - most));
  return [...takenByWeight(weights, LINES)].map(([k, times]) => ({
    ...each[k],
    chance: times / LINES,
  }));
};

/** The tilt that all but one in twenty of the steps keep within. @param tilts by a step of one metre along each line. */
const keptWithin = (steps: readonly HiddenStep[], tilts: Float64Array): number => {
  const more = (tilt: number): number =>
    steps.reduce((sum, { height, sd, chance }, k) => {
      const reach = tilt / Math.max(tilts[k], Number.MIN_VALUE);
      return sum + chance * (upperTail((reach - height) / sd) + upperTail((reach + height) / sd));
    }, 0);
  let low = 0;
  let high = Math.max(...steps.map(({ height, sd }, k) => tilts[k] * (Math.abs(height) + 5 * sd)));
  for (let round = 0; round < ROUNDS; round++) {
    const middle = (low + high) / 2;
    if (more(middle) > ONE_IN_TWENTY) low = middle;
    else high = middle;
  }
  return high;
};

/**
 * A straight step that lies in the heights unseen tilts the surface that is fitted to them: the tilt, as a fraction, that
 * four in five putts of ten feet across the fall keep within, were there a step, for nineteen in twenty of those that may be
 * there by what the heights say. Infinite where no line was looked at.
 *
 * @param factor of the fit's own matrix.
 * @param straight steps that were looked for; `explained`: one of them, or a drift, was found and taken off.
 */
export const tiltLeft = (
  { problem, factor }: { readonly problem: Problem; readonly factor: Factor },
  { x, y }: { readonly x: Float64Array; readonly y: Float64Array },
  surface: Pick<Surface, 'outline' | 'at'>,
  { straight, explained }: { readonly straight: readonly TriedStep[]; readonly explained: boolean },
): number => {
  const steps = hiddenSteps(straight, explained);
  if (steps.length === 0) return Infinity;
  const forms = linesAcross(surface, TEN_FEET).flatMap(
    ({ slope }) => slopeForm(problem.grid, slope) ?? [],
  );
  if (forms.length === 0) return 0;
  // What a step of one metre along each line does to the fit's unknowns, and so to each of the slopes.
  const side = sideOf(
    x,
    y,
    steps.map(({ line }) => line),
  );
  const tilts = new Float64Array(steps.length);
  factor.solveFours('whole', steps.length, {
    write: carriedAlone(problem, steps.length, side),
    take(four, c) {
      for (let k = c; k < Math.min(steps.length, c + COLUMNS); k++) {
        const tilted = Float64Array.from(forms, ({ places, weights }) => {
          let sum = 0;
          for (let n = 0; n < places.length; n++)
            sum += weights[n] * four[COLUMNS * places[n] + k - c];
          return Math.abs(sum);
        }).sort();
        tilts[k] = tilted[Math.floor(PUTTS * (tilted.length - 1))];
      }
    },
  });
  return keptWithin(steps, tilts);
};
