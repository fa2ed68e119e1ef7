import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { approachTo } from '../../src/course/approach-figures.js';
import type { MapFeature } from '../../src/course/course-map.js';
import { linesOfCourse } from '../../src/course/hole-features.js';
import { loadCourse } from '../../src/course/load-course.js';
import { insideRing } from '../../src/geometry.js';
import { fromGreenFrame, ringInFrame } from '../../src/survey/survey.js';

const course = loadCourse(fileURLToPath(new URL('../../course-data/vellamoor', import.meta.url)));
const hole = course.holes.find((one) => one.id === '1')!;
const { frame, plane } = hole.green!;

/** A bunker across the approach, from `near` to `far` metres before the front of the green. */
const bunker = (id: string, near: number, far: number, left = -3, right = 3): MapFeature => {
  const ring = [
    [left, -far],
    [right, -far],
    [right, -near],
    [left, -near],
  ].map(([x, y]) => plane.toMap(...fromGreenFrame(frame, x, y)));
  return {
    id,
    kind: 'bunker',
    refs: ['1'],
    name: null,
    tags: { golf: 'bunker' },
    shape: { kind: 'area', rings: [ring] },
  };
};

const hazardBehind = (...added: readonly MapFeature[]) => {
  const features = course.map.features.filter(({ kind }) => kind !== 'bunker' && kind !== 'water');
  const map = { ...course.map, features: [...features, ...added] };
  return approachTo({ map }, hole, linesOfCourse(map))!({ name: 'A', at: [0, 10] }).hazard;
};

describe('the last hazard of an approach', () => {
  const last = bunker('last', 12, 18);
  const first = bunker('first', 30, 36);

  it('is the one nearest the green, in whatever order the map has them', () => {
    for (const found of [hazardBehind(first, last), hazardBehind(last, first)]) {
      expect(found?.kind).toBe('bunker');
      // From its far edge, 12 m before the front, to a hole 10 m on.
      expect(found!.beyond).toBeCloseTo(22, 1);
    }
  });

  it('is none that lies beside the way, or behind the hole', () => {
    expect(hazardBehind(bunker('beside', 12, 18, 8, 14))).toBeNull();
    expect(hazardBehind(bunker('behind', -30, -24))).toBeNull();
    expect(hazardBehind(first)!.beyond).toBeCloseTo(40, 1);
  });
});

describe('a hole location', () => {
  it('is told from the front, the back straight behind it, and both sides', () => {
    const outline = ringInFrame(frame, hole.green!.outline);
    const at = [2, 10] as const;
    const { front, back, left, right } = approachTo(course, hole, linesOfCourse(course.map))!({
      name: 'A',
      at,
    });
    expect(front).toBe(10);
    // Walked in steps of a centimetre until the edge is behind.
    const walk = (dx: number, dy: number): number => {
      let steps = 0;
      while (insideRing(outline, at[0] + 0.01 * steps * dx, at[1] + 0.01 * steps * dy)) steps += 1;
      return steps / 100;
    };
    expect(Math.abs(back - walk(0, 1))).toBeLessThan(0.011);
    expect(Math.abs(left - walk(-1, 0))).toBeLessThan(0.011);
    expect(Math.abs(right - walk(1, 0))).toBeLessThan(0.011);
  });
});
