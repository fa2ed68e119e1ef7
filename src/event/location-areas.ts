import type { HoleLocation } from '../course/course.js';
import { sidesAt } from '../course/frame.js';
import type { Point, Ring } from '../geometry.js';
import { insideRing } from '../geometry.js';
import { METRES_PER_PACE, metresToPaces, pacesToMetres } from '../units.js';
import {
  type Assessment,
  assessByOutline,
  assessLocation,
  type EarlierLocation,
  restsOnUnknown,
  type Site,
} from './assess-location.js';
import { type Depth, depthOf, ZONES, type Zone } from './green-parts.js';
import { type Guidance, RULES, type Rule } from './guidance.js';

/** A place that a sheet can name in whole paces, and how it was judged. */
export interface LocationCandidate {
  readonly on: number;
  readonly in: number;
  readonly side: HoleLocation['side'];
  readonly at: Point;
  readonly depth: Depth;
  readonly assessment: Assessment;
}

export const zoneOf = (candidate: Pick<LocationCandidate, 'depth' | 'side'>): Zone =>
  `${candidate.depth} ${candidate.side}`;

/**
 * Every place on a green that is whole paces on and in, judged: front to back, then from the left side
 * to the middle, then from the right. What is not judged is left out.
 */
const placesOn = (outline: Ring, assess: (at: Point) => Assessment | null): LocationCandidate[] => {
  const deepest = Math.max(...outline.map(([, y]) => y));
  const candidates: LocationCandidate[] = [];
  for (let on = 1; on < metresToPaces(deepest); on++) {
    const y = pacesToMetres(on);
    const sides = sidesAt(outline, y);
    if (sides === null) continue;
    const [left, right] = sides;
    const middle = metresToPaces(right - left) / 2;
    for (const side of ['left', 'right'] as const) {
      // The very middle is counted once, from the left.
      for (let paces = 1; side === 'left' ? paces <= middle : paces < middle; paces++) {
        const x = side === 'left' ? left + pacesToMetres(paces) : right - pacesToMetres(paces);
        if (!insideRing(outline, x, y)) continue;
        const at: Point = [x, y];
        const assessment = assess(at);
        if (assessment === null) continue;
        candidates.push({ on, in: paces, side, at, depth: depthOf(y, deepest), assessment });
      }
    }
  }
  return candidates;
};

/** The places of a green, judged by its ground at the speed of the day; none on ground that nothing is known of. */
export const candidatesOn = (
  site: Site,
  earlier: readonly EarlierLocation[],
): LocationCandidate[] =>
  placesOn(site.surface.outline, (at) =>
    restsOnUnknown(site, at) ? null : assessLocation(site, at, earlier),
  );

/** How many places of whole paces a green has, judged or not. */
export const placesOf = (outline: Ring): number => {
  let count = 0;
  placesOn(outline, () => {
    count += 1;
    return null;
  });
  return count;
};

/** The places of a green without a survey, judged by their distances alone. */
export const candidatesByOutline = (
  outline: Ring,
  guidance: Guidance,
  earlier: readonly EarlierLocation[],
): LocationCandidate[] =>
  placesOn(outline, (at) => assessByOutline(outline, at, guidance, earlier));

/** Whether a rule that could be looked at refuses a place. */
export const isRefused = ({ assessment }: LocationCandidate, rule: Rule): boolean =>
  assessment.findings[rule]?.kept === false;

/** Best first: those that keep the guidance by score, then the others by how little they break it. */
export const byRank = (a: LocationCandidate, b: LocationCandidate): number =>
  Number(b.assessment.kept) - Number(a.assessment.kept) ||
  a.assessment.breach - b.assessment.breach ||
  b.assessment.score - a.assessment.score ||
  a.on - b.on ||
  a.at[0] - b.at[0];

/** A sixth of the green: how much of it can hold a hole, the best place in it, and why the rest cannot. */
export interface LocationArea {
  readonly zone: Zone;
  /** Ground that keeps the guidance, to the square pace, square metres; 0 when the area is refused. */
  readonly usable: number;
  readonly whole: number;
  /** The best place; when the area is refused, the one that comes nearest to keeping the guidance. */
  readonly best: LocationCandidate;
  /** How many places each rule refuses; a place may be refused by several. */
  readonly refusedBy: Readonly<Record<Rule, number>>;
  readonly places: number;
}

/** The areas of a green, best first; refused ones last. An area without any place is left out. */
export const rankAreas = (candidates: readonly LocationCandidate[]): LocationArea[] => {
  const square = METRES_PER_PACE * METRES_PER_PACE;
  return ZONES.flatMap((zone): LocationArea[] => {
    const inZone = candidates.filter((one) => zoneOf(one) === zone).sort(byRank);
    if (inZone.length === 0) return [];
    const refusals = RULES.map((rule) => [
      rule,
      inZone.filter((one) => isRefused(one, rule)).length,
    ]);
    return [
      {
        zone,
        usable: inZone.filter((one) => one.assessment.kept).length * square,
        whole: inZone.length * square,
        best: inZone[0],
        refusedBy: Object.fromEntries(refusals) as Record<Rule, number>,
        places: inZone.length,
      },
    ];
  }).sort((a, b) => byRank(a.best, b.best));
};
