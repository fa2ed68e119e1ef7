import type { FitReport } from '../surface/fit.js';
import type { Survey } from '../survey/survey.js';
import { type JudgedGround, judgedGround } from './judged-ground.js';
import type { StripStep } from './strip-lines.js';
import { crossesNear, stripSteps } from './strip-steps.js';

/**
 * A straight step in the heights as they were measured; `takenOff`: it is not left in what the fit has taken for ground,
 * being the drift, the step or the level of a session that it has found.
 */
export interface AppraisedStep extends StripStep {
  readonly takenOff: boolean;
}

/** Where nothing was taken off point by point, as from the air: steps whose height is not that of one that was found. */
const ofOtherHeight = (steps: readonly StripStep[], { shared }: FitReport): StripStep[] => {
  const heights = shared.steps.map(({ height }) => Math.abs(height));
  return steps.filter(({ height, sd }) =>
    heights.every((own) => Math.abs(Math.abs(height) - own) > 3 * sd + 0.25 * own),
  );
};

/** What the heights hold without what the fit has taken off them. */
const stepsWithout = (survey: Survey, ground: JudgedGround, taken: Float64Array): StripStep[] => {
  const less = (z: Float64Array): Float64Array => z.map((height, p) => height - taken[p]);
  // The points of the fit are the survey's where it was known before, else the part's.
  const { x, y, z } = ground.part;
  const left =
    taken.length === survey.z.length
      ? judgedGround({ ...survey, z: less(survey.z) }, ground.outline, true).part.z
      : less(z);
  return stripSteps(x, y, left, ground.local);
};

/**
 * Straight steps right across a green that is judged: first those that are left in its ground, then those that are not.
 *
 * @param report of the fit to the survey's points, or to those of the part that is judged; null where there is none.
 */
export const appraisedSteps = (
  survey: Survey,
  ground: JudgedGround,
  report: FitReport | null,
): AppraisedStep[] => {
  const { x, y, z } = ground.part;
  const measured = stripSteps(x, y, z, ground.local);
  if (measured.length === 0 || report === null) {
    return measured.map((step) => ({ ...step, takenOff: false }));
  }
  const { taken } = report;
  const left =
    taken === null ? ofOtherHeight(measured, report) : stepsWithout(survey, ground, taken);
  const others = measured.filter((step) => !left.some((one) => crossesNear(one, step)));
  return [
    ...left.map((step) => ({ ...step, takenOff: false })),
    ...others.map((step) => ({ ...step, takenOff: true })),
  ];
};
