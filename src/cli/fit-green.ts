import type { Course, GreenGround, GreenSite, Hole } from '../course/course.js';
import { readGreenGround } from '../course/green-ground.js';
import { InputFault } from '../fault.js';
import { type FitReport, fitSurface } from '../surface/fit.js';
import type { Surface } from '../surface/surface.js';

export interface FittedGreen {
  readonly hole: Hole;
  readonly site: GreenSite;
  readonly ground: GreenGround;
  readonly surface: Surface;
  readonly report: FitReport;
}

/** Fits a green's ground; a fault of the fit names the survey and the hole. */
export const fitGround = (
  ground: GreenGround,
): { readonly surface: Surface; readonly report: FitReport } => {
  const { x, y, z, statedSigma, breaklines, source } = ground.survey;
  try {
    return fitSurface({ x, y, z, outline: ground.outline, breaklines, statedSigma });
  } catch (error) {
    if (error instanceof InputFault && error.where.file === undefined) {
      throw new InputFault(
        { file: source, place: `hole ${ground.holeId}` },
        error.problem,
        error.cure,
      );
    }
    throw error;
  }
};

/** Reads the survey of one green of a course and fits it, in the frame of the green. */
export const fitGreen = async (course: Course, hole: Hole): Promise<FittedGreen> => {
  const ground = await readGreenGround(course, hole);
  const site = hole.green;
  if (site === null) throw new Error(`hole ${hole.id} has ground but no green`);
  return { hole, site, ground, ...fitGround(ground) };
};
