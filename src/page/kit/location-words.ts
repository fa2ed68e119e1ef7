import type { HoleLocation } from '../../course/course.js';

/** Paces are given to the half pace on paper. */
export const paceWords = (paces: number): string => {
  const halves = Math.round(paces * 2);
  const whole = Math.floor(halves / 2);
  return halves % 2 === 0 ? `${whole}` : `${whole === 0 ? '' : whole}½`;
};

/** "14 on, 5 from left". */
export const locationWords = (location: HoleLocation): string =>
  `${paceWords(location.on)} on, ${paceWords(location.in)} from ${location.side}`;
