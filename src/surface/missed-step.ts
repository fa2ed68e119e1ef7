import { feetToMetres } from '../units.js';
import { COLUMNS, type Factor } from './factor.js';
import { linesAcross } from './lines-across.js';
import { slopeForm } from './patch.js';
import { carriedAlone } from './shared-errors.js';
import type { Problem } from './smoothing.js';
import type { Surface } from './surface.js';
import { AT_95, sideOf, type TriedStep } from './walk-steps.js';

/** What is judged of a green's slope: its mean over a putt of ten feet. */
export const TEN_FEET = feetToMetres(10);

/** Of such putts across the fall this share tilts no more. */
const PUTTS = 0.8;
/** So many lines are followed: those along which the heights allow the highest steps. */
const MOST_LINES = 48;
/** Standard deviations by which a line stands out by chance: taken where what stood out was explained otherwise. */
const BY_CHANCE = 2;

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
  { problem, factor }: { readonly problem: Problem; readonly factor: Factor },
  { x, y }: { readonly x: Float64Array; readonly y: Float64Array },
  surface: Pick<Surface, 'outline' | 'at'>,
  { straight, explained }: { readonly straight: readonly TriedStep[]; readonly explained: boolean },
): number => {
  const allowed = allowedBy(straight, explained);
  if (allowed.length === 0) return Infinity;
  const forms = linesAcross(surface, TEN_FEET).flatMap(
    ({ slope }) => slopeForm(problem.grid, slope) ?? [],
  );
  if (forms.length === 0) return 0;
  // What a step of one metre along each line does to the fit's unknowns, and so to each of the slopes.
  const side = sideOf(
    x,
    y,
    allowed.map(({ line }) => line),
  );
  let worst = 0;
  factor.solveFours('whole', allowed.length, {
    write: carriedAlone(problem, allowed.length, side),
    take(four, c) {
      for (let k = c; k < Math.min(allowed.length, c + COLUMNS); k++) {
        const tilted = Float64Array.from(forms, ({ places, weights }) => {
          let sum = 0;
          for (let n = 0; n < places.length; n++)
            sum += weights[n] * four[COLUMNS * places[n] + k - c];
          return Math.abs(allowed[k].most * sum);
        }).sort();
        worst = Math.max(worst, tilted[Math.floor(PUTTS * (tilted.length - 1))]);
      }
    },
  });
  return worst;
};
