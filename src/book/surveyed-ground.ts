import { judgeSurvey } from '../appraisal/judge-survey.js';
import type { GreenWorth } from '../appraisal/worth.js';
import { faultsAt, InputFault } from '../fault.js';
import type { Box, Point } from '../geometry.js';
import { boxOf, convexHull, growBox, signedDistanceToRing } from '../geometry.js';
import { type FitReport, fitSurface, groundOfSurvey } from '../surface/fit.js';
import type { Surface } from '../surface/surface.js';
import { readSurveyFile } from '../survey/read-survey.js';
import type { ReadOptions } from '../survey/readers/file-reader.js';
import type { UnitSystem } from '../units.js';

/** Ground fitted to the part of a survey round some points, without a course. */
export interface SurveyedGround {
  /** In metres from `origin`; its outline is the convex hull of the points read. */
  readonly surface: Surface;
  readonly origin: Point;
  readonly report: FitReport;
  /** Of the ground inside the outermost of those points; in the frame of the surface. */
  readonly worth: GreenWorth;
}

/** Ground is read this far past the points that matter: at least, and as a part of their extent. */
const LEAST_MARGIN = 6;
const MARGIN = 0.6;

/** A point on the outermost row of a survey is still on it, metres. */
const ON_EDGE = 0.01;

const windowRound = (points: readonly Point[]): Box => {
  const box = boxOf(points);
  const extent = Math.hypot(box.maxX - box.minX, box.maxY - box.minY);
  return growBox(box, Math.max(LEAST_MARGIN, MARGIN * extent));
};

/**
 * Reads the part of a survey round the named points (survey's frame, metres) and fits it.
 *
 * @throws InputFault when a point lies off the surveyed ground.
 */
export const surveyedGround = async (
  file: string,
  options: Omit<ReadOptions, 'source' | 'plane'>,
  named: readonly { readonly option: string; readonly at: Point }[],
  units: UnitSystem,
): Promise<SurveyedGround> => {
  const window = windowRound(named.map(({ at }) => at));
  const survey = await readSurveyFile(file, { source: file, ...options }, window);
  const origin = named[0].at;
  const x = survey.x.map((value) => value - origin[0]);
  const y = survey.y.map((value) => value - origin[1]);
  const outline = convexHull(Array.from(x, (value, i): Point => [value, y[i]]));
  for (const { option, at } of named) {
    if (signedDistanceToRing(outline, at[0] - origin[0], at[1] - origin[1]) > ON_EDGE) {
      const box = boxOf(Array.from(survey.x, (value, i): Point => [value, survey.y[i]]));
      throw new InputFault(
        { file: 'command line', place: option },
        `${at.join(',')} lies off the surveyed ground`,
        `near it the survey reaches from ${box.minX.toFixed(2)},${box.minY.toFixed(2)} to ${box.maxX.toFixed(2)},${box.maxY.toFixed(2)}`,
      );
    }
  }
  const breaklines = survey.breaklines.map((line) =>
    line.map(([bx, by, bz]): [number, number, number] => [bx - origin[0], by - origin[1], bz]),
  );
  const { surface, report } = faultsAt({ file }, () =>
    fitSurface({ ...groundOfSurvey(survey), x, y, outline, breaklines }),
  );
  const here = { ...survey, x, y, breaklines };
  const worth = judgeSurvey({ survey: here, outline, surface, report, reading: null }, units);
  return { surface, origin, report, worth };
};
