import { InputFault, idInPart } from '../fault.js';
import { checkMap } from './check-map.js';
import type { CourseMap, MapFinding } from './course-map.js';

/**
 * The warnings about a map.
 *
 * @throws InputFault for the first fault.
 */
export const soundMap = (map: CourseMap): MapFinding[] => {
  const findings = checkMap(map);
  const [first] = findings;
  if (first?.severity === 'fault') {
    throw new InputFault(
      { file: map.file, place: idInPart(first.feature) },
      first.problem,
      first.cure,
    );
  }
  return findings;
};
