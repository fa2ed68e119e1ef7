import type { Spine } from '../layout/cover-spine.js';
import type { Layout, SheetPlan } from '../layout/layout.js';

/**
 * What a book says of itself in the document information, so that `check` knows what it was made for.
 * Sizes and scales are not among them: those are measured from what is drawn.
 */
export const bookFacts = (
  layout: Layout,
  pages: number,
  sheet?: Pick<SheetPlan, 'name' | 'duplex'>,
): Record<string, string> => ({
  RunnelLayout: layout.name,
  RunnelUse: layout.use,
  RunnelBinding: layout.binding.method,
  RunnelClear: String(layout.binding.clear),
  RunnelPaper: String(layout.binding.paper),
  RunnelInner: String(layout.page.margins.inner),
  RunnelPages: String(pages),
  ...(layout.facing === undefined ? {} : { RunnelFacing: layout.facing }),
  ...(sheet === undefined
    ? {}
    : { RunnelSheet: sheet.name, RunnelSides: sheet.duplex === 'one side' ? '1' : '2' }),
});

/** The same of a file of covers: each has two pages of the cover on it, and a spine for a book of so many. */
export const coverFacts = (
  layout: Layout,
  spine: Spine,
  covers: number,
): Record<string, string> => ({
  RunnelLayout: layout.name,
  RunnelUse: layout.use,
  RunnelBinding: 'cover',
  RunnelClear: '0',
  RunnelPaper: String(spine.paper),
  RunnelPages: String(2 * covers),
  RunnelSheet: 'cover',
  RunnelSpine: spine.width.toFixed(4),
  RunnelBlock: String(spine.pages),
  RunnelBoard: String(spine.board),
});
