import { distance } from '../geometry.js';
import { besideOthers, type EarlierLocation } from './assess-location.js';
import { farApart } from './far-apart.js';
import { ZONES } from './green-parts.js';
import type { Guidance } from './guidance.js';
import { byRank, type LocationCandidate, zoneOf } from './location-areas.js';

/** The places from which the days of one green are chosen. */
export interface RotaPlaces {
  readonly holeId: string;
  /** Places that keep the guidance (turf of earlier events included), none of them forced. */
  readonly choice: readonly LocationCandidate[];
  /**
   * As many places that keep the guidance and lie far enough from each other as there are days, or as
   * many as the green has room for.
   */
  readonly apart: readonly LocationCandidate[];
  /** The search for them went through all there are: that no more fit is certain. */
  readonly certain: boolean;
  /** Places that break it least, for the days that are then still without one. */
  readonly forced: readonly LocationCandidate[];
  /** How many places of the green were looked at. */
  readonly looked: number;
  /** How many of them keep the guidance. */
  readonly kept: number;
}

/** Places kept in each sixth of the green; by more of them a rota gets hardly better. */
const PER_ZONE = 6;
/** The best places of each sixth of the green, no two of them within a pace and a half. */
const shortlist = (places: readonly LocationCandidate[], spacing: number): LocationCandidate[] =>
  ZONES.flatMap((zone) => {
    const chosen: LocationCandidate[] = [];
    for (const one of places) {
      if (chosen.length === PER_ZONE) break;
      if (zoneOf(one) !== zone) continue;
      if (chosen.every((other) => distance(other.at, one.at) >= spacing)) chosen.push(one);
    }
    return chosen;
  });

/**
 * Chooses, from the judged places of a green, those among which a rota of `days` days is sought.
 *
 * @param candidates judged beside the holes of earlier events only.
 */
export const rotaPlaces = (
  holeId: string,
  candidates: readonly LocationCandidate[],
  days: number,
  guidance: Guidance,
): RotaPlaces => {
  const ranked = [...candidates].sort(byRank);
  const kept = ranked.filter((one) => one.assessment.kept);
  const { places: apart, certain } = farApart(kept, days, guidance.apart);
  const forced: LocationCandidate[] = [];
  while (apart.length + forced.length < days) {
    const next = leastBroken(ranked, [...apart, ...forced], guidance);
    if (next === null) break;
    forced.push(next);
  }
  const choice =
    forced.length > 0 ? apart : [...new Set([...shortlist(kept, 0.3 * guidance.apart), ...apart])];
  return { holeId, choice, apart, certain, forced, looked: candidates.length, kept: kept.length };
};

const asEarlier = (places: readonly LocationCandidate[]): EarlierLocation[] =>
  places.map((one) => ({ at: one.at, name: 'another day of this rota' }));

/** The place that breaks the guidance least beside those already chosen. */
const leastBroken = (
  ranked: readonly LocationCandidate[],
  chosen: readonly LocationCandidate[],
  guidance: Guidance,
): LocationCandidate | null => {
  let best: LocationCandidate | null = null;
  let least = Infinity;
  for (const one of ranked) {
    if (chosen.includes(one)) continue;
    const beside = besideOthers(one.assessment, guidance, asEarlier(chosen));
    const breach = beside.breach + one.assessment.findings.turf.breach;
    if (breach < least) {
      least = breach;
      best = one;
    }
  }
  return best;
};
