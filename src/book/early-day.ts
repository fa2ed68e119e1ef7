import { drawingFaults } from '../check/self-check.js';
import type { OutlineGreen } from '../course/outline-green.js';
import type { DayLocation } from '../event/day-locations.js';
import type { Layout } from '../layout/layout.js';
import { composeDay, type DayContent } from '../page/day/day-pages.js';
import { type Fonts, measureWith } from '../print/fonts.js';
import { writePdf } from '../print/pdf.js';
import { blankGreen } from './blank-green.js';
import { sheetOfDay } from './course-days.js';
import { plainFault } from './early-check.js';
import type { RefusedPages } from './green-job.js';
import { speedsOfTables, type WantedGreen } from './wanted-green.js';
import { withWidestTables } from './widest-pages.js';

/** A day as far as it is known before a survey is read. */
export interface UnsolvedDay {
  readonly content: Omit<DayContent, 'greens' | 'sheet'>;
  readonly layout: Layout;
  readonly wanted: readonly WantedGreen[];
  readonly locations: readonly DayLocation[];
  readonly outlines: readonly OutlineGreen[];
}

/**
 * Draws the pages of a day without its surveys, each table with the widest figures that it can have, and holds them to
 * the check. A fault of the tables, which only a survey fit for them brings about, is given back.
 *
 * @throws InputFault where the sheet fails, whatever the surveys are worth.
 */
export const checkDayBeforeSolving = async (
  { content, layout, wanted, locations, outlines }: UnsolvedDay,
  fonts: Fonts,
  language: string,
): Promise<RefusedPages> => {
  const greens = wanted.flatMap(({ hole, ...asked }) =>
    blankGreen(hole, layout, asked).map((green) =>
      withWidestTables(green, speedsOfTables(layout, asked.stimp), {
        layout,
        units: content.units,
      }),
    ),
  );
  const day: DayContent = { ...content, greens, sheet: sheetOfDay(locations, greens, outlines) };
  const pages = composeDay(day, layout, measureWith(fonts));
  if (pages.length === 0) return { green: null, tables: null };
  const words = { fonts, title: content.title, language, edition: 'plain' } as const;
  const faults = await drawingFaults(await writePdf(pages, layout, words), `${layout.name}.pdf`);
  const ofSheet = layout.pages['day-sheet'] === undefined ? undefined : faults.get(0);
  if (ofSheet !== undefined) throw ofSheet;
  const [ofTables = null] = faults.values();
  return { green: null, tables: plainFault(ofTables) };
};
