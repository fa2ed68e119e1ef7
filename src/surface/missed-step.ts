import { feetToMetres } from '../units.js';
import { solveFactored } from './envelope.js';
import { linesAcross } from './lines-across.js';
import type { Problem } from './smoothing.js';
import type { Surface } from './surface.js';
import { slopeForm } from './trust.js';
import { AT_95, type StraightLine, type TriedStep } from './walk-steps.js';

/** What is judged of a green's slope: its mean over a putt of ten feet. */
export const TEN_FEET = feetToMetres(10);

/** Of such putts across the fall this share tilts no more. */
const PUTTS = 0.8;
/** So many lines are followed: those along which the heights allow the highest steps. */
const MOST_LINES = 48;
/** Standard deviations by which a line stands out by chance: taken where what stood out was explained otherwise. */
const BY_CHANCE = 2;

/** What a step of one metre along a line does to the fit's unknowns. */
const movedBy = (
  { grid, obs, weights }: Problem,
  factor: Float64Array,
  { x, y }: { readonly x: Float64Array; readonly y: Float64Array },
  { angle, offset }: StraightLine,
): Float64Array => {
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  const moved = new Float64Array(grid.size);
  for (let k = 0; k < obs.count; k++) {
    const p = obs.source[k];
    const half = (c * x[p] + s * y[p] > offset ? 0.5 : -0.5) * weights[k];
    for (let m = 16 * k; m < 16 * k + 16; m++) moved[obs.unknowns[m]] += half * obs.values[m];
  }
  solveFactored(grid.envelope, factor, moved);
  return moved;
};

/** The highest step along each line that the heights allow, at nineteen in twenty; metres. */
const allowedBy = (straight: readonly TriedStep[], explained: boolean) =>
  straight
    .flatMap(({ line, height, sd }) =>
      line === null
        ? []
        : [{ line, most: (explained ? BY_CHANCE * sd : Math.abs(height)) + AT_95 * sd }],
    )
    .sort((a, b) => b.most - a.most)
    .slice(0, MOST_LINES);

/**
 * A straight step that lies in the heights unseen tilts the surface that is fitted to them: the tilt, as a fraction, that
 * four in five putts of ten feet across the fall keep within, whatever step the heights allow. Infinite where no line was
 * looked at.
 *
 * @param factor of the fit's own matrix.
 * @param straight steps that were looked for; `explained`: one of them, or a drift, was found and taken off.
 */
export const tiltLeft = (
  fit: { readonly problem: Problem; readonly factor: Float64Array },
  at: { readonly x: Float64Array; readonly y: Float64Array },
  surface: Pick<Surface, 'outline' | 'at'>,
  { straight, explained }: { readonly straight: readonly TriedStep[]; readonly explained: boolean },
): number => {
  const allowed = allowedBy(straight, explained);
  if (allowed.length === 0) return Infinity;
  const forms = linesAcross(surface, TEN_FEET).flatMap(
    ({ slope }) => slopeForm(fit.problem.grid, slope) ?? [],
  );
  if (forms.length === 0) return 0;
  const tilts = allowed.map(({ line, most }) => {
    const moved = movedBy(fit.problem, fit.factor, at, line);
    const tilted = Float64Array.from(forms, ({ w, from }) => {
      let sum = 0;
      for (let i = from; i < w.length; i++) sum += w[i] * moved[i];
      return Math.abs(most * sum);
    }).sort();
    return tilted[Math.floor(PUTTS * (tilted.length - 1))];
  });
  return Math.max(...tilts);
};
