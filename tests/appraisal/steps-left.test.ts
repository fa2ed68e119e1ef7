import { describe, expect, it } from 'vitest';
import { stripSteps } from '../../src/appraisal/strip-steps.js';
import { appraisalText } from '../../src/cli/survey-words.js';
import { fitSurface, groundOfSurvey } from '../../src/surface/fit.js';
import type { Survey } from '../../src/survey/survey.js';
import { judgement } from '../accuracy/held.js';
import { instruments, rover } from '../accuracy/instruments.js';
import { roughGreen } from '../accuracy/rough-greens.js';

const surveyed = (name: string, seed: number, k: number) => {
  const green = roughGreen(seed, k);
  return { green, survey: instruments.get(name)!(green, 100 * seed + k) };
};

/** The survey after a walk over ground 60 m away. */
const afterAnother = (survey: Survey): Survey => {
  const far = 40;
  const before = (values: Float64Array, more: number): Float64Array =>
    Float64Array.from({ length: far + values.length }, (_, k) =>
      k < far ? values[k] + more : values[k - far],
    );
  const { x, y, z } = survey;
  return { ...survey, x: before(x, 60), y: before(y, 0), z: before(z, 0) };
};

describe('a drift that looks like a step across the green', () => {
  const { green, survey } = surveyed('rover, drift', 224_019, 8);

  it.each([
    ['the green alone', survey],
    ['more ground', afterAnother(survey)],
  ])('is no step once it is taken off, in a survey of %s', (_, all) => {
    const { surface, report } = fitSurface({ ...groundOfSurvey(all), outline: green.outline });
    for (const known of [null, { surface, report, reading: null }]) {
      const { steps, shared, verdict } = judgement(all, green, known);
      expect(shared?.drift?.sd).toBeGreaterThan(0.005);
      expect(steps.map(({ takenOff }) => takenOff)).toEqual([true]);
      expect(Math.abs(steps[0].height)).toBeGreaterThan(0.02);
      // Its aims are right to 21 mm.
      expect(verdict.use).toBe('break-tables');
    }
  });

  it('is told as taken off', () => {
    const appraisal = judgement(survey, green);
    const told = { source: 'made up', appraisal, plane: null, how: '' };
    const text = appraisalText({ ...told, units: 'metric' });
    expect(text).toMatch(/left side lies 41 mm lower .*; it is taken off, see the notes/);
  });

  it('leaves one that the walk does not explain', () => {
    const step = (x: number, y: number): number => (0.6 * x + 0.8 * (y - 10) > 0 ? 0.06 : 0);
    const z = survey.z.map((height, p) => height + step(survey.x[p], survey.y[p]));
    // As if the fit had taken the drift for all that there is.
    const { surface, report } = fitSurface({ ...groundOfSurvey(survey), outline: green.outline });
    const { steps, verdict } = judgement({ ...survey, z }, green, {
      surface,
      report,
      reading: null,
    });
    const [left] = steps.filter(({ takenOff }) => !takenOff);
    expect(Math.abs(left.height)).toBeGreaterThan(0.03);
    expect(verdict.use).toBe('fall-arrows');
  });
});

describe('straight steps', () => {
  it.each([
    [210_500, 0],
    [224_127, 0],
    [224_149, 1],
  ])('are not told of ground that bends at the edge of a green, seed %i green %i', (seed, k) => {
    const { green, survey } = surveyed('rover 1 m', seed, k);
    expect(stripSteps(survey.x, survey.y, survey.z, green.outline)).toEqual([]);
  });

  it('are found where one side has a fifth of the green', () => {
    const green = roughGreen(224_000, 5);
    const { x, y, z } = rover({ spacing: 1, noise: 0.008 })(green, 5);
    const across = Float64Array.from(x, (px, p) => 0.6 * px + 0.8 * y[p]);
    const offset = across.slice().sort()[Math.floor(0.8 * x.length)];
    const raised = z.map((height, p) => height + (across[p] > offset ? 0.045 : 0));
    const [step] = stripSteps(x, y, raised, green.outline);
    expect(Math.abs(Math.abs(step.height) - 0.045)).toBeLessThan(4 * step.sd);
  });
});
