import type { Layout } from '../layout/layout.js';

/**
 * What a book says of itself in the document information, so that `check` knows what it was made for.
 * Sizes and scales are not among them: those are measured from what is drawn.
 */
export const bookFacts = (
  layout: Layout,
  pages: number,
  sheet?: string,
): Record<string, string> => ({
  RunnelLayout: layout.name,
  RunnelUse: layout.use,
  RunnelBinding: layout.binding.method,
  RunnelClear: String(layout.binding.clear),
  RunnelPaper: String(layout.binding.paper),
  RunnelInner: String(layout.page.margins.inner),
  RunnelPages: String(pages),
  ...(sheet === undefined ? {} : { RunnelSheet: sheet }),
});
