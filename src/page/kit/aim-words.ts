import { aimReading } from '../../putt/rounding.js';
import { phrase, type Telling } from '../words/words.js';
import { withUnit } from './unit-words.js';

/** Where an aim so far beside the hole, metres, lies: "4 in left", "straight". */
export const offsetWords = (offset: number, tell: Telling): string => {
  const { figure, side } = aimReading(offset, tell.units);
  return side === 'straight'
    ? phrase(tell, 'aim.straight')
    : phrase(tell, `aim.${side}`, {
        figure: figure === 'away' ? phrase(tell, 'aim.away') : withUnit(figure, tell),
      });
};
