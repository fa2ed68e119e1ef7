import { describe, expect, it } from 'vitest';
import type { Course } from '../../src/course/course.js';
import { inRuns } from '../../src/course/hole-refs.js';
import { noSuchHole } from '../../src/course/named-hole.js';

describe('holes told in short', () => {
  it.each([
    [['1', '2', '3', '4', '6', '7', 'P'], '1–4, 6, 7, P'],
    [['1', '2', 'P', '3', '4'], '1, 2, P, 3, 4'],
    [['A1', 'A2', 'A3'], 'A1, A2, A3'],
    [['9', '10', '11', '2', '3', '4'], '9–11, 2–4'],
    [['1', '1', '2'], '1, 1, 2'],
    [[], ''],
  ])('%j', (refs, told) => {
    expect(inRuns(refs)).toBe(told);
  });

  it('joins a run by another word', () => {
    expect(inRuns(['3', '10', '11', '12'], ' to ')).toBe('3, 10 to 12');
  });
});

describe('what is said of a hole that the course lacks', () => {
  it('tells a long run of holes by its ends', () => {
    const ids = [...Array.from({ length: 18 }, (_, i) => String(i + 1)), 'practice'];
    const holes = ids.map((id) => ({ id })) as unknown as Course['holes'];
    expect(noSuchHole({ holes }, '19')).toEqual([
      'the course has no hole 19',
      'its holes are 1 to 18, practice',
    ]);
  });
});
