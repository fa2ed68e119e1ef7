import { distance } from '../geometry.js';
import type { Depth } from './green-parts.js';
import type { LocationCandidate } from './location-areas.js';
import type { RotaPlaces } from './rota-places.js';

/** Which place each hole has on each day: `places[h][d]`. */
export type Rota = readonly (readonly LocationCandidate[])[];

/** How many holes of one day have their location in each part of the green. */
export interface DayBalance {
  readonly front: number;
  readonly middle: number;
  readonly back: number;
  readonly left: number;
  readonly right: number;
}

const DEPTHS: readonly Depth[] = ['front', 'middle', 'back'];

/** A day out of balance by one hole weighs as much as this many points of score. */
const DAY_WEIGHT = 0.5;
/** The same for the days of one hole. */
const HOLE_WEIGHT = 0.4;
const ROUNDS = 60_000;
const SEED = 20_061;

const balanceOf = (places: readonly LocationCandidate[]): DayBalance => {
  const count = (test: (one: LocationCandidate) => boolean): number => places.filter(test).length;
  return {
    front: count((one) => one.depth === 'front'),
    middle: count((one) => one.depth === 'middle'),
    back: count((one) => one.depth === 'back'),
    left: count((one) => one.side === 'left'),
    right: count((one) => one.side === 'right'),
  };
};

/** Squared departures from an even spread. */
const unevenness = (b: DayBalance): number => {
  const n = b.left + b.right;
  return (
    DEPTHS.reduce((sum, depth) => sum + (b[depth] - n / 3) ** 2, 0) + (b.left - b.right) ** 2 / 2
  );
};

/** Uniform in [0, 1): the linear congruential generator of Numerical Recipes, fixed seed. */
const generator = (seed: number): (() => number) => {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state / 4_294_967_296;
  };
};

const holeCost = (places: readonly LocationCandidate[]): number =>
  places.reduce((sum, one) => sum + 1 - one.assessment.score, 0) +
  HOLE_WEIGHT * unevenness(balanceOf(places));

/**
 * Spreads the days of all holes over front, middle, back, left and right: each day over the holes, each
 * hole over its days, and among equal spreads the better places. Simulated annealing (Kirkpatrick et al.,
 * Science 220 (1983) 671-680) with a fixed seed: the same places give the same rota. No move brings two
 * days of a hole nearer to each other than `apart`; a hole with forced places only changes their order.
 */
export const spreadRota = (holes: readonly RotaPlaces[], days: number, apart: number): Rota => {
  const rota: LocationCandidate[][] = holes.map(({ apart: free, forced }) => [...free, ...forced]);
  if (rota.some((places) => places.length < days)) {
    throw new RangeError('each hole needs a place for each day');
  }
  for (const places of rota) places.length = days;
  const random = generator(SEED);
  const pick = (n: number): number => Math.floor(random() * n);
  const dayOf = (d: number): LocationCandidate[] => rota.map((places) => places[d]);
  const dayCosts = Array.from({ length: days }, (_, d) => unevenness(balanceOf(dayOf(d))));
  const holeCosts = rota.map(holeCost);

  /** The change of cost when a hole's places become `next`; kept when `accept` says so. */
  const attempt = (h: number, next: LocationCandidate[], temperature: number): void => {
    const before = rota[h];
    const newHole = holeCost(next);
    rota[h] = next;
    let change = newHole - holeCosts[h];
    const newDays: [number, number][] = [];
    for (let d = 0; d < days; d++) {
      if (next[d] === before[d]) continue;
      const cost = unevenness(balanceOf(dayOf(d)));
      newDays.push([d, cost]);
      change += DAY_WEIGHT * (cost - dayCosts[d]);
    }
    if (change > 0 && random() >= Math.exp(-change / temperature)) {
      rota[h] = before;
      return;
    }
    holeCosts[h] = newHole;
    for (const [d, cost] of newDays) dayCosts[d] = cost;
  };

  for (let round = 0; round < ROUNDS; round++) {
    const temperature = 0.5 * (1 - round / ROUNDS) ** 2 + 1e-6;
    const h = pick(holes.length);
    const next = [...rota[h]];
    const d = pick(days);
    if (days > 1 && random() < 0.4) {
      const e = (d + 1 + pick(days - 1)) % days;
      [next[d], next[e]] = [next[e], next[d]];
    } else {
      const { choice, forced } = holes[h];
      if (forced.length > 0 || choice.length === 0) continue;
      const one = choice[pick(choice.length)];
      if (next.some((other, k) => k !== d && distance(other.at, one.at) < apart)) continue;
      next[d] = one;
    }
    attempt(h, next, temperature);
  }
  return rota;
};

export const balanceByDay = (rota: Rota, days: number): DayBalance[] =>
  Array.from({ length: days }, (_, d) => balanceOf(rota.map((places) => places[d])));
