import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { siteFor } from '../../src/event/assess-location.js';
import { farApart } from '../../src/event/far-apart.js';
import { depthOf, ZONES } from '../../src/event/green-parts.js';
import { GUIDANCE } from '../../src/event/guidance.js';
import {
  candidatesOn,
  type LocationCandidate,
  rankAreas,
  zoneOf,
} from '../../src/event/location-areas.js';
import { balanceByDay, type Rota, spreadRota } from '../../src/event/rota.js';
import { type RotaPlaces, rotaPlaces } from '../../src/event/rota-places.js';
import { distance, insideRing, type Point } from '../../src/geometry.js';
import { feetToMetres } from '../../src/units.js';
import { atDepth } from '../depth.js';
import { plane } from '../surface/analytic.js';
import { playedGreens, roundGreen, trueSurface } from './grounds.js';

const STIMP = feetToMetres(10.5);
const DAYS = 4;

/** The demo's hardest greens to find locations on; tests/cli/locate.test.ts takes all 18 by their surveys. */
const GREENS = playedGreens.filter((g) =>
  atDepth(['3', '12', '16'], ['3', '6', '11', '12', '16', '17']).includes(g.id),
);
const HOLES = GREENS.length;

describe('a rota of four days on the true ground of demo greens', { tags: 'deep' }, () => {
  let candidates: LocationCandidate[][];
  let holes: RotaPlaces[];
  let rota: Rota;
  beforeAll(() => {
    candidates = GREENS.map((green) =>
      candidatesOn(siteFor(trueSurface(green), STIMP, GUIDANCE), []),
    );
    holes = candidates.map((places, i) => rotaPlaces(GREENS[i].id, places, DAYS, GUIDANCE));
    rota = spreadRota(holes, DAYS, GUIDANCE.apart);
  });

  it('keeps the guidance on every green', () => {
    expect(rota.length).toBe(HOLES);
    rota.forEach((places, h) => {
      expect(holes[h].forced, `green ${holes[h].holeId}`).toEqual([]);
      for (const place of places) expect(place.assessment.kept).toBe(true);
    });
  });

  it('gives the turf its distance on every green', () => {
    for (const places of rota) {
      places.forEach((a, i) => {
        for (const b of places.slice(i + 1)) {
          expect(distance(a.at, b.at)).toBeGreaterThanOrEqual(GUIDANCE.apart);
        }
      });
    }
  });

  it('is balanced each day over front, middle, back, left and right', () => {
    for (const day of balanceByDay(rota, DAYS)) {
      for (const part of [day.front, day.middle, day.back]) {
        expect(Math.abs(part - HOLES / 3)).toBeLessThanOrEqual(1);
      }
      expect(Math.abs(day.left - day.right)).toBeLessThanOrEqual(2);
    }
  });

  it('spreads the days of each hole as far as its green allows', () => {
    rota.forEach((places, h) => {
      const zones = new Set(holes[h].choice.map(zoneOf));
      const depths = new Set(holes[h].choice.map((one) => one.depth));
      const balance = balanceByDay(
        places.map((one) => [one]),
        1,
      )[0];
      if (zones.size >= 4) expect(Math.max(balance.left, balance.right)).toBeLessThan(DAYS);
      if (depths.size === 3) {
        expect([balance.front, balance.middle, balance.back].filter((n) => n > 0).length).toBe(3);
      }
    });
  });

  it('is the same again from the same places', () => {
    expect(spreadRota(holes, DAYS, GUIDANCE.apart)).toEqual(rota);
  });

  it('would not keep the guidance by chance: the best places alone crowd together', () => {
    const crowded = candidates.filter((places) => {
      const best = places.filter((one) => one.assessment.kept).slice(0, DAYS);
      return best.some((a, i) =>
        best.slice(i + 1).some((b) => distance(a.at, b.at) < GUIDANCE.apart),
      );
    });
    expect(crowded.length).toBeGreaterThan(HOLES / 2);
  });

  it('ranks the areas of each green, and says of refused ones which rules refuse them', () => {
    candidates.forEach((places, h) => {
      const areas = rankAreas(places);
      expect(areas.map((area) => area.zone).sort()).toEqual([...ZONES].sort());
      const scores = areas.map((a) => (a.best.assessment.kept ? a.best.assessment.score : -1));
      expect(scores).toEqual([...scores].sort((a, b) => b - a));
      for (const area of areas) {
        const refused = area.usable === 0;
        expect(refused).toBe(!area.best.assessment.kept);
        if (refused) {
          expect(Object.values(area.refusedBy).some((count) => count > 0)).toBe(true);
          expect(area.best.assessment.breach).toBeGreaterThan(0);
        }
      }
      for (const place of places) {
        expect(Number.isInteger(place.on) && Number.isInteger(place.in)).toBe(true);
        expect(insideRing(GREENS[h].outline, place.at[0], place.at[1])).toBe(true);
      }
    });
    // The green in two levels has a face across its middle that no hole can be cut on.
    const face = rankAreas(candidates[GREENS.findIndex((green) => green.id === '16')]).filter(
      (area) => area.usable === 0,
    );
    expect(face.map((area) => area.zone).sort()).toEqual(['middle left', 'middle right']);
  });
});

describe('a green that cannot keep the guidance', () => {
  const places = (radius: number, grade: number): LocationCandidate[] =>
    candidatesOn(siteFor(plane(roundGreen(radius), 0, grade), STIMP, GUIDANCE), []);

  it('says how many days it has room for, and forces those that break least', () => {
    const small = rotaPlaces('12', places(6.2, 0.02), DAYS, GUIDANCE);
    expect(small.apart.length).toBeGreaterThan(0);
    expect(small.apart.length).toBeLessThan(DAYS);
    expect(small.certain).toBe(true);
    expect(small.apart.length + small.forced.length).toBe(DAYS);
    const [places12] = spreadRota([small], DAYS, GUIDANCE.apart);
    expect(new Set(places12)).toEqual(new Set([...small.apart, ...small.forced]));
  });

  it('that is too steep everywhere has no place at all that keeps it', () => {
    const steep = rotaPlaces('1', places(14, 0.035), DAYS, GUIDANCE);
    expect(steep.kept).toBe(0);
    expect(steep.apart).toEqual([]);
    expect(steep.forced.length).toBe(DAYS);
    // What breaks least is told by the grade alone: the places still keep off the edge and apart.
    for (const place of steep.forced) {
      expect(place.assessment.findings.grade?.kept).toBe(false);
      expect(place.assessment.findings.edge.kept).toBe(true);
    }
  });

  it('does not stop the others from being balanced', () => {
    const good = Array.from({ length: 6 }, (_, i) =>
      rotaPlaces(`${i}`, places(14, 0.015), DAYS, GUIDANCE),
    );
    const poor = rotaPlaces('9', places(6.2, 0.02), DAYS, GUIDANCE);
    const rota = spreadRota([...good, poor], DAYS, GUIDANCE.apart);
    for (const day of balanceByDay(rota, DAYS)) {
      expect(Math.abs(day.left - day.right)).toBeLessThanOrEqual(3);
      expect(day.front + day.middle + day.back).toBe(7);
    }
  });
});

describe('a rota of holes with good places all over their greens', () => {
  const placeIn = (
    depth: LocationCandidate['depth'],
    side: LocationCandidate['side'],
    n: number,
  ): LocationCandidate =>
    ({
      on: n,
      in: n,
      side,
      depth,
      at: [n, n],
      assessment: { score: 0.8 },
    }) as unknown as LocationCandidate;
  const everywhere = (h: number): RotaPlaces => {
    const choice = (['front', 'middle', 'back'] as const).flatMap((depth, i) =>
      (['left', 'right'] as const).map((side, j) => placeIn(depth, side, 10 * h + 2 * i + j)),
    );
    // It begins with all days of a hole in one corner, and each day in one corner on most holes.
    const apart = Array.from({ length: DAYS }, () => choice[h % 3 === 0 ? 5 : 0]);
    return { holeId: `${h}`, choice, apart, certain: true, forced: [], looked: 6, kept: 6 };
  };
  const rota = spreadRota(
    Array.from({ length: 18 }, (_, h) => everywhere(h)),
    DAYS,
    0,
  );

  it('spreads the days of each hole evenly', () => {
    for (const places of rota) {
      const { front, middle, back, left, right } = balanceByDay(
        places.map((one) => [one]),
        1,
      )[0];
      expect([left, right]).toEqual([2, 2]);
      expect([front, middle, back].sort()).toEqual([1, 1, 2]);
    }
  });

  it('spreads the holes of each day evenly', () => {
    for (const { front, middle, back, left, right } of balanceByDay(rota, DAYS)) {
      expect(Math.abs(left - right)).toBeLessThanOrEqual(2);
      for (const part of [front, middle, back]) expect(Math.abs(part - 6)).toBeLessThanOrEqual(1);
    }
  });
});

describe('places far apart', () => {
  const placeAt = (at: Point): LocationCandidate =>
    ({ on: 0, in: 0, side: 'left', at, depth: 'front' }) as unknown as LocationCandidate;

  /** The largest set by trying all of them. */
  const bruteForce = (points: readonly Point[], apart: number): number => {
    let best = 0;
    for (let set = 0; set < 1 << points.length; set++) {
      const chosen = points.filter((_, i) => (set >> i) & 1);
      if (chosen.length <= best) continue;
      const far = chosen.every((a, i) => chosen.slice(i + 1).every((b) => distance(a, b) >= apart));
      if (far) best = chosen.length;
    }
    return best;
  };

  it('are as many as can be, as trying all sets shows', () => {
    const coordinate = fc.double({ min: 0, max: 10, noNaN: true });
    fc.assert(
      fc.property(
        fc.array(fc.tuple(coordinate, coordinate), { maxLength: 11 }),
        fc.double({ min: 1, max: 8, noNaN: true }),
        (points, apart) => {
          const { places, certain } = farApart(points.map(placeAt), 20, apart);
          expect(certain).toBe(true);
          expect(places.length).toBe(bruteForce(points, apart));
        },
      ),
      { numRuns: 300, seed: 5 },
    );
  });
});

describe('the places of a green', () => {
  it('reach from its front to its back, each in the third where it lies', () => {
    const outline = roundGreen(12);
    const site = siteFor(plane(outline, 0, 0.01), feetToMetres(10), GUIDANCE);
    const places = candidatesOn(site, []);
    const deepest = Math.max(...places.map((one) => one.at[1]));
    expect(Math.max(...outline.map(([, y]) => y)) - deepest).toBeLessThan(1.9);
    for (const { at, depth } of places) {
      expect(depth).toBe(at[1] < 8 ? 'front' : at[1] < 16 ? 'middle' : 'back');
    }
  });
});

describe('front, middle and back', () => {
  it('are thirds of the depth', () => {
    expect([0, 9.9, 10.1, 19.9, 20.1, 30].map((y) => depthOf(y, 30))).toEqual([
      'front',
      'front',
      'middle',
      'middle',
      'back',
      'back',
    ]);
  });
});

describe('a rota among places that are alike but for their score', () => {
  /** In each sixth of the green a good place and a poor one beside it. */
  const place = (zone: number, score: number): LocationCandidate =>
    ({
      on: 1 + zone,
      in: score > 0.5 ? 3 : 4,
      side: zone < 3 ? 'left' : 'right',
      depth: (['front', 'middle', 'back'] as const)[zone % 3],
      at: [10 * zone, score],
      assessment: { score, kept: true, breach: 0 },
    }) as unknown as LocationCandidate;
  const zones = [0, 1, 2, 3, 4, 5];
  const good = zones.map((zone) => place(zone, 0.9));
  const poor = zones.map((zone) => place(zone, 0.1));
  const hole = (holeId: string): RotaPlaces => ({
    holeId,
    choice: [...good, ...poor],
    apart: poor.slice(0, 3),
    certain: true,
    forced: [],
    looked: 12,
    kept: 12,
  });

  it('takes the better places', () => {
    const rota = spreadRota(['1', '2', '3', '4', '5', '6'].map(hole), 3, 5);
    for (const places of rota) {
      expect(places.map(({ assessment }) => assessment.score)).toEqual([0.9, 0.9, 0.9]);
    }
    for (const day of balanceByDay(rota, 3)) {
      expect(day).toEqual({ front: 2, middle: 2, back: 2, left: 3, right: 3 });
    }
  });
});
