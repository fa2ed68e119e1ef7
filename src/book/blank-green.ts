import type { Hole, PlacedHoleLocation } from '../course/course.js';
import { signedArea } from '../geometry.js';
import type { Layout } from '../layout/layout.js';
import { bareLocation, type GreenContent } from '../page/book-content.js';
import type { BreakTable } from '../putt/putt.js';
import { QUADRANTS } from '../putt/table.js';
import { framed, speedsOfTables } from './wanted-green.js';

/** A table with nothing in its cells: what stands round them stands in every table. */
const blankTable = (layout: Layout, stimp: number): BreakTable => ({
  hole: [0, 0],
  settings: { stimp, past: layout.tables.past },
  fall: [0, -1],
  grade: 0.01,
  lengths: layout.tables.lengths,
  cells: QUADRANTS.flatMap((quadrant) =>
    layout.tables.lengths.map((length) => ({
      quadrant,
      length,
      ball: [0, 0] as const,
      outcome: 'off-green' as const,
      putt: null,
      aimSd: null,
    })),
  ),
});

/** A green of which nothing is known but its outline and its hole locations; none where a hole has no survey. */
export const blankGreen = (
  { id, name, par, green: site }: Hole,
  layout: Layout,
  asked?: { readonly locations: readonly PlacedHoleLocation[]; readonly stimp: number },
): GreenContent[] => {
  if (site === null) return [];
  const { locations, stimp } = asked ?? site;
  const { outline, drains } = framed(site);
  const [table, ...atSpeeds] = speedsOfTables(layout, stimp).map((stimp) =>
    blankTable(layout, stimp),
  );
  const grades = [0, ...layout.green.bandThresholds];
  return [
    {
      holeId: id,
      name,
      par,
      outline,
      reading: {
        area: Math.abs(signedArea(outline)),
        bands: grades.map((from, i) => ({ from, to: grades[i + 1] ?? Infinity, polygons: [] })),
        ...{ contours: [], critical: [], divides: [], outlets: [], streams: [], arrows: [] },
        ...{ sections: [], doubtful: [], valleys: [], hollows: [] },
      },
      worth: {
        ...{ worth: 'tables', judged: 'tables', overruled: null, reasons: [], mend: [] },
        ...{ kind: 'points', points: 0, spacing: 1, noise: null, statedSigma: null, covered: 1 },
        ...{ bare: [], unsure: [], notes: [], doubtfulCells: null, surveyed: null, readAs: null },
      },
      drains,
      locations: locations.map((place) => ({ ...bareLocation(place), table, atSpeeds })),
      stimp,
      past: layout.tables.past,
    },
  ];
};
