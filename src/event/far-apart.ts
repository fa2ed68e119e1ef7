import { distance } from '../geometry.js';
import type { LocationCandidate } from './location-areas.js';

const SEARCH_STEPS = 400_000;

/**
 * The largest set of places at least `apart` from each other, up to `want`: the search tries the places
 * in order of rank and turns back where too few are left. Exact unless it takes over 400 000 steps.
 */
export const farApart = (
  places: readonly LocationCandidate[],
  want: number,
  apart: number,
): { readonly places: readonly LocationCandidate[]; readonly certain: boolean } => {
  let best: readonly LocationCandidate[] = [];
  let steps = 0;
  const search = (
    chosen: readonly LocationCandidate[],
    left: readonly LocationCandidate[],
  ): boolean => {
    if (chosen.length > best.length) best = chosen;
    if (best.length >= want) return true;
    for (let i = 0; i < left.length; i++) {
      if (chosen.length + left.length - i <= best.length || ++steps > SEARCH_STEPS) return false;
      const one = left[i];
      const rest = left.slice(i + 1).filter((other) => distance(other.at, one.at) >= apart);
      if (search([...chosen, one], rest)) return true;
    }
    return false;
  };
  search([], places);
  return { places: best, certain: best.length >= want || steps <= SEARCH_STEPS };
};
