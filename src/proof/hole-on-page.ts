import type { HoleFigures } from '../course/hole-figures.js';
import type { HoleFrame } from '../page/hole/hole-frame.js';
import { holeFrameOnPage } from '../page/hole/hole-page.js';
import type { Proof, ProofState } from './proof-book.js';

/** The last frames by hole and side: a click asks for the same one again. */
const known = new WeakMap<HoleFigures, Map<string, HoleFrame | null>>();

/** Where a hole lies on its page in the proof; null where the book has no such page. */
export const frameOfHole = (
  proof: Proof,
  state: ProofState,
  hole: HoleFigures,
): HoleFrame | null => {
  const page = proof.pagesOf(state).find((one) => one.kind === 'hole' && one.holeId === hole.id);
  if (page === undefined) return null;
  const frames = known.get(hole) ?? new Map<string, HoleFrame | null>();
  known.set(hole, frames);
  const found = frames.get(page.side);
  if (found !== undefined) return found;
  const { layout, measure, book } = proof.source;
  const frame = holeFrameOnPage({ layout, measure, book, hole, side: page.side, label: '' });
  frames.set(page.side, frame);
  return frame;
};
