import type { HoleLocation } from '../../course/course.js';
import type { Mark, Mm } from '../marks/marks.js';
import { phrase, type Worded } from '../words/words.js';
import { text } from './draw.js';

/** Paces are given to the half pace on paper. */
export const paceWords = (paces: number): string => {
  const halves = Math.round(paces * 2);
  const whole = Math.floor(halves / 2);
  return halves % 2 === 0 ? `${whole}` : `${whole === 0 ? '' : whole}½`;
};

/** "14 on, 5 from left". */
export const locationWords = (location: HoleLocation, tell: Worded = {}): string =>
  phrase(tell, `place.${location.side}`, {
    on: paceWords(location.on),
    in: paceWords(location.in),
  });

/** As many as have room; of more than that one row goes to saying how many are left out. */
export const asRoomAllows = <T>(
  all: readonly T[],
  room: number,
): { readonly shown: readonly T[]; readonly more: number } => {
  const most = Math.max(1, room);
  const shown = all.length <= most ? all : all.slice(0, Math.max(1, most - 1));
  return { shown, more: all.length - shown.length };
};

/** The row that says how many are left out; none where none are. */
export const moreRow = (at: Mm, more: number, size: number, tell: Worded): Mark[] =>
  more > 0 ? [text(at, phrase(tell, 'place.more', { count: more }), 'text-italic', size)] : [];
