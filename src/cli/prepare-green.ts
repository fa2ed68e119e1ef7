import type { Course, Hole } from '../course/course.js';
import type { GreenContent } from '../page/book-content.js';
import type { Layout } from '../print/layout.js';
import { breakTable } from '../putt/table.js';
import type { FitReport } from '../surface/fit.js';
import type { Surface } from '../surface/surface.js';
import { readGreen } from '../terrain/read-green.js';
import { fitGreen } from './fit-green.js';

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
  const { site, ground, surface, report } = await fitGreen(course, hole);
  const { outline, drains, locations } = ground;
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
