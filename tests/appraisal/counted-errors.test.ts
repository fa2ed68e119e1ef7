import { describe, expect, it } from 'vitest';
import { appraise } from '../../src/appraisal/appraise.js';
import type { Survey } from '../../src/survey/survey.js';
import { circleRing } from '../surface/analytic.js';
import { CENTRE, madeUpSurvey } from './made-up-survey.js';

const outline = circleRing(6, CENTRE[0], CENTRE[1]);

const notesOf = (more: Partial<Survey>): string =>
  appraise(
    {
      ...madeUpSurvey({
        ground: (x, y) => 0.02 * x + 0.008 * y,
        spacing: 0.8,
        noise: 0.006,
        seed: 153_060,
        reach: 8.4,
      }),
      ...more,
    },
    {
      outline,
      drains: [],
      length: (m) => `${m.toFixed(1)} m`,
      small: (m) => `${(1000 * m).toFixed(0)} mm`,
    },
  ).notes.join('\n');

describe('errors that are counted though nothing was found of them', () => {
  it('are told: what is stated beyond what the points show, and the edge of a swath', () => {
    expect(notesOf({ statedSigma: 0.02 })).not.toMatch(/does not show in its points/);
    expect(notesOf({ statedSigma: 0.012 })).toMatch(
      /1\d mm of the error that the survey states does not show in its points: .* counted in the doubt/,
    );
    expect(notesOf({ kind: 'cloud' })).toMatch(
      /edge between two swaths .* a step of about 40 mm is counted/,
    );
  });

  it('are not told of a walked survey that states nothing', () => {
    expect(notesOf({})).not.toMatch(/swath|counted/);
  });
});
