import type { Layout } from '../../src/layout/layout.js';
import { bareLocation, type GreenContent } from '../../src/page/book-content.js';
import type { BreakTable } from '../../src/putt/putt.js';
import { QUADRANTS } from '../../src/putt/table.js';
import { FIT_FOR_TABLES } from '../fit-for-tables.js';
import { blob } from '../print/sample-pages.js';

/** Greens that nobody has to solve, for tests of where pages stand: the tables have no figures. */

const blankTable = ({ tables }: Layout, stimp: number): BreakTable => ({
  hole: [0, 10],
  settings: { stimp, past: tables.past },
  fall: [0, -1],
  grade: 0.02,
  lengths: tables.lengths,
  cells: QUADRANTS.flatMap((quadrant) =>
    tables.lengths.map((length) => ({
      ...{ quadrant, length, ball: [0, 0] as const, outcome: 'off-green' as const },
      ...{ putt: null, aimSd: null },
    })),
  ),
});

export interface BlankGreen {
  readonly id: string;
  readonly name: string;
  /** How many hole locations it has. */
  readonly locations: number;
}

export const blankGreen = ({ id, name, locations }: BlankGreen, layout: Layout): GreenContent => ({
  holeId: id,
  name,
  par: 4,
  outline: blob(30, 22),
  reading: {
    area: 500,
    bands: [0, ...layout.green.bandThresholds].map((from, i, all) => ({
      ...{ from, to: all[i + 1] ?? Infinity, polygons: [] },
    })),
    ...{ contours: [], critical: [], divides: [], outlets: [], streams: [], arrows: [] },
    ...{ sections: [], doubtful: [], valleys: [], hollows: [] },
  },
  worth: FIT_FOR_TABLES,
  drains: [],
  locations: Array.from({ length: locations }, (_, i) => ({
    ...bareLocation({
      ...{ name: 'ABCDEFGHIJKL'[i], on: 3 + 2 * i, in: 9, side: 'left' as const },
      at: [2, 3 + 2 * i],
    }),
    table: blankTable(layout, 3.05),
    atSpeeds: [...layout.tables.speeds, ...layout.tables.speedSteps.map((step) => 3.05 + step)].map(
      (stimp) => blankTable(layout, stimp),
    ),
  })),
  stimp: 3.05,
  past: layout.tables.past,
});
