import type { CourseMap, MapFinding } from './course-map.js';
import type { Draft } from './hole-draft.js';
import { bareNumber } from './hole-numbers.js';
import { byNumber, inRuns, isHoleNumber } from './hole-refs.js';
import { LOOPS_BY_WALKS } from './settle-numbers.js';

/** The numbers that a course of its size should have and that no hole bears; a number that no course has is a name. */
const missingNumbers = (ids: readonly string[]): number[] => {
  const numbers = ids.filter((id) => isHoleNumber(id) && bareNumber(id) !== null).map(Number);
  if (numbers.length < 3) return [];
  const highest = Math.max(...numbers);
  const count = numbers.length >= 8 ? Math.ceil(highest / 9) * 9 : highest;
  const known = new Set(numbers);
  return Array.from({ length: count }, (_, k) => k + 1).filter((n) => !known.has(n));
};

/** The holes that a course lacks, one line for all of them: a course that grows lacks many. */
export const missingFindings = (map: CourseMap, ids: readonly string[]): MapFinding[] => {
  const numbers = missingNumbers(ids);
  if (numbers.length === 0) return [];
  const [first] = numbers;
  return [
    numbers.length === 1
      ? finding(
          map.file,
          `the map has no hole ${first}`,
          `draw its line (golf=hole) with the tag ref=${first}`,
        )
      : finding(
          map.file,
          `the map has no holes ${inRuns(numbers.map(String), ' to ')}`,
          `draw the line of each (golf=hole) with its number as the tag, such as ref=${first}`,
        ),
  ];
};

/** What to look at of a map, as a warning. */
export const finding = (feature: string, problem: string, cure: string): MapFinding => ({
  severity: 'warning',
  feature,
  problem,
  cure,
});

/** Loops that no word of the map tells apart: one line for all of them. */
export const loopFindings = (map: CourseMap, drafts: readonly Draft[]): MapFinding[] => {
  const told = drafts.filter(({ numbered }) => numbered.decided === LOOPS_BY_WALKS);
  if (told.length === 0) return [];
  const loops = [...new Set(told.map(({ numbered }) => numbered.loop!))].sort();
  const spans = loops.map((loop) => {
    const ids = told
      .flatMap(({ numbered }) => (numbered.loop === loop ? numbered.ids : []))
      .sort(byNumber);
    return `${ids[0]} to ${ids[ids.length - 1]}`;
  });
  return [
    finding(
      map.file,
      `${LOOPS_BY_WALKS}: ${spans.join(', ')}`,
      'look at the picture of the course, or give each line its loop by the tag golf:course',
    ),
  ];
};
