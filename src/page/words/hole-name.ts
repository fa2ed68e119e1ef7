import { isNumbered } from '../../course/hole-numbers.js';
import { phrase, type Worded } from './words.js';

/** What a hole or a practice green without a name of its own is called on a page. */
export const plainHoleName = (id: string, tell: Worded): string => {
  if (isNumbered(id)) return phrase(tell, 'hole.numbered', { number: id });
  return id === 'practice'
    ? phrase(tell, 'hole.practice')
    : phrase(tell, 'hole.other-green', { name: `${id.charAt(0).toUpperCase()}${id.slice(1)}` });
};
