import { describe, expect, it } from 'vitest';
import {
  assessLocation,
  besideOthers,
  type RuleFinding,
  siteFor,
} from '../../src/event/assess-location.js';
import { GUIDANCE, RULES } from '../../src/event/guidance.js';
import {
  byRank,
  candidatesOn,
  type LocationCandidate,
  placesOf,
  rankAreas,
  zoneOf,
} from '../../src/event/location-areas.js';
import { puttFromAbove } from '../../src/event/putt-from-above.js';
import { balanceByDay, spreadRota } from '../../src/event/rota.js';
import { type RotaPlaces, rotaPlaces } from '../../src/event/rota-places.js';
import { tableChange } from '../../src/event/table-change.js';
import type { Point, Ring } from '../../src/geometry.js';
import type { BreakTable, PuttSolution, TableCell } from '../../src/putt/putt.js';
import { METRES_PER_PACE } from '../../src/units.js';
import { plane } from '../surface/analytic.js';
import { roundGreen } from './grounds.js';

/** Small cases worked out by hand. */

const STIMP = 3.048;
const site = siteFor(plane(roundGreen(14), 0, 0.015), STIMP, GUIDANCE);
const P = METRES_PER_PACE;

describe('an assessment', () => {
  const at: Point = [0, 14];

  it('leaves out places whose ground, or whose roll past, nothing is known of', () => {
    // A bar across the green at 14 m from the front; the ground falls to the front.
    const bar = (way: readonly Point[]): boolean => way.some(([, y]) => Math.abs(y - 14) < 0.5);
    const partly = siteFor(plane(roundGreen(14), 0, 0.015), STIMP, GUIDANCE, bar);
    const left = candidatesOn(partly, []).map(({ at: [, y] }) => y);
    const { around } = GUIDANCE;
    expect(left.length).toBeGreaterThan(100);
    expect(left.some((y) => Math.abs(y - 14) < 0.5 + 0.9 * around)).toBe(false);
    // Farther below the bar than round the hole all may stay; as far above it a ball runs into it.
    expect(Math.max(...left.filter((y) => y < 14))).toBeGreaterThan(14 - 0.5 - around - P);
    const runs = assessLocation(site, [0, 18], []).findings.stopping.value;
    expect(Math.min(...left.filter((y) => y > 14))).toBeGreaterThan(14 + runs / 2);
    expect(placesOf(partly.surface.outline)).toBe(candidatesOn(site, []).length);
    expect(puttFromAbove(partly, [0, 12])).toBe('unknown');
    expect(puttFromAbove(partly, [0, 8])).not.toBe('unknown');
  });

  it('is well kept at twice what the turf asks, and half as well half way to it', () => {
    const turf = (paces: number): RuleFinding =>
      assessLocation(site, at, [{ at: [paces * P, 14], name: 'x' }]).findings.turf;
    expect(turf(10).merit).toBeCloseTo(1, 9);
    expect(turf(7.5).merit).toBeCloseTo(0.5, 9);
    expect(turf(5).merit).toBeCloseTo(0, 9);
    expect(turf(4)).toMatchObject({ kept: false, merit: 0 });
    expect(turf(4).breach).toBeCloseTo(0.2, 9);
    expect(turf(4.9)).toMatchObject({ kept: false });
    expect(turf(4.96)).toMatchObject({ kept: true, breach: 0 });
  });

  it('ends its ease at the edge five paces in', () => {
    const merit = (paces: number): number =>
      assessLocation(site, [0, paces * P], []).findings.edge.merit;
    expect(merit(4.5)).toBeCloseTo(0.5, 2);
    expect(merit(5.2)).toBe(1);
  });

  it('scores the mean of its merits', () => {
    const { findings, score } = assessLocation(site, at, []);
    const merits = RULES.map((rule) => findings[rule].merit);
    expect(score).toBeCloseTo(merits.reduce((sum, m) => sum + m, 0) / 5, 12);
    expect(findings.grade.merit).toBeCloseTo(0.5, 9);
  });

  it('beside other holes changes what is said of the turf alone', () => {
    const before = assessLocation(site, at, []);
    const others = [
      { at: [8, 14] as Point, name: 'far' },
      { at: [0, 16] as Point, name: 'near' },
    ];
    const after = besideOthers(before, GUIDANCE, others);
    expect(after).toEqual(assessLocation(site, at, others));
    expect(after.nearest?.name).toBe('near');
    expect(after.findings.turf.value).toBeCloseTo(2, 12);
    expect({ ...after.findings, turf: null }).toEqual({ ...before.findings, turf: null });
    expect(after.kept).toBe(false);
  });
});

describe('the candidates of a green', () => {
  it('are all its whole paces, each once, from either side to the middle', () => {
    // Eight paces wide, six and a half deep: 1 to 6 on; 1 to 4 from the left, 1 to 3 from the right.
    const ring: Ring = [
      [-4 * P, 0],
      [4 * P, 0],
      [4 * P, 6.5 * P],
      [-4 * P, 6.5 * P],
    ];
    const small = siteFor(plane(ring, 0, 0.01), STIMP, GUIDANCE);
    const places = candidatesOn(small, []).map(
      ({ on, in: paces, side }) => `${on} ${paces} ${side}`,
    );
    expect(places).toEqual(
      [1, 2, 3, 4, 5, 6].flatMap((on) => [
        ...[1, 2, 3, 4].map((n) => `${on} ${n} left`),
        ...[1, 2, 3].map((n) => `${on} ${n} right`),
      ]),
    );
  });

  const candidate = (kept: boolean, score: number, breach: number, on = 1): LocationCandidate =>
    ({
      on,
      in: 1,
      at: [0, 0],
      assessment: { kept, score, breach },
    }) as unknown as LocationCandidate;

  it('rank kept before broken, then less broken, then better, then nearer the front', () => {
    const ranked = [
      candidate(true, 0.9, 0),
      candidate(true, 0.5, 0, 2),
      candidate(true, 0.5, 0, 7),
      candidate(false, 0.9, 0.1),
      candidate(false, 0.95, 0.3),
    ];
    expect([...ranked].reverse().sort(byRank)).toEqual(ranked);
  });
});

describe('the areas of a green', () => {
  it('are those that hold a place', () => {
    const [one] = candidatesOn(site, []);
    const [area, ...others] = rankAreas([one]);
    expect(others).toEqual([]);
    expect([area.zone, area.best, area.places]).toEqual([zoneOf(one), one, 1]);
  });
});

describe('a rota of two places a hole', () => {
  const place = (
    id: string,
    depth: LocationCandidate['depth'],
    side: 'left' | 'right',
    at: Point,
    score = 0.5,
  ): LocationCandidate =>
    ({
      id,
      depth,
      side,
      at,
      on: 1,
      in: 1,
      assessment: { score, kept: true },
    }) as unknown as LocationCandidate;

  it('counts front, middle, back, left and right day by day', () => {
    const a = place('a', 'front', 'left', [0, 0]);
    const b = place('b', 'back', 'right', [9, 9]);
    expect(balanceByDay([[a], [a], [b]], 1)).toEqual([
      { front: 2, middle: 0, back: 1, left: 2, right: 1 },
    ]);
    expect(
      balanceByDay(
        [
          [a, b],
          [a, a],
        ],
        2,
      ),
    ).toEqual([
      { front: 2, middle: 0, back: 0, left: 2, right: 0 },
      { front: 1, middle: 0, back: 1, left: 1, right: 1 },
    ]);
  });

  const rotaOf = (
    apart: readonly LocationCandidate[],
    choice: readonly LocationCandidate[],
    forced: readonly LocationCandidate[] = [],
  ): RotaPlaces => ({ holeId: '1', apart, choice, forced, certain: true, looked: 9, kept: 9 });

  it('takes a better place that lies near the one it replaces, for that one goes', () => {
    const [poor, other] = [
      place('p', 'front', 'left', [0, 0], 0.1),
      place('o', 'back', 'right', [20, 0]),
    ];
    const better = place('b', 'front', 'left', [0.5, 0], 0.9);
    const [places] = spreadRota([rotaOf([poor, other], [poor, other, better])], 2, 5);
    expect(new Set(places)).toEqual(new Set([better, other]));
  });

  it('never takes one too near to another day’s', () => {
    const [a, b] = [
      place('a', 'front', 'left', [0, 0], 0.1),
      place('b', 'back', 'right', [20, 0], 0.1),
    ];
    const near = place('n', 'front', 'left', [17, 0], 1);
    for (const [places] of [spreadRota([rotaOf([a, b], [a, b, near])], 2, 5)]) {
      const [p, q] = places.map((one) => one.at[0]);
      expect(Math.abs(p - q)).toBeGreaterThanOrEqual(5);
    }
  });

  it('spreads the days of one hole over its parts when a place is hardly better', () => {
    const fronts = [0, 10, 20].map((x) => place(`f${x}`, 'front', 'left', [x, 0], 0.55));
    const spread = [
      place('m', 'middle', 'right', [0, 10], 0.5),
      place('k', 'back', 'right', [10, 20], 0.5),
    ];
    const [places] = spreadRota([rotaOf(fronts, [...fronts, ...spread])], 3, 5);
    expect(places.map((one) => one.depth).sort()).toEqual(['back', 'front', 'middle']);
  });

  it('gives each day left and right alike', () => {
    const holes = Array.from({ length: 4 }, () =>
      rotaOf([place('l', 'front', 'left', [0, 0]), place('r', 'front', 'right', [9, 0])], []),
    );
    for (const day of balanceByDay(spreadRota(holes, 2, 5), 2)) expect(day.left).toBe(2);
  });

  it('is sought among the six best places of each sixth of the green', () => {
    const candidates = candidatesOn(site, []);
    const kept = candidates.filter((one) => one.assessment.kept);
    const { choice, apart } = rotaPlaces('1', candidates, 2, GUIDANCE);
    expect(new Set(choice.map(zoneOf))).toEqual(new Set(kept.map(zoneOf)));
    for (const zone of new Set(kept.map(zoneOf))) {
      const own = choice.filter((one) => zoneOf(one) === zone && !apart.includes(one));
      expect(own.length).toBeLessThanOrEqual(6);
      const best = kept.filter((one) => zoneOf(one) === zone).sort(byRank)[0];
      expect(choice).toContain(best);
    }
  });

  const broken = (id: string, x: number, grade: number, turf: number): LocationCandidate => {
    const finding = (breach: number) => ({ breach, kept: breach === 0, merit: 0, value: 1 });
    return {
      id,
      on: 1,
      in: 1,
      depth: 'front',
      side: 'left',
      at: [x, 0],
      assessment: {
        at: [x, 0],
        kept: false,
        score: 0,
        breach: grade + turf,
        nearest: null,
        findings: {
          edge: finding(0),
          grade: finding(grade),
          evenness: finding(0),
          stopping: finding(0),
          turf: finding(turf),
        },
      },
    } as unknown as LocationCandidate;
  };

  it('forces the place that breaks least, its own broken turf counted', () => {
    const [onTurf, steep] = [broken('turf', 0, 0.1, 0.5), broken('steep', 40, 0.3, 0)];
    const { forced, kept, looked } = rotaPlaces('1', [onTurf, steep], 1, GUIDANCE);
    expect(forced.map((one) => (one as unknown as { id: string }).id)).toEqual(['steep']);
    expect([kept, looked]).toEqual([0, 2]);
  });

  it('forces the next beside those already forced: the turf of the first is then taken', () => {
    const [first, near, far] = [
      broken('first', 0, 0.1, 0),
      broken('near', 0.4, 0.11, 0),
      broken('far', 40, 0.2, 0),
    ];
    const { forced } = rotaPlaces('1', [near, far, first], 2, GUIDANCE);
    expect(forced.map((one) => (one as unknown as { id: string }).id)).toEqual(['first', 'far']);
  });

  it('asks for a place for each day', () => {
    const one = place('a', 'front', 'left', [0, 0]);
    expect(() => spreadRota([rotaOf([one], [one])], 2, 5)).toThrow(
      'each hole needs a place for each day',
    );
  });
});

describe('two tables of one location', () => {
  const cell = (aimOffset: number | null, pace = 3, aimSd: number | null = null): TableCell =>
    ({
      quadrant: 'left',
      length: 3,
      ball: [0, 0],
      outcome: aimOffset === null ? 'no-pace' : 'solved',
      putt: aimOffset === null ? null : ({ aimOffset, pace } as PuttSolution),
      aimSd,
    }) as TableCell;
  const table = (...cells: TableCell[]): BreakTable => ({ cells }) as unknown as BreakTable;

  it('give the newer less the older, in aim and in pace', () => {
    const { changed } = tableChange('A', table(cell(0.1, 3)), table(cell(0.2, 3.4)));
    expect(changed.length).toBe(1);
    expect(changed[0].aimChange).toBeCloseTo(0.1, 12);
    expect(changed[0].paceChange).toBeCloseTo(0.4, 12);
    expect(changed[0]).toMatchObject({ sd: null, sure: true });
  });

  it('count a cell that has a putt on either, and tell of one that came', () => {
    const older = table(cell(null), cell(0), cell(null));
    const newer = table(cell(0.01), cell(null), cell(null));
    const { cells, changed } = tableChange('A', older, newer);
    expect(cells).toBe(2);
    expect(changed.map((one) => [one.older.outcome, one.newer.outcome])).toEqual([
      ['no-pace', 'solved'],
      ['solved', 'no-pace'],
    ]);
    expect(changed.every((one) => one.paceChange === null)).toBe(true);
  });

  it('are sure of a change beyond 1.96 deviations of both', () => {
    const sure = (sd: number): boolean =>
      tableChange('A', table(cell(0, 3, sd * 0.6)), table(cell(0.1, 3, sd * 0.8))).changed[0].sure;
    expect(sure(0.0505)).toBe(true);
    expect(sure(0.0515)).toBe(false);
  });
});
