import type { LocationContent } from '../page/book-content.js';
import { isDoubtfulAim } from '../page/putts/table-figures.js';

/** Share of the solved cells whose aim is not known to half a hole; null where nothing was solved. */
export const doubtfulShare = (locations: readonly LocationContent[]): number | null => {
  const solved = locations.flatMap(({ table }) =>
    (table?.cells ?? []).filter(({ outcome }) => outcome === 'solved'),
  );
  return solved.length === 0 ? null : solved.filter(isDoubtfulAim).length / solved.length;
};
