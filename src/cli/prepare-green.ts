import type { Course, Hole } from '../course/course.js';
import { readGreenGround } from '../course/green-ground.js';
import { InputFault } from '../fault.js';
import type { GreenContent } from '../page/book-content.js';
import type { Layout } from '../print/layout.js';
import { breakTable } from '../putt/table.js';
import { type FitReport, fitSurface } from '../surface/fit.js';
import type { Surface } from '../surface/surface.js';
import { readGreen } from '../terrain/read-green.js';

export interface PreparedGreen {
  readonly content: GreenContent;
  readonly surface: Surface;
  readonly report: FitReport;
}

/** From the survey of one green to all that its pages show. */
export const prepareGreen = async (
  course: Course,
  hole: Hole,
  layout: Layout,
): Promise<PreparedGreen> => {
  const ground = await readGreenGround(course, hole);
  const site = hole.green;
  if (site === null) throw new Error(`hole ${hole.id} has ground but no green`);
  const { x, y, z, statedSigma, breaklines, source } = ground.survey;
  const { outline, drains, locations } = ground;
  const fitNamed = (): ReturnType<typeof fitSurface> => {
    try {
      return fitSurface({ x, y, z, outline, breaklines, statedSigma });
    } catch (error) {
      if (error instanceof InputFault && error.where.file === undefined) {
        throw new InputFault({ file: source, place: `hole ${hole.id}` }, error.problem, error.cure);
      }
      throw error;
    }
  };
  const { surface, report } = fitNamed();
  const { bandThresholds, contourInterval } = layout.green;
  const { lengths, past } = layout.tables;
  const settings = { stimp: site.stimp, past };
  return {
    surface,
    report,
    content: {
      holeId: hole.id,
      name: hole.name,
      par: hole.par,
      outline,
      reading: readGreen(surface, { bandThresholds, contourInterval, drains }),
      drains,
      locations,
      tables: locations.map(({ at }) => breakTable(surface, at, lengths, settings)),
      stimp: site.stimp,
      past,
    },
  };
};
