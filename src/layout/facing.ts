import { quoted } from '../fault.js';
import type { FacingPages, Layout, PageKind } from './layout.js';

/** The kinds of the pages that lie side by side: on the left, on the right. */
const PAIRS: Readonly<Record<FacingPages, readonly [left: PageKind, right: PageKind]>> = {
  'hole and green': ['hole', 'green'],
  'green and tables': ['green', 'tables'],
};

/** Why the pages that a layout wants side by side cannot lie so, and what would mend it; null where they can. */
export const facingProblem = ({
  facing,
  binding: { method },
  pages,
}: Layout): readonly [problem: string, cure: string] | null => {
  if (facing === undefined) return null;
  if (method === 'loose' || method === 'fold-up') {
    return [
      `${method === 'loose' ? 'loose leaves have' : 'a fold-up sheet has'} no two pages that lie side by side`,
      'leave it out, or take a binding of saddle stitch, perfect or wire-o',
    ];
  }
  const lacking = PAIRS[facing].find((kind) => pages[kind] === undefined);
  return lacking === undefined
    ? null
    : [
        `the layout has no pages of the kind ${quoted(lacking)}`,
        `add pages.${lacking}, or leave it out`,
      ];
};
